"""What the tags of HTML do to the text around them, after the WHATWG HTML Living Standard."""

from __future__ import annotations


def _tags(words: str) -> frozenset[str]:
    return frozenset(words.split())


VOID = _tags("area base br col embed hr img input link meta param source track wbr")
RAW = _tags("script style textarea title xmp iframe noembed noframes")
"""Elements in which nothing is markup until their own end tag."""

BLOCKS = _tags(
    "address article aside blockquote body br center caption dd details dialog div dl dt fieldset figcaption figure footer form"
    " h1 h2 h3 h4 h5 h6 header hr html legend li main menu nav ol option p pre section summary table tbody td tfoot th thead tr"
    " ul"
)
"""Elements that begin a line of their own; cells do so too, since most tables on recipe pages are lists."""

UNSEEN = _tags("script style noscript template svg button select iframe object canvas audio video map head")
"""Elements whose content is no part of the page's text."""

HEADINGS = _tags("h1 h2 h3 h4 h5 h6")
INLINE = _tags("a abbr b big cite code em font i label mark q s small span strike strong sub sup time u")

# A start tag that closes elements which are still open, and the elements beyond which it does not look.
_ROWS = (frozenset(("tr", "td", "th")), frozenset(("table",)))
_CELLS = (frozenset(("td", "th")), frozenset(("table", "tr")))
_TERMS = (frozenset(("dt", "dd")), frozenset(("dl",)))
CLOSES = {
    "li": (frozenset(("li",)), frozenset(("ul", "ol", "menu", "table"))),
    "tr": _ROWS,
    "td": _CELLS,
    "th": _CELLS,
    "dt": _TERMS,
    "dd": _TERMS,
    "option": (frozenset(("option",)), frozenset(("select",))),
    **dict.fromkeys(
        _tags(
            "address article aside blockquote div dl fieldset footer form h1 h2 h3 h4 h5 h6 header hr main nav ol p"
            " pre section table ul"
        ),
        (frozenset(("p",)), frozenset(("div", "li", "td", "th", "section", "article", "body", "blockquote", "dd"))),
    ),
}
