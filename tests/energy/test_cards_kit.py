"""What the energy card answers for a reader's own kit."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

from energy import operations
from energy.cards import EnergyCard
from energy.models import Appliance
from kitchen.cards import CardRequest
from kitchen.models import Food

CARD = EnergyCard()


def ask(servings=4, **more) -> CardRequest:
    return CardRequest(servings, 4, path="/r/lentil-pot/", **more)


@pytest.fixture
def facts(run, revision, noon):
    return CARD.collect(revision, at=noon)


@pytest.fixture
def balanced(run, revision, noon):
    """The facts of a cook of 1.5 kg of water, whose temperatures were noted."""
    water = Food.objects.create(name="water", water_g=99.9, ash_g=0.1)
    line = {"low": Fraction(3, 2), "high": Fraction(3, 2), "unit": "kg", "name": "water", "food": water}
    revision.parts.get().lines.create(position=1, text="1.5 kg water", **line)
    run.ambient_c, run.food_start_c = 20.0, 15.0
    run.save()
    operations.refresh_summary(run=run)
    return CARD.collect(revision, at=noon)


def test_a_kit_limits_peak_and_charge_and_an_empty_one_nothing():
    assert CARD.kit_limits({"inverter_w": 300, "battery_wh": 500}) == {"peak_w": Decimal(300), "own_battery_wh": Decimal("450.0")}
    assert CARD.kit_limits({}) == {}
    assert CARD.kit_limits({"battery_wh": None, "price_per_kwh": Decimal(1)}) == {}


HIGH_AND_COLD = {"altitude_m": 2000.0, "ambient_c": -5.0}


def test_the_height_and_the_cold_of_a_reader_make_an_estimate(balanced):
    shown = CARD.present(balanced, ask(kit=HIGH_AND_COLD))["energy"]
    assert (shown.badge, shown.why_plain) == ("estimated", "")
    assert "93" in shown.boiling
    assert [row.words for row in shown.working.rows if row.standing == "measured"]


def test_without_a_balance_height_and_cold_change_nothing_and_that_is_said(facts):
    shown = CARD.present(facts, ask(kit=HIGH_AND_COLD))["energy"]
    assert shown.badge.startswith("measured")
    assert "cannot be said" in shown.why_plain


def test_a_panel_and_a_charger_put_it_back(facts):
    kit = {"battery_wh": 500.0, "inverter_w": 2000.0, "panel_w": 200.0, "charger_w": 100.0}
    back = CARD.present(facts, ask(kit=kit))["energy"].back
    assert ["full sun" in words for words in back] == [True, False]
    assert "75" in back[0]


def test_on_a_hook_up_there_is_nothing_to_put_back(facts):
    assert CARD.present(facts, ask())["energy"].back == ()


def test_a_weak_inverter_is_told_what_turning_down_would_do(balanced):
    said = CARD.present(balanced, ask(kit={"inverter_w": 400.0}))["energy"].turned_down
    assert "360" in said
    assert "comes to the boil" in said or "cannot get there" in said


def test_an_inverter_that_is_strong_enough_needs_no_turning_down(balanced):
    assert CARD.present(balanced, ask(kit={"inverter_w": 4000.0}))["energy"].turned_down == ""


def test_a_cooker_beside_it_is_added(facts):
    assert "beside" in CARD.present(facts, ask(kit={"beside_w": 300.0}))["energy"].beside.lower()


def test_other_means_burn_something_and_warn(balanced):
    means = CARD.present(balanced, ask())["energy"].means
    assert any("MJ/kg" in row.source for row in means.rows)
    assert "carbon monoxide" in means.caution


def test_without_a_balance_nothing_is_compared(facts):
    assert CARD.present(facts, ask())["energy"].means is None


def test_another_kind_of_cooker_is_a_published_band_up_to_the_boil(balanced):
    said = CARD.present(balanced, ask(kit={"cooker": "rice_cooker"}))["energy"].on_yours
    assert "rice cooker" in said
    assert "up to the boil, estimated" in said
    assert CARD.present(balanced, ask(kit={"cooker": "pressure_cooker"}))["energy"].on_yours == ""


def test_without_a_balance_another_kind_of_cooker_is_not_known(facts):
    assert "not known" in CARD.present(facts, ask(kit={"cooker": "rice_cooker"}))["energy"].on_yours


def test_the_same_recipe_on_another_cooker_of_the_kitchen_is_told(run, record, revision, noon):
    plate = Appliance.objects.create(name="Plate", kind="induction_plate", rated_w=1300)
    record(later=1, appliance=plate)
    told = CARD.present(CARD.collect(revision, at=noon), ask())["energy"].elsewhere
    assert len(told) == 1
    assert told[0].startswith("On ")
