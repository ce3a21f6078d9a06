"""Recipes marked in a page's own elements: microdata, RDFa Lite, the recipe microformat; as nodes like those of linked data."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from kitchen.importers.asides import is_aside
from kitchen.importers.markup import Document, Element
from kitchen.importers.properties import plain_key

MOST_DEEP = 8
MOST_REFERRED = 2000
MOST_READ = 20_000
_LINES = frozenset(("recipeingredient", "ingredients", "ingredient"))
_ADDRESSES = frozenset(("url", "image", "photo", "thumbnailurl", "contenturl", "mainentityofpage"))
# microformats2 h-recipe and the older hRecipe: class names and the properties that they stand for.
_CLASSES = {
    "p-name": "name",
    "fn": "name",
    "p-ingredient": "recipeIngredient",
    "ingredient": "recipeIngredient",
    "e-instructions": "recipeInstructions",
    "p-instructions": "recipeInstructions",
    "instructions": "recipeInstructions",
    "p-yield": "recipeYield",
    "yield": "recipeYield",
    "dt-duration": "totalTime",
    "duration": "totalTime",
    "preptime": "prepTime",
    "cooktime": "cookTime",
    "totaltime": "totalTime",
    "u-photo": "image",
    "photo": "image",
    "p-summary": "description",
    "summary": "description",
    "p-author": "author",
    "author": "author",
    "p-category": "keywords",
}


@dataclass(frozen=True)
class _Dialect:
    """How a way of marking says what an element is (None for nothing) and which properties it gives."""

    source: str
    scope: Callable[[Element], str | None]
    names: Callable[[Element], list[str]]


def _microdata_scope(element: Element) -> str | None:
    return (
        element.attributes.get("itemtype", "") if "itemscope" in element.attributes or "itemtype" in element.attributes else None
    )


def _rdfa_scope(element: Element) -> str | None:
    return element.attributes.get("typeof")


def _class_scope(element: Element) -> str | None:
    return "Recipe" if {"h-recipe", "hrecipe"} & set(element.words("class")) else None


def _split_names(attribute: str) -> Callable[[Element], list[str]]:
    return lambda element: [plain_key(name) for name in element.attributes.get(attribute, "").split()]


def _class_names(element: Element) -> list[str]:
    return [_CLASSES[word] for word in element.words("class") if word in _CLASSES] if "class" in element.attributes else []


_DIALECTS = (
    _Dialect("microdata", _microdata_scope, _split_names("itemprop")),
    _Dialect("rdfa", _rdfa_scope, _split_names("property")),
    _Dialect("microformat", _class_scope, _class_names),
)


def marked_recipes(page: Document) -> list[tuple[str, dict[str, Any]]]:
    """Return each recipe that a page's elements mark, with the way in which they do.

    Notes
    -----
    Microdata after the WHATWG HTML Living Standard (``itemref`` included), RDFa Lite 1.1, and the classes of microformats2
    h-recipe and of its forerunner. Property names are those of schema.org.

    Examples
    --------
    >>> from kitchen.importers.markup import scan
    >>> page = scan('<div itemscope itemtype="http://schema.org/Recipe"><b itemprop=name>Soup</b></div>')
    >>> marked_recipes(page)
    [('microdata', {'@type': 'Recipe', 'name': ['Soup']})]
    """
    found = []
    for dialect in _DIALECTS:
        reader = _Reader(page, dialect)
        found += [(dialect.source, reader.node(number, "Recipe", 0)) for number in reader.recipes()]
    return found


class _Reader:
    """One page read in one dialect."""

    def __init__(self, page: Document, dialect: _Dialect) -> None:
        self.page, self.dialect = page, dialect
        self.left = MOST_READ
        self.types: dict[int, str] = {}
        self.owned: defaultdict[int, list[int]] = defaultdict(list)
        owners: list[int] = []
        for number, element in enumerate(page.elements):
            parent = element.parent
            owner = parent if parent in self.types else owners[parent] if parent >= 0 else -1
            owners.append(owner)
            scope = dialect.scope(element)
            if scope is not None:
                self.types[number] = scope
            if owner >= 0 and dialect.names(element):
                self.owned[owner].append(number)

    def recipes(self) -> Iterable[int]:
        """Return the numbers of the elements that are recipes."""
        return [
            number
            for number, said in self.types.items()
            if "recipe" in {plain_key(word).rpartition("/")[2] for word in said.split()}
        ][:60]

    def node(self, number: int, kind: str, depth: int) -> dict[str, Any]:
        found: dict[str, Any] = {"@type": kind}
        owned = [*self.owned[number], *([] if depth else self._referred(number))]
        for place, inner in enumerate(owned):
            self.left -= 1
            if self.left < 0:
                break
            names = self.dialect.names(self.page.elements[inner])
            for name in names:
                value = "" if self._again_inside(inner, name, owned[place + 1 : place + 9]) else self._value(inner, name, depth)
                if value not in ("", {}):
                    lines = name.lower() in _LINES and isinstance(value, str) and self._holds_a_list(inner)
                    found.setdefault(name.lower(), []).extend(value.split("\n") if lines else [value])
        return found

    def _again_inside(self, number: int, name: str, following: list[int]) -> bool:
        """Say whether the same property is marked again inside of an element: on a box, and on each item in it."""
        inside = self.page.inside(number)
        return any(each in inside and name in self.dialect.names(self.page.elements[each]) for each in following)

    def _holds_a_list(self, number: int) -> bool:
        return sum(self.page.elements[each].tag == "li" for each in self.page.inside(number)[:MOST_REFERRED]) > 1

    def _referred(self, number: int) -> list[int]:
        """Return the properties that stand elsewhere on the page, where the element names their places."""
        wanted = set(self.page.elements[number].attributes.get("itemref", "").split()[:20])
        if not wanted:
            return []
        tops = [place for place, element in enumerate(self.page.elements) if element.attributes.get("id") in wanted]
        found = []
        for top in tops[:MOST_DEEP]:
            around = (top, *self.page.inside(top)[:MOST_REFERRED])
            inside = [place for place in around if self.dialect.names(self.page.elements[place])]
            scopes = [place for place in inside if place in self.types][:MOST_DEEP]
            found += [place for place in inside if not any(place in self.page.inside(scope) for scope in scopes)]
        return found

    def _value(self, number: int, name: str, depth: int) -> Any:
        element = self.page.elements[number]
        if number in self.types and depth < MOST_DEEP and not (name.lower() in _LINES and self.page.text(number)):
            node = self.node(number, plain_key(self.types[number]), depth + 1)
            return node if len(node) > 1 else self._lines(number)
        said = element.attributes
        if "content" in said and (element.tag == "meta" or said["content"].strip()):
            return said["content"].strip()
        if "datetime" in said:
            return said["datetime"].strip()
        if name.lower() in _ADDRESSES:
            return (said.get("href") or said.get("src") or said.get("data-src") or said.get("resource") or "").strip()
        if element.tag in ("abbr", "data", "time") and (said.get("title") or said.get("value")):
            return (said.get("title") or said["value"]).strip()
        return self._lines(number)

    def _lines(self, number: int) -> str:
        return "\n".join(self.page.lines(number, is_aside))
