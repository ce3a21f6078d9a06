"""Pages that put the pieces of a recipe where readers lose them: what is seen on the page must be what is read."""

from __future__ import annotations

import json

from tests.kitchen.importers.marked_samples import items, page
from tests.kitchen.importers.sampling import Sample, Wanted, node_of, page_with

HAM = Wanted(
    "Ham and pea rice",
    ("195 g ham", "300 g rice", "2 tbsp oil", "150 g peas", "1 onion"),
    ("Fry the onion in the oil.", "Add rice and water; cover for 15 minutes.", "Fold in ham and peas."),
)
_HAM = (("195", "g", "ham"), ("300", "g", "rice"), ("2", "tbsp", "oil"), ("150", "g", "peas"), ("1", "", "onion"))


def _nameless(wanted: Wanted) -> Wanted:
    return Wanted(wanted.title, wanted.lines, wanted.steps)


def _list(shape: str, rows: tuple[tuple[str, str, str], ...] = _HAM) -> str:
    return "".join(shape.format(number=number, unit=unit, food=food) for number, unit, food in rows)


def _plain(lines: str, steps: str = "", *, title: str = HAM.title) -> str:
    """Return a page without data: a list under the heading of the ingredients, and a method."""
    method = steps or f"<ol>{items(HAM.steps)}</ol>"
    return page(
        Wanted(title, (), ()),
        f"<nav><a>Home</a></nav><h1>{title}</h1><p>A pot.</p><h2>Ingredients</h2>{lines}<h2>Method</h2>{method}",
    )


def _marked(lines: str, steps: str = "", kind: str = "https://schema.org/Recipe") -> str:
    method = steps or f"<ol>{items(HAM.steps, 'itemprop=recipeInstructions')}</ol>"
    return page(HAM, f'<div itemscope itemtype="{kind}"><h1 itemprop=name>{HAM.title}</h1>{lines}{method}</div>')


def _data(**changed: object) -> str:
    return page_with(
        json.dumps(node_of(HAM, **{"recipeYield": None, "prepTime": None, "cookTime": None, "totalTime": None, **changed}))
    )


_SCOPED = (
    '<li itemprop=recipeIngredient itemscope itemtype="https://schema.org/PropertyValue"><span itemprop=value>{number}</span>'
    " <span class=unit>{unit}</span> <span itemprop=name>{food}</span></li>"
)
_OLD = (
    '<li itemprop=ingredient itemscope itemtype="http://data-vocabulary.org/RecipeIngredient"><span itemprop=amount>{number}'
    " {unit}</span> <span itemprop=name>{food}</span></li>"
)

UNITS = [
    Sample("unit in an element without a mark", _marked(f"<ul>{_list(_SCOPED)}</ul>"), HAM),
    Sample("unit in a button", _plain(f"<ul>{_list('<li>{number} <button type=button>{unit}</button> {food}</li>')}</ul>"), HAM),
    Sample(
        "unit in a button, marked",
        _marked(f"<ul>{_list('<li itemprop=recipeIngredient>{number} <button>{unit}</button> {food}</li>')}</ul>"),
        HAM,
    ),
    Sample(
        "unit in a span", _plain(f"<ul>{_list('<li><b>{number}</b> <span>{unit}</span> <a href=/f>{food}</a></li>')}</ul>"), HAM
    ),
    Sample(
        "unit in a block",
        _plain(f"<ul>{_list('<li><div>{number}</div><div>{unit}</div><div>{food}</div></li>')}</ul>"),
        HAM,
    ),
    Sample(
        "unit in data of its own",
        _data(
            recipeIngredient=[{"amount": {"value": number, "unitText": unit}, "name": food} for number, unit, food in _HAM],
        ),
        HAM,
    ),
]

NEIGHBOURS = [
    Sample("amount and food in a row of a table", _plain(f"<table>{_list('<tr><td>{number} {unit}<td>{food}')}</table>"), HAM),
    Sample(
        "amount, unit and food in a row of a table",
        _plain(f"<table><tbody>{_list('<tr><td>{number}</td><td>{unit}</td><td>{food}</td></tr>')}</tbody></table>"),
        HAM,
    ),
    Sample(
        "food before its amount in a row",
        _plain(f"<table>{_list('<tr><td>{food}</td><td>{number} {unit}</td></tr>')}</table>"),
        HAM,
    ),
    Sample("amount and food in paragraphs", _plain(_list("<p>{number} {unit}</p><p>{food}</p>")), HAM),
    Sample("amount and food in a list of terms", _plain(f"<dl>{_list('<dt>{food}</dt><dd>{number} {unit}</dd>')}</dl>"), HAM),
    Sample(
        "amount and food in boxes of a box",
        _plain(_list("<div class=row><div class=qty>{number} {unit}</div><div class=what>{food}</div></div>")),
        HAM,
    ),
    Sample(
        "amount and food each marked",
        _marked(_list("<p><span itemprop=recipeIngredient>{number} {unit}</span> <i itemprop=recipeIngredient>{food}</i></p>")),
        HAM,
    ),
    Sample(
        "amount and food each a line of data",
        _data(
            recipeIngredient=[words for number, unit, food in _HAM for words in (f"{number} {unit}".strip(), food)],
        ),
        HAM,
    ),
]

