"""What a thing does is said once, by the thing: kinds and systems by their registries, the cards of other apps by themselves."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from energy.kinds import APPLIANCE_KINDS, METER_PLACES, SOURCE_KINDS
from kitchen.cards import registered
from kitchen.domain.systems import SYSTEMS
from kitchen.models import Site
from tests.house.tree import APPS, TOP, name_of, parsed, project_files, python_files

REGISTRIES = {"energy/kinds.py", "kitchen/domain/systems.py"}
KEYS = {*dict(APPLIANCE_KINDS), *dict(SOURCE_KINDS), *dict(METER_PLACES), *SYSTEMS} - {"other"}
"""All but a word that a sensor and an ingredient line may hold as well."""

STILL = {"energy/estimates/domain/combine.py": {"battery"}}
"""Where a key is compared with all the same: a run whose place is not known is left as it was measured."""

DRAWINGS_TOO = {"kettle", "griddle", "oven", "skillet"}
"""Kinds of appliance after which one of the kitchen's own drawings is called."""

FIGURES = {"energy_wh", "own_battery_wh"}
"""What the cards of other apps work out besides what they declare for the shelf."""

SPOKEN = {"runs"}
"""What is plain English as well, as the slugs and the limits' fields are: it names a figure or a card only in quotes or behind a
dot. A single letter does so only behind a dot: in quotes it is how a file is opened."""


def compared(tree: ast.AST) -> Iterator[str]:
    """Yield the texts that something is compared with, alone or among others."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Compare):
            sides = [*node.comparators, node.left]
            inner = [one for side in sides if isinstance(side, ast.Tuple | ast.List | ast.Set) for one in side.elts]
            yield from (one.value for one in (*sides, *inner) if isinstance(one, ast.Constant) and isinstance(one.value, str))


def test_nothing_compares_with_a_kind_or_a_system():
    modules = [path for path in python_files() if path.relative_to(TOP).parts[0] in APPS and name_of(path) not in REGISTRIES]
    assert len(modules) > 300
    found = {name_of(path): KEYS & set(compared(parsed(path))) - STILL.get(name_of(path), set()) for path in modules}
    assert {name: keys for name, keys in found.items() if keys} == {}


def test_a_comparison_is_seen():
    for bad in ("kind == 'kettle'", "place == 'socket'", "kind in ('oven', 'griddle')", "'us' != system", "system not in {'au'}"):
        assert KEYS & set(compared(ast.parse(bad))), bad
    assert not KEYS & set(compared(ast.parse("appliance_kind('kettle').closed == True")))


def test_no_template_compares_with_a_kind_or_a_system():
    asked = re.compile(rf"""{{%[^%]*(?:==|!=|\bin)\s*"(?:{"|".join(KEYS - DRAWINGS_TOO - {"written"})})\"""")
    templates = [path for path in project_files() if path.suffix == ".html"]
    assert [name_of(path) for path in templates if asked.search(path.read_text("utf-8"))] == []
    assert asked.search('{% if system == "us" %}')


PHYSICS = {"kitchen/domain/technical_units.py": {'"energy"', "'energy'"}}
"""A dimension of quantities is called so, whatever cards there are."""


def names_of_others() -> tuple[set[str], set[str]]:
    """Return what the other apps' cards call things: names that are nothing else, and words that are English too."""
    cards = [card for card in registered() if not type(card).__module__.startswith("kitchen")]
    declared = [figure for card in cards for figure in card.shelf_figures]
    fields = {name for card in cards if card.kit_form is not None for name in card.kit_form.base_fields}
    own = {field.name for field in Site._meta.fields}
    plain = {card.slug for card in cards} | {figure.field for figure in declared} | SPOKEN
    names = {figure.name for figure in declared} | fields | FIGURES
    return {name for name in names - own if "_" in name}, plain | {name for name in names if "_" not in name}


def named(text: str, names: set[str], plain: set[str]) -> set[str]:
    """Return the cards, figures, fields, addresses and templates of the other apps that a text names."""
    found = re.findall(rf"(?<![\w.-])(?:{'|'.join(names)})(?![\w-])", text)
    found += re.findall(rf"[\"'](?:{'|'.join(word for word in plain if len(word) > 1)})[\"']", text)
    found += re.findall(rf"\b(?:form|context|cards|figures|kit)\.(?:{'|'.join(plain)})\b", text)
    found += re.findall(r"[\"'](?:energy|costing)[:/][\w:/.-]+", text)
    return set(found)


def kitchens(path: Path) -> bool:
    place = name_of(path)
    return place.startswith(("kitchen/", "templates/kitchen/", "templates/pieces/")) and "/migrations/" not in place


def test_the_kitchen_names_nothing_of_the_cards_that_others_put_into_it():
    names, plain = names_of_others()
    files = [path for path in project_files() if path.suffix in {".py", ".html"} and kitchens(path)]
    assert len(files) > 200
    assert {"peak_w", "cost_per_serving", "battery_wh"} <= names
    assert {"energy", "cost", "wh"} <= plain
    found = {name_of(path): named(path.read_text("utf-8"), names, plain) for path in files}
    assert {name: words for name, words in found.items() if words - PHYSICS.get(name, set())} == {}


@pytest.mark.parametrize(
    "text",
    [
        'SORTS = {"peak_w": "lowest peak"}',
        "{% url 'energy:recipe-along' slug %}",
        '{% include "energy/pictures/sharing.html" %}',
        '{% include "pieces/field.html" with field=form.wh %}',
        "{{ plate.context.energy.total }}",
        'if headline.tone == "energy":',
        'figures["runs"]',
    ],
)
def test_a_name_of_another_app_is_seen(text):
    assert named(text, *names_of_others())
