"""Sample documents for the importers: recipes of our own, and what must be read from each document."""

from __future__ import annotations

import html
import json
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True)
class Wanted:
    """What a document holds. None means that the document does not say it."""

    title: str
    lines: tuple[str, ...]
    steps: tuple[str, ...]
    number: int | None = None
    prep: int | None = None
    cook: int | None = None
    total: int | None = None


@dataclass(frozen=True)
class Sample:
    """One document with what must be read from it; ``parts`` and ``sections`` where it has headings."""

    name: str
    document: str | bytes
    wanted: Wanted
    parts: tuple[str, ...] = ()
    sections: tuple[str, ...] = ()
    others: tuple[str, ...] = field(default=())


STEW = Wanted(
    "Barley & beet stew",
    ("200 g pearl barley", "3 beets, peeled and diced", "1½ l vegetable stock", "2 tbsp oil", "salt to taste"),
    ("Warm the oil and turn the beets in it.", "Add barley and stock; simmer until soft.", "Season and serve."),
    4,
    15,
    45,
    60,
)
CAKE = Wanted(
    "Lighthouse keeper's oat cake",
    ("250 g rolled oats", "2 large eggs", "1/2 cup honey", "1 tsp baking powder"),
    ("Heat the oven to 180 °C.", "Stir everything together.", "Bake 35 minutes, then cool on a rack."),
    12,
    10,
    35,
    45,
)
SOUP = Wanted(
    "Crème of nettle soup",
    ("300 g young nettles", "1 onion, chopped", "2 potatoes (about 400 g)", "100 ml cream"),
    ("Soften the onion.", "Add potatoes and 1 litre of water; boil for 20 minutes.", "Blend with the nettles and cream."),
    6,
    20,
    25,
    45,
)
BREAD = Wanted(
    "Ferry-boat soda bread",
    ("450 g wholemeal flour", "1 tsp bicarbonate of soda", "400 ml buttermilk"),
    ("Mix flour and soda.", "Pour in the buttermilk and bring it together.", "Bake at 200 °C for 40 minutes."),
    1,
    10,
    40,
    50,
)
RECIPES = (STEW, CAKE, SOUP, BREAD)


def node_of(wanted: Wanted, **changed: Any) -> dict[str, Any]:
    """Return a recipe as a plain node of linked data; ``changed`` replaces properties, None takes one out."""
    node = {
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": wanted.title,
        "recipeIngredient": list(wanted.lines),
        "recipeInstructions": [{"@type": "HowToStep", "text": text} for text in wanted.steps],
        "recipeYield": str(wanted.number),
        "prepTime": f"PT{wanted.prep}M",
        "cookTime": f"PT{wanted.cook}M",
        "totalTime": f"PT{wanted.total}M",
        **changed,
    }
    return {name: value for name, value in node.items() if value is not None}


def page_with(script: str, *, kind: str = "application/ld+json", head: str = "", body: str = "") -> str:
    """Return a page with one script of data, and the noise that stands around it."""
    return f"""<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>A page of the mill's kitchen</title>{head}
<script>var shown = 1; if (1 < 2) {{ document.title = "<h1>no</h1>"; }}</script>
<script type="{kind}">{script}</script></head><body><nav><ul><li>Home<li>Soups</ul></nav>
<h1>A page</h1><p>Some words before the list.</p>{body}<footer>Since 1911</footer></body></html>"""


def linked(wanted: Wanted, **changed: Any) -> str:
    """Return a page with a recipe's linked data."""
    return page_with(json.dumps(node_of(wanted, **changed)))


def escaped(text: str) -> str:
    return html.escape(text)


Shape = Callable[[Wanted], str | bytes]