_LINES = f"<ul>{items(HAM.lines)}</ul>"
_STEPS = f"<ol>{items(HAM.steps)}</ol>"
ASIDES = [
    Sample(
        "readers' comments behind the method",
        _plain(
            _LINES,
            _STEPS + "<div class='comment-list'><ol><li><b>Ida</b><p>I used 2 eggs.</p></li><li>Made it twice!</li></ol></div>",
        ),
        HAM,
    ),
    Sample(
        "a tip among the steps",
        _plain(
            _LINES,
            f"<div>{items(HAM.steps[:2], tag='p')}<p class='tip-box'>Leftovers keep for two days.</p><p>{HAM.steps[2]}</p></div>",
        ),
        HAM,
    ),
    Sample(
        "photo credits among lines and steps",
        _plain(
            f"{_LINES}<figure><img src=a.jpg><figcaption>The pot at noon</figcaption></figure><p>Photo: Ida Holm</p>",
            f"<p>Photograph by Ida Holm</p>{items(HAM.steps, tag='p')}<p>Photo credit: Ida Holm</p>",
        ),
        HAM,
    ),
    Sample(
        "a shop among the ingredients",
        _plain(
            f"{_LINES}<div class='shop-widget'><p>2 items in your basket</p><p>Rice 1 kg, 3.49</p><button>Buy</button></div>"
            "<p>Add all to cart</p>"
        ),
        HAM,
    ),
    Sample(
        "widgets as items of the list",
        _plain(f"<ul>{items(HAM.lines)}<li class='product-card'>Sharp knife, 20 off</li><li>Add to shopping list</li></ul>"),
        HAM,
    ),
    Sample(
        "a tip and a comment among marked steps",
        _marked(
            f"<ul>{items(HAM.lines, 'itemprop=recipeIngredient')}</ul>",
            f"<div itemprop=recipeInstructions>{items(HAM.steps, tag='p')}<div class=note><p>Tip: use old rice.</p></div>"
            "<div class=comments><p>Ida says: lovely</p></div></div>",
        ),
        HAM,
    ),
    Sample(
        "credits and widgets in data",
        _data(
            recipeIngredient=[*HAM.lines, "Add all to basket"],
            recipeInstructions=["Photo: Ida Holm", *HAM.steps, "Print this recipe"],
        ),
        HAM,
    ),
]


BREAKS = [
    Sample("newlines and one break among steps", _data(recipeInstructions="{}\n{}<br>{}".format(*HAM.steps)), HAM),
    Sample(
        "newlines and one break among lines",
        _data(recipeIngredient="\n".join(HAM.lines[:3]) + "<br>" + "\n".join(HAM.lines[3:])),
        HAM,
    ),
    Sample("breaks with newlines behind", _data(recipeInstructions="<br>\n".join(HAM.steps)), HAM),
    Sample(
        "breaks and text wrapped by its editor",
        _data(recipeInstructions="<br>".join(HAM.steps).replace("onion ", "onion\n").replace("; ", ";\n")),
        HAM,
    ),
]

_COUNTED = Wanted(
    HAM.title, HAM.lines, ("Fry the onion.", "(2) cups of water go in; cover.", "[1] bay leaf goes in, then the ham.")
)
_NUMBERED = list(enumerate(HAM.steps, 1))
NUMBERS = [
    Sample("a number in brackets that counts food", _data(recipeInstructions=list(_COUNTED.steps)), _COUNTED),
    Sample("numbers in brackets that count steps", _data(recipeInstructions=[f"({n}) {s}" for n, s in _NUMBERED]), HAM),
    Sample("numbers in square brackets", _data(recipeInstructions="\n".join(f"[{n}] {s}" for n, s in _NUMBERED)), HAM),
    Sample("numbers and a bracket", _data(recipeInstructions=[f"{n}) {s}" for n, s in _NUMBERED]), HAM),
]

