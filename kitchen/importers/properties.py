"""A piece of linked data, whichever way the page carried it: its properties by plain names, its texts, its types."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from kitchen.importers.wording import one_line

Node = Mapping[str, Any]

MOST_DEEP = 12
MOST_TEXTS = 2000
_PREFIX = re.compile(r"^(?:https?://(?:www\.)?schema\.org/|schema:|v:|s:)", re.IGNORECASE)


def plain_key(name: str) -> str:
    """Return a property's or a type's name in small letters, without the vocabulary in front.

    Examples
    --------
    >>> [plain_key(name) for name in ("recipeYield", "http://schema.org/Recipe", "schema:name", "@type")]
    ['recipeyield', 'recipe', 'name', '@type']
    """
    return _PREFIX.sub("", name.strip()).strip("/#").lower()


def properties(node: Node) -> dict[str, Any]:
    """Return a node's properties by their plain names; what says nothing is left out."""
    found: dict[str, Any] = {}
    for name, value in node.items():
        key = plain_key(str(name))
        if value not in (None, "", [], {}) and key not in found:
            found[key] = value
    return found


def types_of(node: Node) -> set[str]:
    """Return the plain names of a node's types, of which it may have several."""
    said = next((node[key] for key in ("@type", "type", "@TYPE", "Type", "@Type") if node.get(key)), ())
    listed = said if isinstance(said, list | tuple) else [said]
    return {plain_key(word) for each in listed if isinstance(each, str) for word in re.split(r"[\s,]+", each) if word}


def listed(value: Any, depth: int = 0) -> Iterator[Any]:
    """Yield the values in a value that may be one, a list of them, or lists inside lists."""
    if isinstance(value, list | tuple):
        if depth < MOST_DEEP:
            for each in value[:MOST_TEXTS]:
                yield from listed(each, depth + 1)
    elif value not in (None, "", {}):
        yield value


def first_of(held: Mapping[str, Any], names: Iterable[str]) -> Any:
    """Return the first of some properties that is there."""
    return next((held[name] for name in names if name in held), None)


def texts(value: Any, names: Iterable[str] = ("@value", "name", "text", "value", "@id")) -> list[str]:
    """Return the texts in a value; of a node, the first of the properties that name it.

    Examples
    --------
    >>> texts(["Ada", {"@type": "Person", "name": "Bo <b>Lind</b>"}, 3])
    ['Ada', 'Bo Lind', '3']
    """
    found = []
    for each in listed(value):
        said = next(iter(listed(first_of(properties(each), names))), "") if isinstance(each, Mapping) else each
        if isinstance(said, str | int | float) and not isinstance(said, bool) and (text := one_line(str(said))):
            found.append(text)
        if len(found) >= MOST_TEXTS:
            break
    return found


def scalars(value: Any) -> list[Any]:
    """Return the texts and numbers in a value as they are; a quantity gives its value with its unit."""
    found: list[Any] = []
    for each in listed(value):
        said = each
        if isinstance(each, Mapping):
            held = properties(each)
            number = next(iter(listed(first_of(held, ("value", "@value", "name", "text", "minvalue", "maxvalue")))), "")
            unit = next(iter(texts(first_of(held, ("unittext", "unit")))), "")
            said = f"{number} {unit}".strip() if isinstance(number, str | int | float) else ""
        if isinstance(said, str | int | float):
            found.append(said)
    return found
