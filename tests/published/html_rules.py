"""What a page does against the HTML Standard (WHATWG, living), ARIA in HTML and WAI-ARIA 1.2, each fault with its section.

The tables hold what the standard allows for the elements and attributes that this program uses; what is not in them is a fault,
so that a new attribute is looked up once. Section numbers as of 2024, from memory; every page was once also run through a
separate checker of the standard, which found no more than these rules do.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from xml.etree.ElementTree import Element

import html5lib


def _words(text: str) -> set[str]:
    return set(text.split())


_GLOBAL = _words(
    "accesskey autocapitalize autocorrect autofocus class contenteditable dir draggable enterkeyhint hidden id inert inputmode "
    "is itemid itemprop itemref itemscope itemtype lang nonce popover role slot spellcheck style tabindex title translate"
)
_OWN = {
    name: _words(said)
    for name, said in {
        "a": "href target download ping rel hreflang type referrerpolicy",
        "base": "href target",
        "button": "disabled form formaction formenctype formmethod formnovalidate formtarget name popovertarget type value",
        "canvas": "width height",
        "col": "span",
        "colgroup": "span",
        "data": "value",
        "details": "name open",
        "fieldset": "disabled form name",
        "form": "accept-charset action autocomplete enctype method name novalidate target rel",
        "iframe": "src srcdoc name sandbox allow allowfullscreen width height referrerpolicy loading",
        "img": "alt src srcset sizes crossorigin usemap ismap width height referrerpolicy decoding loading fetchpriority",
        "input": "accept alt autocomplete checked dirname disabled form formaction formenctype formmethod formnovalidate "
        "formtarget height list max maxlength min minlength multiple name pattern placeholder readonly required size src "
        "step type value "
        "width",
        "label": "for",
        "li": "value",
        "link": "href crossorigin rel media integrity hreflang type referrerpolicy sizes imagesrcset imagesizes as blocking "
        "color disabled fetchpriority",
        "meta": "name http-equiv content charset media property",  # "property" by RDFa Core 1.1, for Open Graph
        "meter": "value min max low high optimum",
        "ol": "reversed start type",
        "optgroup": "disabled label",
        "option": "disabled label selected value",
        "output": "for form name",
        "progress": "value max",
        "script": "src type nomodule async defer crossorigin integrity referrerpolicy blocking fetchpriority",
        "select": "autocomplete disabled form multiple name required size",
        "source": "type media src srcset sizes width height",
        "style": "media blocking",
        "td": "colspan rowspan headers",
        "textarea": "autocomplete cols dirname disabled form maxlength minlength name placeholder readonly required rows wrap",
        "th": "colspan rowspan headers scope abbr",
        "time": "datetime",
    }.items()
}
_PLAIN = _words(
    "html head title body article section nav aside h1 h2 h3 h4 h5 h6 hgroup header footer address p hr pre blockquote ul "
    "menu dl "
    "dt dd figure figcaption main search div em strong small s cite q dfn abbr ruby rt rp code var samp kbd sub sup i b u "
    "mark bdi "
    "bdo span br wbr ins del picture table caption tbody thead tfoot tr legend datalist summary dialog template noscript"
)
_PHRASING = _words(
    "a abbr audio b bdi bdo br button canvas cite code data datalist del dfn em embed i iframe img input ins kbd label "
    "link map "
    "mark meta meter noscript object output picture progress q ruby s samp script select slot small span strong sub sup svg "
    "template textarea time u var video wbr"
)
_HEADINGS = {"h1", "h2", "h3", "h4", "h5", "h6"}
_ONLY_PHRASING = _HEADINGS | _words(
    "p pre em strong small s cite q dfn abbr code var samp kbd sub sup i b u mark bdi bdo span data time label button "
    "output meter "
    "progress"
)
_CHILDREN = {
    "ul": {"li"},
    "ol": {"li"},
    "dl": {"dt", "dd", "div"},
    "table": {"caption", "colgroup", "thead", "tbody", "tfoot", "tr"},
    "thead": {"tr"},
    "tbody": {"tr"},
    "tfoot": {"tr"},
    "tr": {"th", "td"},
    "select": {"option", "optgroup", "hr"},
    "optgroup": {"option"},
    "picture": {"source", "img"},
    "colgroup": {"col"},
}
_INTERACTIVE = {"a", "button", "details", "embed", "iframe", "label", "select", "textarea"}
_LABELABLE = {"button", "input", "meter", "output", "progress", "select", "textarea"}
_ROLES = _words(
    "alert alertdialog application article button cell checkbox columnheader combobox complementary contentinfo "
    "definition dialog "
    "feed figure form group heading img link list listbox listitem log main marquee math menu menubar menuitem meter "
    "navigation "
    "none note option presentation progressbar radio radiogroup region row rowgroup rowheader scrollbar search searchbox "
    "separator "
    "slider spinbutton status switch tab table tablist tabpanel term textbox timer toolbar tooltip tree"
)
_NATIVE = {"table": "table", "tr": "row", "td": "cell", "li": "listitem", "ul": "list", "ol": "list", "main": "main"}
_NOT_FILLED = {"checkbox", "radio", "file", "submit", "image", "reset", "button"}
_NAMES_OTHERS = ("aria-labelledby", "aria-describedby", "aria-controls", "aria-owns", "aria-errormessage", "for", "list", "form")
_DAY = r"\d{4,}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])"
_CLOCK = r"([01]\d|2[0-3]):[0-5]\d(:[0-5]\d(\.\d{1,3})?)?"
_TIME = re.compile(
    rf"({_DAY}|{_DAY}[T ]{_CLOCK}|{_CLOCK}|{_DAY}[T ]{_CLOCK}(Z|[+-]([01]\d|2[0-3]):?[0-5]\d)|\d{{4,}}-(0[1-9]|1[0-2])|\d{{4,}}"
    r"|P(?=.)(\d+D)?(T(?=\d)(\d+H)?(\d+M)?(\d+(\.\d{1,3})?S)?)?)"
)
_SVG = "{http://www.w3.org/2000/svg}"


def faults_of(page: str) -> list[str]:
    """Return the faults of a whole page, each once."""
    parser = html5lib.HTMLParser(tree=html5lib.getTreeBuilder("etree"))
    root = parser.parse(page)
    faults = [f"13.2.2 parse error {code} at {place}" for place, code, _ in parser.errors]
    faults += [f"3.2.6.2 id {name!r} stands {times} times" for name, times in _ids(root).items() if times > 1]
    known, kinds = _ids(root), {node.get("id"): _name(node) for node in root.iter() if node.get("id")}
    for node, over in _walk(root, ()):
        faults += _of_element(node, over)
        faults += _of_names(node, known, kinds)
    mains = [node for node in root.iter() if _name(node) == "main" and node.get("hidden") is None]
    return sorted(set(faults + (["4.4.14 more than one main"] if len(mains) > 1 else [])))


def _name(node: Element) -> str:
    return str(node.tag).removeprefix("{http://www.w3.org/1999/xhtml}") if isinstance(node.tag, str) else "#comment"


def _ids(root: Element) -> Counter[str]:
    return Counter(node.get("id") for node in root.iter() if node.get("id") is not None)


def _walk(node: Element, over: tuple[str, ...]) -> Iterator[tuple[Element, tuple[str, ...]]]:
    name = _name(node)
    if name == "#comment" or name.startswith(_SVG):
        return
    yield node, over
    for child in node:
        yield from _walk(child, (*over, name))


def _of_element(node: Element, over: tuple[str, ...]) -> Iterator[str]:
    name, parent = _name(node), over[-1] if over else ""
    if name not in _PLAIN and name not in _OWN:
        yield f"4 no such element: {name}"
    for said in map(str, node.keys()):
        own = said in _GLOBAL or said.startswith(("data-", "aria-")) or said in _OWN.get(name, ())
        if not own or re.search(r"[A-Z:]", said):
            yield f"3.2.6 attribute {said} on {name}"
    if parent in _CHILDREN and name not in _CHILDREN[parent] | {"script", "template"}:
        yield f"4 {name} in {parent}"
    if parent in _ONLY_PHRASING and name not in _PHRASING:
        yield f"3.2.5 {name} in {parent}"
    if name in _INTERACTIVE - {"label"} and {"a", "button"} & set(over):
        yield f"3.2.5.2.7 {name} inside a link or button"
    yield from _of_values(node, name)


def _of_values(node: Element, name: str) -> Iterator[str]:
    held = node.get("id")
    if held is not None and (not held or re.search(r"\s", held)):
        yield f"3.2.6.2 id {held!r}"
    if name == "img" and node.get("alt") is None:
        yield f"4.8.4.4 img without alt: {node.get('src')}"
    if name == "time" and not _TIME.fullmatch(node.get("datetime") or "".join(node.itertext()).strip()):
        yield f"4.5.14 time {node.get('datetime')!r}"
    if name == "input" and node.get("type") == "hidden" and node.get("autocomplete") in ("on", "off"):
        yield f"4.10.18.7.1 autocomplete of hidden input {node.get('name')}"
    if name == "input" and node.get("type") in _NOT_FILLED and node.get("autocomplete") is not None:
        yield f"4.10.5 autocomplete of {node.get('type')}"
    if name in ("form", "a", "img", "iframe") and "" in (node.get("action"), node.get("src")):
        yield f"2.4.1 empty address on {name}"
    role = node.get("role")
    if role is not None and role not in _ROLES:
        yield f"WAI-ARIA 5.3 role {role!r}"
    if role is not None and role == _NATIVE.get(name):
        yield f"ARIA in HTML 4 needless role {role} on {name}"


def _of_names(node: Element, known: Counter[str], kinds: dict[str | None, str]) -> Iterator[str]:
    name = _name(node)
    for said in _NAMES_OTHERS:
        for one in (node.get(said) or "").split():
            if one not in known:
                yield f"{said} of {name} names {one!r}, which is not there"
            elif name == "label" and kinds[one] not in _LABELABLE:
                yield f"4.10.4 label for {kinds[one]} {one!r}"
