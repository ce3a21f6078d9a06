"""Every caution names where it stands; keys never repeat; what an entry replaces is there."""

from __future__ import annotations

import re

import pytest

from energy.cautions.classes import _RULES, classes_of
from energy.cautions.entries import entries, list_number, method_words
from energy.kinds import APPLIANCE_KINDS, SOURCE_KINDS, appliance_kind, source_kind

IDS = [entry.key for entry in entries()]
BY_KEY = {entry.key: entry for entry in entries()}
AROUND = {"frost", "high", "group"}
RAISE = {*AROUND, "keep_warm"}


@pytest.mark.parametrize("entry", entries(), ids=IDS)
def test_every_source_is_named(entry):
    assert entry.document
    assert bool(entry.issuer) != (entry.document == "common practice")
    assert entry.year is None or 1990 < entry.year < 2027
    assert entry.source


@pytest.mark.parametrize("entry", [entry for entry in entries() if entry.until is None], ids=lambda entry: entry.key)
def test_todays_have_a_sentence_and_a_short_one(entry):
    assert entry.words.endswith(".")
    assert entry.short.endswith(".")
    assert len(entry.short) <= 110
    assert len(entry.short) <= len(entry.words)
    assert set(re.findall(r"{(\w+)}", entry.words + entry.short)) <= {"fill", "foam", "foods"}
    assert 0 < entry.harm <= 100


def test_keys_are_named_once_and_what_is_replaced_was_there():
    assert len(IDS) == len(set(IDS))
    for entry in entries():
        assert all(BY_KEY[key].until is not None for key in entry.replaces)
        assert entry.until is None or entry.until < list_number()


def test_every_condition_is_one_that_can_hold():
    kinds = [appliance_kind(key) for key, _ in APPLIANCE_KINDS] + [source_kind(key) for key, _ in SOURCE_KINDS]
    topics = {topic for kind in kinds for topic in kind.cautions}
    named = {topic for entry in entries() for topic in entry.appliances | entry.sources}
    assert named == topics
    assert set(method_words()) <= topics
    assert {name for entry in entries() for name in entry.around} <= AROUND
    assert {name for entry in entries() for name in entry.raised_by} <= RAISE


def test_every_class_that_is_asked_for_exists():
    lines = [
        "dried kidney beans",
        "chicken",
        "mince",
        "steak",
        "venison",
        "ham",
        "leftover turkey",
        "cod",
        "prawns",
        "mussels",
        "eggs",
        "rice",
        "milk",
        "tofu",
        "oats",
        "flour",
        "lentils",
        "tinned beans",
        "stuffing",
        "quinoa",
        "passata",
    ]
    found = {of for line in lines for of in classes_of(line)}
    assert {of for entry in entries() for of in entry.classes} == found
    assert _RULES


def test_where_two_figures_are_given_both_are_named():
    for key, figures in {
        "bean_toxin": ("30 minutes", "10 minutes"),
        "held_hot": ("60 °C", "57 °C"),
        "ham_reheated": ("74 °C", "60 °C"),
    }.items():
        assert all(figure in BY_KEY[key].words for figure in figures)
