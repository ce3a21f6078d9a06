"""The recipes in linked data: found wherever they are nested, with what they point to put in place."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from kitchen.importers.loose_json import TooDeep, read_json
from kitchen.importers.markup import Document
from kitchen.importers.properties import properties, types_of

MOST_NODES = 200_000
MOST_RECIPES = 60
MOST_SCRIPTS = 200
_DEEPEST_LINK = 4
_JSON_TYPE = re.compile(r"(?:application|text)/(?:[\w.]+\+)?json|ld\+json", re.IGNORECASE)
_MARKED = re.compile(
    r"[\"']@type[\"']\s*:\s*(?:\[\s*)?[\"'](?:https?://schema\.org/)?Recipe[\"']|\\\"@type\\\"\s*:\s*\\\"Recipe", re.IGNORECASE
)
_MOST_OPENINGS = 40
_LOOKED_BACK = 20_000
_UNTYPED = (("recipeingredient", "ingredients"), ("recipeinstructions", "instructions", "steps", "method"))

TOO_DEEP = "A piece of its data is nested more than some hundred deep, and was left alone."


def recipes_in_page(page: Document) -> tuple[list[dict[str, Any]], list[str]]:
    """Return the recipe nodes in a page's scripts, linked data first, and sentences about scripts that could not be read."""
    values: list[Any] = []
    doubts: list[str] = []
    ordered = sorted(page.scripts[:MOST_SCRIPTS], key=lambda script: "ld+json" not in script[0].get("type", "").lower())
    for attributes, body in ordered:
        try:
            values += _of_script(attributes.get("type", ""), body)
        except TooDeep:
            doubts.append(TOO_DEEP)
    return recipes_in(values), doubts


def _of_script(kind: str, body: str) -> list[Any]:
    if "ld+json" in kind.lower() or (_JSON_TYPE.search(kind) and "ecipe" in body):
        return read_json(body)
    marked = _MARKED.search(body) if "ecipe" in body else None
    return _inside_program(body, marked.start()) if marked else []


def _inside_program(body: str, place: int) -> list[Any]:
    """Return the object around a place in a program's text: the nearest opening brace from which JSON can be read."""
    start = place
    for _ in range(_MOST_OPENINGS):
        start = body.rfind("{", max(0, place - _LOOKED_BACK), start)
        if start < 0:
            return []
        if start and body[start - 1 : start + 1] == "[{":
            continue
        try:
            found = read_json(body[start:]) if body[start + 1 : start + 2] != "\\" else read_json(_unescaped(body[start:]))
        except TooDeep:
            return []
        if found and isinstance(found[0], Mapping) and recipes_in(found[:1]):
            return found[:1]
    return []


def _unescaped(body: str) -> str:
    """Return data that stands inside a string of a program, without the backslashes of that."""
    return body.replace('\\\\"', "\u0000").replace('\\"', '"').replace("\u0000", '\\"').replace("\\\\", "\\")


def recipes_in(values: list[Any]) -> list[dict[str, Any]]:
    """Return the recipe nodes in values, wherever they are nested, with the nodes that they name by ``@id`` put in.

    Examples
    --------
    >>> graph = {"@graph": [{"@type": "Recipe", "name": "Soup", "author": {"@id": "#a"}}, {"@id": "#a", "name": "Ada"}]}
    >>> recipes_in([graph])[0]["author"]["name"]
    'Ada'
    """
    nodes = list(_nodes(values))
    named: dict[str, Mapping[str, Any]] = {}
    for node in nodes:
        name = node.get("@id")
        if isinstance(name, str) and len(node) > len(named.get(name, ())) and len(node) > 1:
            named[name] = node
    found = [node for node in nodes if "recipe" in types_of(node)] or [node for node in nodes if _looks_like_recipe(node)]
    return [_linked(node, named) for node in found[:MOST_RECIPES]]


def _nodes(values: list[Any]) -> Iterator[Mapping[str, Any]]:
    """Yield every mapping in values, outer ones first, in the order in which they stand; nothing recurses."""
    waiting: list[Any] = list(reversed(values))
    count = 0
    while waiting and count < MOST_NODES:
        value = waiting.pop()
        count += 1
        if isinstance(value, dict):
            yield value
            waiting.extend(each for each in reversed(value.values()) if isinstance(each, dict | list))
        elif isinstance(value, list):
            waiting.extend(each for each in reversed(value) if isinstance(each, dict | list))


def _looks_like_recipe(node: Mapping[str, Any]) -> bool:
    """Say whether a node without a type has what only recipes have: ingredients, and a method."""
    keys = {str(key).lower() for key in node}
    return all(any(name in keys for name in names) for names in _UNTYPED) and bool(keys & {"name", "title"})


def _linked(node: Mapping[str, Any], named: Mapping[str, Mapping[str, Any]]) -> dict[str, Any]:
    """Return a node's properties with links followed, a few deep; a link in a circle stays a link."""
    return {key: _followed(value, named, 0) for key, value in properties(node).items()}


def _followed(value: Any, named: Mapping[str, Mapping[str, Any]], depth: int) -> Any:
    if depth > _DEEPEST_LINK:
        return value
    if isinstance(value, list):
        return [_followed(each, named, depth + 1) for each in value[:2000]]
    if isinstance(value, Mapping):
        target = named.get(str(value.get("@id", ""))) if set(value) <= {"@id", "@type"} else None
        if target is not None and target is not value:
            value = target
        if any(isinstance(each, Mapping | list) for each in value.values()):
            return {key: _followed(each, named, depth + 1) for key, each in value.items()}
    return value
