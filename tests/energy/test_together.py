"""What the energy card says of several recipes together: sums as ranges, the least of more, charges on the source asked for."""

import pytest

from energy.cards import EnergyCard
from energy.models import PowerSource, Run
from kitchen.cards import CardRequest, Dish
from kitchen.queries import newest_revision

pytestmark = pytest.mark.django_db


@pytest.fixture
def cooked(run, noon):
    """Return the prepared energy of the cook of 213 Wh for so many servings, on a kit."""
    card = EnergyCard()
    held = card.read(card.collect(newest_revision(run.revision.recipe), at=noon))
    return lambda servings=4, **kit: card.prepare(held, CardRequest(servings, 4, kit=kit))


def together(*dishes, **kit):
    return EnergyCard().together([Dish(title, meal, CardRequest(4, 4)) for title, meal in dishes], CardRequest(1, 1, kit=kit))


def test_measured_cooks_add_up_with_their_uncertainty(cooked):
    one, two = together(("Pot", cooked())), together(("Pot", cooked()), ("Pot again", cooked()))
    assert two.lacks == ()
    for end in ("low", "high"):
        assert two.figures["energy_wh"][end] == pytest.approx(2 * one.figures["energy_wh"][end], abs=0.2)
    assert two.figures["energy_wh"]["low"] < 426 < two.figures["energy_wh"]["high"]
    assert two.figures["total_min"] == {"low": 62, "high": 62, "at_least": False, "about": False}


def test_a_recipe_that_nobody_measured_makes_it_at_least_and_is_named(cooked):
    found = together(("Pot", cooked()), ("Raw salad", None))
    assert found.headlines[0].value.startswith("at least")
    assert found.headlines[1].value.startswith("at least")
    assert found.figures["energy_wh"]["high"] is None
    assert len([words for words in found.lacks if "Raw salad" in words]) == 2
    assert "at least 1 charge" in found.answer.words[0]
    assert "“Raw salad” may be the first that does not fit" in found.answer.words[1]


def test_meals_fill_the_readers_battery_in_their_order(cooked):
    """213 Wh through 88 % and 10 W for 31 min are about 247 Wh; 650 Wh hold 585 above the reserve: two, and no third."""
    kit = {"battery_wh": 650.0, "inverter_w": 1000.0}
    found = together(*((name, cooked(**kit)) for name in ("First", "Second", "Third")), **kit)
    assert found.answer.words[0].startswith("All of it takes 2 charges of 650\u00a0Wh (your battery)")
    assert "“Third” is the first that does not fit" in found.answer.words[1]
    assert [words.rpartition(", ")[2] for words in found.meals] == ["charge 1", "charge 1", "charge 2"]
    assert found.answer.kit.startswith("your 650")


def test_an_inverter_that_is_too_small_is_said_first(cooked):
    kit = {"battery_wh": 2000.0, "inverter_w": 300.0}
    found = together(("Pot", cooked(**kit)), **kit)
    assert not found.answer.sound
    assert found.answer.words[0].startswith("Pot: ")


def test_without_a_kit_all_are_counted_on_one_battery_whatever_they_were_measured_on(cooked, record, noon):
    mains = PowerSource.objects.create(name="Hut socket", kind="mains", continuous_w=2300, volts=230, amps=10)
    Run.objects.update(source=mains)
    card = EnergyCard()
    on_mains = card.prepare(
        card.read(card.collect(newest_revision(Run.objects.get().revision.recipe), at=noon)), CardRequest(4, 4)
    )
    found = together(("Hut pot", on_mains), ("Van pot", cooked()))
    assert "Van battery" in found.answer.words[0]
    assert all("of a charge" in words for words in found.meals)
    assert together(("Hut pot", on_mains)).answer is None