_MARKED_LINES = f"<ul>{items(HAM.lines, 'itemprop=recipeIngredient')}</ul>"
MICRODATA = [
    Sample("microdata, older vocabulary", _marked(f"<ul>{_list(_OLD)}</ul>", kind="http://data-vocabulary.org/Recipe"), HAM),
    Sample("microdata, one mark round the list", _marked(f"<ul itemprop=recipeIngredient>{items(HAM.lines)}</ul>"), HAM),
    Sample(
        "microdata, one mark round heading and list",
        _marked(
            f"<div itemprop=recipeIngredient><h3>Ingredients</h3><ul>{items(HAM.lines)}</ul></div>",
            f"<div itemprop=recipeInstructions><h3>Method</h3><ol>{items(HAM.steps)}</ol><h3>Notes</h3><p>Eat warm.</p></div>",
        ),
        HAM,
    ),
    Sample(
        "microdata, box and items both marked",
        _marked(
            _MARKED_LINES, f"<div itemprop=recipeInstructions><ol>{items(HAM.steps, 'itemprop=recipeInstructions')}</ol></div>"
        ),
        HAM,
    ),
    Sample(
        "microdata, number in a block before each step",
        _marked(
            _MARKED_LINES,
            "<div itemprop=recipeInstructions>"
            + "".join(f"<div class=step><div class=no>{n}</div><p>{s}</p></div>" for n, s in _NUMBERED)
            + "</div>",
        ),
        HAM,
    ),
    Sample(
        "microdata, number in a span of each step",
        _marked(_MARKED_LINES, "".join(f"<p itemprop=recipeInstructions><span>{n}</span> {s}</p>" for n, s in _NUMBERED)),
        HAM,
    ),
    Sample(
        "microdata, step with a title and a picture",
        _marked(
            _MARKED_LINES,
            "".join(
                f"<li itemprop=recipeInstructions><h4>Step {n}</h4><img src=a.jpg alt=b><p>{s}</p></li>" for n, s in _NUMBERED
            ),
        ),
        HAM,
    ),
    Sample(
        "microdata, several lists each marked",
        _marked(
            f"<h4>Base</h4><ul itemprop=ingredients>{items(HAM.lines[:3])}</ul>"
            f"<h4>Top</h4><ul itemprop=ingredients>{items(HAM.lines[3:])}</ul>"
        ),
        HAM,
    ),
    Sample(
        "microdata, paragraphs with line breaks in one mark",
        _marked(f"<p itemprop=recipeIngredient>{'<br>'.join(HAM.lines)}</p>"),
        HAM,
    ),
    Sample("microdata, method not marked", _marked(_MARKED_LINES, f"<h2>Method</h2><ol>{items(HAM.steps)}</ol>"), HAM),
    Sample(
        "microdata, ingredients not marked",
        _marked(f"<h2>Ingredients</h2><ul>{items(HAM.lines)}</ul>"),
        HAM,
    ),
    Sample(
        "microdata, table of ingredients",
        _marked(f"<table>{_list('<tr itemprop=recipeIngredient><td>{number} {unit}<td>{food}')}</table>"),
        HAM,
    ),
    Sample(
        "microdata, item in a list item of its own scope",
        _marked(
            _MARKED_LINES,
            "<ol>"
            + "".join(
                f'<li itemprop=recipeInstructions itemscope itemtype="https://schema.org/HowToStep"><p>{s}</p></li>'
                for s in HAM.steps
            )
            + "</ol>",
        ),
        HAM,
    ),
]

_PARTED = Wanted(HAM.title, HAM.lines, HAM.steps)
_PARTS = ("Base", "Top")
_VARIANTS = "".join(
    f"<div data-portions={n}><ul>"
    + _list("<li>{number} {unit} {food}</li>", tuple((str(int(number) * n), unit, food) for number, unit, food in _HAM))
    + "</ul></div>"
    for n in (1, 2, 3)
)
UNMARKED = [
    Sample(
        "headings of parts as items",
        _plain(f"<ul><li class=heading>Base</li>{items(HAM.lines[:3])}<li class=heading>Top</li>{items(HAM.lines[3:])}</ul>"),
        _PARTED,
        parts=_PARTS,
    ),
    Sample(
        "headings of parts as boxes",
        _plain(
            f"<div class=group-title>Base</div><ul>{items(HAM.lines[:3])}</ul>"
            f"<div class=group-title>Top</div><ul>{items(HAM.lines[3:])}</ul>"
        ),
        _PARTED,
        parts=_PARTS,
    ),
    Sample(
        "headings of parts between lists",
        _plain(f"<p>Base</p><ul>{items(HAM.lines[:3])}</ul><p>Top</p><ul>{items(HAM.lines[3:])}</ul>"),
        _PARTED,
        parts=_PARTS,
    ),
    Sample(
        "headings of parts across a table",
        _plain(
            f"<table><tr><td colspan=2>Base</td></tr>{_list('<tr><td>{number} {unit}<td>{food}', _HAM[:3])}"
            f"<tr><th colspan=2>Top</th></tr>{_list('<tr><td>{number} {unit}<td>{food}', _HAM[3:])}</table>"
        ),
        _PARTED,
        parts=_PARTS,
    ),
    Sample(
        "the head of a table",
        _plain(f"<table><tr><th>Amount<th>Food</tr>{_list('<tr><td>{number} {unit}<td>{food}')}</table>"),
        HAM,
    ),
    Sample("the whole page in a form", _plain(_LINES).replace("<h1>", "<form method=post><h1>"), HAM),
    Sample(
        "ingredients in an aside",
        page(
            HAM,
            f"<h1>{HAM.title}</h1><aside class=sidebar><h2>Ingredients</h2>{_LINES}</aside><main><h2>Method</h2>{_STEPS}</main>",
        ),
        HAM,
    ),
    Sample("every number of portions", _plain(_VARIANTS), HAM),
    Sample("the list twice, for another screen", _plain(_LINES + _LINES), HAM),
]

SAMPLES = [*UNITS, *NEIGHBOURS, *ASIDES, *BREAKS, *NUMBERS, *MICRODATA, *UNMARKED]
