"""Filling a vessel, and the batches that follow."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain.facts import FoodFacts, LineFacts, PartFacts
from kitchen.domain.lines import parse_line
from kitchen.domain.vessel import (
    MOST_BATCHES,
    FoodVolume,
    Vessel,
    expands,
    filling,
    food_volume,
    least_liquid_line,
    line_volume_ml,
)

POT = Vessel("4 L pot", 4000)


def line(text: str, rule: str = "proportional", food: FoodFacts | None = None) -> LineFacts:
    read = parse_line(text)
    return LineFacts(
        text, read.low, read.high, read.unit, read.name, read.note, read.size, rule=rule, to_taste=read.to_taste, food=food
    )


def parts(*lines: LineFacts, title: str = "") -> list[PartFacts]:
    return [PartFacts(title, lines)]


@given(volume_ml=st.floats(1, 1e5), capacity_ml=st.floats(200, 2e5), swells=st.booleans())
def test_the_batches_are_the_fewest_that_fit(volume_ml, capacity_ml, swells):
    volume = FoodVolume(volume_ml, expands=("rice",) if swells else ())
    found = filling(Vessel("pot", capacity_ml), volume)
    share = 1 / 2 if swells else 2 / 3
    room = share * capacity_ml * 1.02
    if found.batches is None:
        assert volume.in_batch_ml(MOST_BATCHES) > room * (1 - 1e-6)
        return
    assert volume.in_batch_ml(found.batches) <= room * (1 + 1e-6)
    assert found.batches == 1 or volume.in_batch_ml(found.batches - 1) > room * (1 - 1e-6)


@given(volume_ml=st.floats(1, 1e5), share=st.floats(0.05, 1.0))
def test_the_rim_is_never_passed(volume_ml, share):
    found = filling(Vessel("pot", 3000, fill_limit=share, foam_limit=share), FoodVolume(volume_ml))
    assert found.batches is None or found.volume.in_batch_ml(found.batches) <= 3000 * (1 + 1e-6)


def test_what_goes_into_every_batch_is_not_split():
    found = filling(Vessel("pot", 3000), FoodVolume(3000, each_ml=1000))
    assert found.batches == 3
    assert filling(Vessel("pot", 1000), FoodVolume(10, each_ml=900)).batches is None


def test_the_volume_is_that_of_what_is_in_the_pot():
    held = parts(line("600 g squash"), line("1 L water"), line("salt to taste"), line("20 g dill, to serve"))
    assert food_volume(held, Fraction(2)).shared_ml == pytest.approx(3200)
    assert food_volume(parts(line("20 g dill"), title="To finish"), Fraction(1)).shared_ml == 0


def test_a_kettle_holds_only_the_liquid():
    held = parts(line("1 L water"), line("200 g couscous"), line("1 tbsp oil"))
    assert food_volume(held, Fraction(1), liquid_only=True).shared_ml == 1000


def test_lines_follow_their_own_rule_into_the_pot():
    held = parts(line("600 g squash"), line("100 g butter, for the pan", "fixed"), line("200 mL oil for frying", "batch"))
    volume = food_volume(held, Fraction(2))
    assert (volume.shared_ml, volume.each_ml) == (1300, 200)


def test_what_has_no_volume_is_named_and_makes_it_at_least():
    volume = food_volume(parts(line("1 bunch chard"), line("5 L water"), line("1 tsp thyme", "seasoning")), Fraction(1))
    assert volume.unknown == ("chard",)


@pytest.mark.parametrize(
    ("text", "food", "volume_ml"),
    [
        ("500 g honey", FoodFacts("honey", g_per_ml=1.42), 500 / 1.42),
        ("460 g oil", FoodFacts("olive oil", g_per_ml=0.92), 500),
        ("300 g spinach", FoodFacts("spinach", g_per_ml=0.127), 300),
        ("500 mL stock", None, 500),
        ("2 kg potatoes", None, 2000),
        ("1 bunch chard", None, None),
        ("some chard", None, None),
    ],
)
def test_the_room_that_a_line_takes(text, food, volume_ml):
    assert line_volume_ml(line(text, food=food)) == (None if volume_ml is None else pytest.approx(volume_ml))


@pytest.mark.parametrize(
    ("text", "swells"),
    [
        ("300 g red lentils", True),
        ("200 g long-grain rice", True),
        ("250 g penne", True),
        ("100 g pearl barley", True),
        ("200 g dried kidney beans", True),
        ("1 tin kidney beans", False),
        ("1 can (400 g) chickpeas, drained", False),
        ("200 g green beans", False),
        ("2 tbsp rice vinegar", False),
        ("1 vanilla bean", False),
        ("200 g cooked rice", False),
        ("2 onions", False),
    ],
)
def test_what_swells_or_foams(text, swells):
    assert expands(line(text)) is swells


def test_the_aisle_says_what_swells_where_the_name_does_not():
    assert expands(line("200 g freekeh", food=FoodFacts("freekeh", aisle="grains and pasta")))


def test_what_never_fits_has_no_number_of_batches():
    fits, never = filling(POT, FoodVolume(1000)), filling(POT, FoodVolume(1e6))
    assert (fits.batches, fits.overfull, never.batches, never.overfull) == (1, False, None, True)


CLOSED = Vessel("pressure cooker", 4000, least_liquid_ml=250)


@given(k=st.fractions(Fraction(1, 50), 20), batches=st.integers(1, 8))
def test_a_closed_pot_gets_its_least_liquid_in_each_batch(k, batches):
    water, milk = line("600 mL water"), line("200 mL milk")
    raised, least_ml = least_liquid_line(parts(milk, water, line("1 kg squash")), k, batches, CLOSED)
    each_ml = 800 * k / batches
    if each_ml >= 250:
        assert raised is None
        return
    assert raised is water
    assert least_ml + 200 * k / batches == pytest.approx(250, abs=0.01)


def test_an_open_pot_and_one_without_a_least_ask_for_nothing():
    held = parts(line("100 mL water"))
    for vessel in (None, POT, Vessel("pan", 3000, least_liquid_ml=250, closed=False)):
        assert least_liquid_line(held, Fraction(1), 1, vessel) == (None, 0)
    assert least_liquid_line(parts(line("1 kg squash")), Fraction(1), 1, CLOSED) == (None, 0)
