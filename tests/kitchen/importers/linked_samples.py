"""Pages with linked data in the shapes that it comes in."""

from __future__ import annotations

import html
import json
from dataclasses import replace
from typing import Any

from tests.kitchen.importers.sampling import BREAD, CAKE, RECIPES, SOUP, STEW, Sample, Shape, Wanted, linked, node_of, page_with


def dump(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)


def _stub(wanted: Wanted) -> dict[str, Any]:
    return {"@type": "Recipe", "name": wanted.title, "image": "https://mill.example/a.jpg"}


def _graph(wanted: Wanted) -> list[dict[str, Any]]:
    page = {"@type": "WebPage", "@id": "#page", "name": "Page"}
    return [page, node_of(wanted, author={"@id": "#ada"}), {"@type": "Person", "@id": "#ada", "name": "Ada Mill"}]


def _by_reference(wanted: Wanted) -> dict[str, Any]:
    steps = [{"@type": "HowToStep", "@id": f"#s{place}", "text": text} for place, text in enumerate(wanted.steps)]
    links = [{"@id": step["@id"]} for step in steps]
    return {"@graph": [node_of(wanted, recipeInstructions=links), *steps]}


WRAPPERS: dict[str, Shape] = {
    "plain": lambda w: page_with(dump(node_of(w))),
    "type with charset": lambda w: page_with(dump(node_of(w)), kind="application/ld+json; charset=utf-8"),
    "type in odd case": lambda w: page_with(dump(node_of(w)), kind=" Application/LD+JSON "),
    "HTML comment": lambda w: page_with(f"\n<!--\n{dump(node_of(w))}\n-->\n"),
    "CDATA": lambda w: page_with(f"//<![CDATA[\n{dump(node_of(w))}\n//]]>"),
    "CDATA in a comment": lambda w: page_with(f"/* <![CDATA[ */{dump(node_of(w))}/* ]]> */"),
    "semicolon": lambda w: page_with(dump(node_of(w)) + ";"),
    "byte-order mark inside": lambda w: page_with("\ufeff" + dump(node_of(w))),
    "entities": lambda w: page_with(html.escape(dump(node_of(w)))),
    "entities twice": lambda w: page_with(html.escape(html.escape(dump(node_of(w))))),
    "array": lambda w: page_with(dump([{"@type": "Organization", "name": "Mill"}, node_of(w)])),
    "array in array": lambda w: page_with(dump([[node_of(w)]])),
    "graph": lambda w: page_with(dump({"@context": "https://schema.org", "@graph": _graph(w)})),
    "graph as object": lambda w: page_with(dump({"@context": "https://schema.org", "@graph": node_of(w)})),
    "graph by name": lambda w: page_with(dump({"@graph": {"page": {"@type": "WebPage"}, "recipe": node_of(w)}})),
    "main entity": lambda w: page_with(dump({"@type": "WebPage", "mainEntity": node_of(w)})),
    "main entity of page": lambda w: page_with(dump({"@type": "Article", "mainEntityOfPage": {"mainEntity": [node_of(w)]}})),
    "item list": lambda w: page_with(
        dump({"@type": "ItemList", "itemListElement": [{"@type": "ListItem", "position": 1, "item": node_of(w)}]})
    ),
    "has part": lambda w: page_with(dump({"@type": "Article", "hasPart": [{"@type": "Comment"}, node_of(w)]})),
    "subject of": lambda w: page_with(dump({"@type": "VideoObject", "subjectOf": node_of(w)})),
    "type in a list": lambda w: page_with(dump(node_of(w, **{"@type": ["NewsArticle", "Recipe"]}))),
    "type as an address": lambda w: page_with(dump(node_of(w, **{"@type": "http://schema.org/Recipe"}))),
    "type as a secure address": lambda w: page_with(dump(node_of(w, **{"@type": ["https://schema.org/Recipe"]}))),
    "prefixed names": lambda w: page_with(
        dump(
            {
                name if name[0] == "@" else f"schema:{name}": value
                for name, value in node_of(w, **{"@type": "schema:Recipe"}).items()
            }
        )
    ),
    "names in capitals": lambda w: page_with(dump({name.upper(): value for name, value in node_of(w).items()})),
    "old name of ingredients": lambda w: page_with(dump(node_of(w, recipeIngredient=None, ingredients=list(w.lines)))),
    "stub first": lambda w: page_with(dump(_stub(w)), body=f'<script type="application/ld+json">{dump(node_of(w))}</script>'),
    "stub last": lambda w: page_with(dump(node_of(w)), body=f'<script type="application/ld+json">{dump(_stub(w))}</script>'),
    "objects in a row": lambda w: page_with(dump({"@type": "WebSite", "name": "Mill"}) + "\n" + dump(node_of(w))),
    "objects with a comma between": lambda w: page_with(dump({"@type": "WebSite"}) + "," + dump(node_of(w))),
    "steps by reference": lambda w: page_with(dump(_by_reference(w))),
    "trailing commas": lambda w: page_with(dump(node_of(w)).replace("]", ",]").replace("}", ",}")),
    "raw line breaks": lambda w: page_with(
        dump(node_of(w, description="one\ntwo\tthree")).replace("\\n", "\n").replace("\\t", "\t")
    ),
    "control characters": lambda w: page_with(dump(node_of(w, description="@")).replace('"@"', '"a\x01\x0b\x1fb"')),
    "unescaped quotes": lambda w: page_with(dump(node_of(w, description="Q")).replace('"Q"', '"So "good", they said"')),
    "bad escapes": lambda w: page_with(dump(node_of(w, description="Q")).replace('"Q"', r'"it\'s C:\dishes\ now"')),
    "missing comma": lambda w: page_with(json.dumps(node_of(w), indent=1).replace('",\n "recipeYield"', '"\n "recipeYield"')),
    "cut off": lambda w: page_with(dump(node_of(w, review=[{"text": "fine"}]))[:-12]),
    "script never closed": lambda w: page_with(dump(node_of(w))).split("</script></head>")[0],
    "data of the page's program": lambda w: page_with(dump({"props": {"recipe": node_of(w)}}), kind="application/json"),
    "inside a program": lambda w: page_with(f"window.state = {{}}; load({dump(node_of(w))}); go();", kind="text/javascript"),
    "a JSON file": lambda w: dump(node_of(w)),
    "a JSON file without types": lambda w: dump(
        {"title": w.title, "ingredients": list(w.lines), "instructions": list(w.steps), "servings": w.number}
    ),
    "UTF-8 with a mark": lambda w: b"\xef\xbb\xbf" + page_with(dump(node_of(w))).encode(),
    "UTF-16": lambda w: page_with(dump(node_of(w))).encode("utf-16"),
    "UTF-16 without a mark": lambda w: page_with(dump(node_of(w))).encode("utf-16-le"),
    "Latin-1": lambda w: page_with(dump(node_of(w))).replace('charset="utf-8"', "charset=ISO-8859-1").encode("latin-1"),
    "Windows-1252": lambda w: page_with(dump(node_of(w))).replace('charset="utf-8"', "charset='windows-1252'").encode("cp1252"),
}
WITHOUT_TIMES = {"a JSON file without types"}


