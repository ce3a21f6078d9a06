"""On any page the facts of an edition are read once, and a meal is worked out once, whoever of the apps asks for it."""

from __future__ import annotations

import json
from collections import Counter
from decimal import Decimal

import pytest

from costing.domain.facts import CostFacts
from energy.estimates.domain import meal
from energy.facts import EnergyFacts
from energy.models import PowerSource, Run
from energy.runs.domain.samples import Sample
from energy.runs.operations.recording import record_run
from energy.runs.operations.typed import RunDetails, StageStart, TypedRows
from kitchen.domain import record
from kitchen.domain.facts import RecipeFacts
from kitchen.models import Recipe
from kitchen.operations import pair_side, publish_recipe
from kitchen.views import public
from tests.house.bench_of_everything import addresses, furnish
from tests.kitchen.desk import write_pot

pytestmark = pytest.mark.any_engine

OWN_KIT = "battery_wh=500&inverter_w=300&altitude_m=2000&ambient_c=-3&price_per_kwh=0.5&cooker=rice_cooker"
# Each page kind, and which records it reads at all; a scaled page, and one for a reader's kit, are worked out from the same.
ALL = {"RecipeFacts", "EnergyFacts", "CostFacts"}
PAGES = {
    "/": set(),
    "/kit/?battery_wh=500": set(),
    "/r/{slug}/": ALL,
    "/r/{slug}/for-8/": ALL,
    "/r/{slug}/for-40/?measures=metric": ALL,
    "/r/{slug}/?vessel=2": ALL,
    "/r/{slug}/?portion=1.5": ALL,
    "/r/{slug}/?" + OWN_KIT: ALL,
    "/r/{slug}/for-8/?altitude_m=2000": ALL,
    "/r/{slug}/?for=none": ALL,
    "/r/{slug}/?for=8": {"RecipeFacts"},
    "/r/{slug}/editions/": {"RecipeFacts"},
    "/r/{slug}/editions/1/": {"RecipeFacts", "CostFacts"},
    "/r/{slug}/editions/2/": ALL,
    "/r/{slug}/runs/": {"EnergyFacts"},
    "/r/{slug}/card.pdf": ALL,
    "/r/{slug}/card.pdf?for=8&" + OWN_KIT: ALL,
    "/r/{slug}/card.png": ALL,
    "/bench/recipes/{slug}/": set(),
    "/bench/recipes/{slug}/draft/": ALL,
    "/bench/recipes/{slug}/draft/?for=8&" + OWN_KIT: ALL,
    "/bench/recipes/{slug}/publish/": ALL,
    "/bench/": {"CostFacts"},
}

HOLD_MANY = {"kitchen:feed", "kitchen:tag-feed", "kitchen:cook-feed", "kitchen:collection-feed"}
"""Addresses that hold several editions, of which two may say the same."""


@pytest.fixture
def kitchen(owner, other_cook, noon, settings, tmp_path):
    """A recipe with three editions, the last two measured, several sources to cook on, and a measured and priced side."""
    settings.MEDIA_ROOT = tmp_path
    found = furnish(owner, other_cook, noon)
    PowerSource.objects.create(name="Post", kind="hook_up", volts=230, amps=10)
    side = write_pot(owner, noon)
    gear = Run.objects.get()
    publish(cook(side, gear, 1.0), owner, noon)
    pair_side(main=found.recipe, side=side, portions=Decimal("0.5"), at=noon)
    publish(cook(found.recipe, gear, 1.1), owner, noon)
    Recipe.objects.filter(pk=found.recipe.pk).update(summary="Thicker than it was.")
    publish(found.recipe, owner, noon)
    assert Recipe.objects.get(pk=found.recipe.pk).current_edition.number == 3
    return found


def cook(recipe, like, grown):
    """Record a cook as another one was recorded, and return the recipe."""
    record_run(
        details=RunDetails(
            recipe.revisions.get(), like.appliance, like.source, like.meter, started_at=like.started_at, servings=4
        ),
        rows=TypedRows(
            [Sample(minute * 60, wh * grown) for minute, wh in ((0, 0), (10, 100), (31, 200))],
            [StageStart(0, "brown"), StageStart(600, "come_up")],
        ),
        operator=like.operator,
        at=like.started_at,
    )
    return recipe


def publish(recipe, owner, at):
    publish_recipe(recipe=recipe, revision=recipe.revisions.get(), by=owner, at=at)


@pytest.fixture
def counted(monkeypatch):
    """Which facts are read, by their kind and by what they say, and which meals are worked out, while a page is made."""
    reads, meals = Counter(), Counter()
    read, estimate = record.read, meal.estimate

    def reading(shape, data):
        if shape in (RecipeFacts, EnergyFacts, CostFacts):
            reads[shape.__name__, json.dumps(data, sort_keys=True)] += 1
        return read(shape, data)

    def estimating(facts, servings, **more):
        meals[facts.runs[0].day, facts.energy_wh, servings, *map(str, more.values())] += 1
        return estimate(facts, servings, **more)

    monkeypatch.setattr(record, "read", reading)
    monkeypatch.setattr(meal, "estimate", estimating)
    return reads, meals


def repeated(counted):
    """What was done more than once, in few words."""
    reads, meals = counted
    told = [f"{kind} read {times} times" for (kind, _), times in reads.items() if times > 1]
    return told + [f"a meal for {made[2]} worked out {times} times" for made, times in meals.items() if times > 1]


@pytest.mark.parametrize("page", PAGES)
def test_a_page_reads_its_facts_once_and_works_out_a_meal_once(page, kitchen, owner_client, counted, monkeypatch):
    monkeypatch.setattr(public, "print_cards", lambda cards, **_: b"")
    answer = owner_client.get(page.format(slug=kitchen.recipe.slug))
    assert answer.status_code == (302 if page.endswith("?for=8") else 400 if page.endswith("for=none") else 200)
    assert repeated(counted) == []
    assert {kind for kind, _ in counted[0]} >= PAGES[page]


def test_no_named_address_reads_anything_twice(kitchen, owner_client, counted, monkeypatch):
    monkeypatch.setattr(public, "print_cards", lambda cards, **_: b"")
    for address in (one for one in addresses(kitchen) if one.name not in HOLD_MANY):
        owner_client.get(address.path)
        assert repeated(counted) == [], address
        for counter in counted:
            counter.clear()