def wrapped() -> list[Sample]:
    """Return each wrapper around one recipe, and every third around another one too."""
    found = []
    for place, (name, shape) in enumerate(WRAPPERS.items()):
        for turn in (0, 1) if place % 3 == 0 else (0,):
            wanted = RECIPES[(place + turn) % len(RECIPES)]
            if name in WITHOUT_TIMES:
                wanted = replace(wanted, prep=None, cook=None, total=None)
            found.append(Sample(f"{name}, {wanted.title}", shape(wanted), wanted))
    return found


def _sections(wanted: Wanted, kind: str) -> list[dict[str, Any]]:
    first, *rest = [{"@type": "HowToStep", "text": text} for text in wanted.steps]
    return [
        {"@type": kind, "name": "For the pot:", "itemListElement": first},
        {"@type": kind, "name": "To finish", "itemListElement": rest},
    ]


STEPS: dict[str, Any] = {
    "list of texts": list,
    "text with lines": "\n".join,
    "text with Windows lines": "\r\n\r\n".join,
    "text with paragraphs": lambda s: "".join(f"<p>{text}</p>\n" for text in s),
    "text with items": lambda s: "<ol>" + "".join(f"<li>{text}" for text in s) + "</ol>",
    "text with breaks": "<br />".join,
    "escaped items": lambda s: html.escape("<ol>" + "".join(f"<li>{text}</li>" for text in s) + "</ol>"),
    "numbered lines": lambda s: "\n".join(f"{place}. {text}" for place, text in enumerate(s, 1)),
    "numbers in one text": lambda s: " ".join(f"{place}. {text}" for place, text in enumerate(s, 1)),
    "steps in one text": lambda s: " ".join(f"Step {place}: {text}" for place, text in enumerate(s, 1)),
    "numbers on lines of their own": lambda s: "\n".join(f"Step {place}\n{text}" for place, text in enumerate(s, 1)),
    "numbered texts": lambda s: [f"{place}) {text}" for place, text in enumerate(s, 1)],
    "name beginning like the text": lambda s: [{"@type": "HowToStep", "name": text[:12] + "…", "text": text} for text in s],
    "names alone": lambda s: [{"@type": "HowToStep", "name": text} for text in s],
    "numbered names": lambda s: [{"@type": "HowToStep", "name": f"Step {n}", "text": text} for n, text in enumerate(s, 1)],
    "directions": lambda s: [
        {"@type": "HowToStep", "itemListElement": [{"@type": "HowToDirection", "text": text}]} for text in s
    ],
    "item list": lambda s: {"@type": "ItemList", "itemListElement": [{"@type": "ListItem", "item": {"text": t}} for t in s]},
    "nested lists": lambda s: [[[{"@type": "HowToStep", "text": text}] for text in s]],
    "one node with lines": lambda s: {"@type": "HowToStep", "text": "\n".join(s)},
    "one node in a list": lambda s: [{"@type": "HowToStep", "text": "".join(f"<p>{text}</p>" for text in s)}],
    "markup inside": lambda s: [{"@type": "HowToStep", "text": f"<b>{text}</b>&nbsp;<img src=x>"} for text in s],
    "empty ones between": lambda s: [{"text": ""}, *({"@type": "HowToStep", "text": text} for text in s), "", " "],
    "twice": lambda s: [*s, *s],
}
LINES: dict[str, Any] = {
    "text with lines": "\n".join,
    "text with breaks": "<br>".join,
    "text with items": lambda s: "<ul>" + "".join(f"<li>{line}</li>" for line in s) + "</ul>",
    "one text in a list": lambda s: ["\n".join(s)],
    "nested lists": lambda s: [[line] for line in s],
    "empty ones between": lambda s: ["", *s, " ", "<p></p>", "—"],
    "twice": lambda s: [*s, *s],
    "markup inside": lambda s: [f"<span>{line}</span>" for line in s],
    "bullets": lambda s: [f"▢ {line}" for line in s],
    "escaped twice": lambda s: [html.escape(html.escape(line)) for line in s],
    "odd spaces": lambda s: [line.replace(" ", "\u00a0\u200b ") + "\n" for line in s],
    "nodes with names": lambda s: [{"@type": "Text", "name": line} for line in s],
    "nodes with amounts": lambda s: [{"amount": line.split(" ")[0], "name": line.split(" ", 1)[1]} for line in s],
}
YIELDS: dict[str, tuple[Any, int]] = {
    "number": (4, 4),
    "text": ("4", 4),
    "servings": ("4 servings", 4),
    "range": ("Serves 4-6", 4),
    "range in words": ("4 to 6 people", 4),
    "things": ("Makes 12 muffins", 12),
    "both": (["4", "4 servings"], 4),
    "quantity": ({"@type": "QuantitativeValue", "value": 8, "unitText": "slices"}, 8),
    "one thing": ("1 loaf", 1),
    "label": ("Yield: 6", 6),
    "word": ("four", 4),
    "thing before servings": (["1 cake", "10 servings"], 10),
    "size of the thing": ("One 23 cm tart, 8 servings", 8),
    "dozens": ("about 2 dozen", 24),
}
TIMES: dict[str, tuple[dict[str, Any], tuple[int | None, int | None, int | None]]] = {
    "hours and minutes": ({"prepTime": "PT1H30M", "cookTime": "PT0H5M", "totalTime": "PT1H35M"}, (90, 5, 95)),
    "days of nothing": ({"prepTime": "P0DT0H45M", "cookTime": "P0Y0M0DT0H35M0.000S", "totalTime": "PT80M"}, (45, 35, 80)),
    "decimal hours": ({"prepTime": "PT1.5H", "cookTime": "PT90M", "totalTime": "PT3H"}, (90, 90, 180)),
    "small letters": ({"prepTime": "pt20m", "cookTime": "p1dt2h", "totalTime": None}, (20, 1560, 1580)),
    "zero": ({"prepTime": "PT10M", "cookTime": "PT0S", "totalTime": "PT0S"}, (10, 0, 10)),
    "nothing filled in": ({"prepTime": "PT0M", "cookTime": "PT", "totalTime": ""}, (None, None, None)),
    "words": ({"prepTime": "45 min", "cookTime": "1 hr 20 mins", "totalTime": "2 hours, 5 minutes"}, (45, 80, 125)),
    "without P": ({"prepTime": "T30M", "cookTime": "30M", "totalTime": "1H"}, (30, 30, 60)),
    "numbers": ({"prepTime": 30, "cookTime": "40", "totalTime": 70.0}, (30, 40, 70)),
    "ranges": ({"prepTime": "10-15 min", "cookTime": "PT20M/PT30M", "totalTime": None}, (15, 30, 45)),
    "perform time": ({"prepTime": None, "cookTime": None, "performTime": "PT1H", "totalTime": "PT75M"}, (None, 60, 75)),
    "nodes": ({"prepTime": {"@type": "Duration", "maxValue": "PT20M"}, "cookTime": ["PT5M"], "totalTime": None}, (20, 5, 25)),
    "seconds": ({"prepTime": "PT600S", "cookTime": "PT1H0M30S", "totalTime": None}, (10, 60, 70)),
    "no sense": ({"prepTime": "overnight", "cookTime": "-", "totalTime": "PT40M"}, (None, None, 40)),
}


def varied() -> list[Sample]:
    """Return pages that differ in one property each."""
    found = []
    for place, (name, shape) in enumerate(STEPS.items()):
        wanted = RECIPES[place % 4]
        found.append(Sample(f"steps as {name}", linked(wanted, recipeInstructions=shape(wanted.steps)), wanted))
    for place, (name, shape) in enumerate(LINES.items()):
        wanted = (CAKE, SOUP)[place % 2]
        found.append(Sample(f"ingredients as {name}", linked(wanted, recipeIngredient=shape(wanted.lines)), wanted))
    for name, (value, number) in YIELDS.items():
        found.append(Sample(f"yield as {name}", linked(STEW, recipeYield=value), replace(STEW, number=number)))
    for name, (times, (prep, cook, total)) in TIMES.items():
        found.append(Sample(f"times as {name}", linked(BREAD, **times), replace(BREAD, prep=prep, cook=cook, total=total)))
    return found


def headed() -> list[Sample]:
    """Return pages with headings among their ingredients, and sections in their method."""
    lines = [*STEW.lines[:2], "For the sauce:", *STEW.lines[2:4], "<strong>To finish</strong>", STEW.lines[4]]
    grouped = [{"name": "Pot", "items": list(STEW.lines[:2])}, {"name": "Top", "items": list(STEW.lines[2:])}]
    told = [STEW.steps[0], "For the rest:", *STEW.steps[1:]]
    named = [{"@type": "HowToStep", "name": "Warm up", "text": STEW.steps[1]}]
    two = [node_of(STEW), node_of(SOUP), {"@type": "Recipe", "name": "Only a name"}]
    return [
        Sample("headings among the lines", linked(STEW, recipeIngredient=lines), STEW, parts=("", "For the sauce", "To finish")),
        Sample("groups of lines", linked(STEW, recipeIngredient=grouped), STEW, parts=("Pot", "Top")),
        Sample(
            "sections",
            linked(STEW, recipeInstructions=_sections(STEW, "HowToSection")),
            STEW,
            sections=("For the pot", "To finish", "To finish"),
        ),
        Sample(
            "lists as sections",
            linked(CAKE, recipeInstructions=_sections(CAKE, "ItemList")),
            CAKE,
            sections=("For the pot", "To finish", "To finish"),
        ),
        Sample(
            "a heading among the steps",
            linked(STEW, recipeInstructions=told),
            STEW,
            sections=("", "For the rest", "For the rest"),
        ),
        Sample("a step with a name of its own", linked(STEW, recipeInstructions=named), replace(STEW, steps=STEW.steps[1:2])),
        Sample("two recipes", page_with(dump(two), head="<title>x</title>"), STEW, others=(SOUP.title,)),
        Sample(
            "two recipes, the page's title tells",
            page_with(dump(two), body=f"<h1>{SOUP.title}</h1>").replace("<h1>A page</h1>", ""),
            SOUP,
            others=(STEW.title,),
        ),
    ]


SAMPLES = [*wrapped(), *varied(), *headed()]
