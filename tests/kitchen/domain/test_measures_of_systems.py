"""Every unit in every way of measuring and of rounding: within 5 % or said, in spoons that exist, never out of order."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain.facts import FoodFacts
from kitchen.domain.foods import g_per_ml
from kitchen.domain.measures import kitchen_measure
from kitchen.domain.rounding import MOST_ERROR
from kitchen.domain.steps import STYLES
from kitchen.domain.systems import SYSTEMS
from kitchen.domain.units import UNITS, convert, to_base

FLOUR = FoodFacts("plain flour", g_per_ml=0.5284)
MILK = FoodFacts("whole milk", g_per_ml=1.0313)
SALT = FoodFacts("salt", g_per_ml=1.2342)
SIZED = sorted(key for key, unit in UNITS.items() if unit.dimension in ("mass", "volume"))
amounts = st.fractions(min_value=Fraction(1, 1000), max_value=20000, max_denominator=1000)
units, styles, systems = st.sampled_from(SIZED), st.sampled_from(sorted(STYLES)), st.sampled_from(sorted(SYSTEMS))
foods = st.sampled_from([None, FLOUR, MILK, SALT])

METRIC = {"g", "kg", "mL", "L"}
IN_ROUGH = {"pinch", "dash"}
EXISTING = {
    "metric": METRIC | {"tsp_metric", "tbsp_metric"} | IN_ROUGH,
    "uk": METRIC | {"tsp_metric", "dsp", "tbsp_metric"} | IN_ROUGH,
    "au": METRIC | {"tsp_metric", "tbsp_au", "cup_metric"} | IN_ROUGH,
    "us": {"lb", "oz", "tsp", "tbsp", "cup", "pint", "quart", "gallon"} | IN_ROUGH,
}
# The fractions of which spoons and cups are sold or marked, and an eighth of a teaspoon from the published table.
FRACTIONS = {
    "tsp": (8,),
    "tsp_metric": (8,),
    "tbsp": (2,),
    "tbsp_metric": (2,),
    "tbsp_au": (2,),
    "cup": (3, 4),
    "cup_metric": (3, 4),
    "dsp": (1,),
    "quart": (1,),
    "gallon": (1,),
    "pint": (1,),
    "lb": (1,),
    "pinch": (2,),
    "dash": (2,),
    "oz": (8,),
}


def in_base(parts, food):
    """Return what the printed parts hold in mL, or in g; a weight of flour counts as the volume that it came from."""
    total = sum((to_base(number, key)[0] for number, key in parts), Fraction(0))
    return total, to_base(Fraction(1), parts[0][1])[1]


@given(amounts, units, styles, systems, foods)
def test_no_error_above_five_per_cent_that_is_not_said(amount, unit, style, system, food):
    shown = kitchen_measure(amount, unit, style, system, food)
    exact, kind = to_base(amount, unit)
    rounded, shown_kind = in_base(shown.parts, food)
    density = Fraction(g_per_ml(food) or 1).limit_denominator(10000)
    if (kind, shown_kind) == ("mL", "g"):
        rounded /= density
    elif (kind, shown_kind) == ("g", "mL"):
        rounded *= density
    error = abs(rounded - exact) / exact
    assert error <= MOST_ERROR or shown.coarse
    assert float(100 * error) == pytest.approx(abs(shown.error_pct), abs=0.006)
    assert shown.text
    assert all(number > 0 for number, _ in shown.parts)


@given(amounts, units, styles, st.sampled_from(sorted(EXISTING)), foods)
def test_what_is_printed_are_measures_of_that_kitchen(amount, unit, style, system, food):
    for number, key in kitchen_measure(amount, unit, style, system, food).parts:
        assert key in EXISTING[system]
        if key in FRACTIONS:
            assert any(limit % number.denominator == 0 for limit in FRACTIONS[key]), (number, key)


@given(amounts, amounts, units, styles, systems)
def test_more_never_comes_out_as_less(one, other, unit, style, system):
    """Within one kind of measure; a spoon that gives way to the scale starts again."""
    shown = [kitchen_measure(amount, unit, style, system) for amount in sorted((one, other))]
    (less, less_kind), (more, more_kind) = (in_base(measure.parts, None) for measure in shown)
    assert less_kind == more_kind
    if {key for _, key in shown[0].parts} & METRIC == {key for _, key in shown[1].parts} & METRIC:
        assert less <= more


@given(st.fractions(min_value=Fraction(1, 20), max_value=500, max_denominator=60), st.sampled_from([None, 40.0, 110.0]))
def test_more_things_never_come_out_as_fewer(amount, g_per_each):
    food = FoodFacts("thing", g_per_each=g_per_each, each_name="medium")
    steps = [kitchen_measure(amount * grown, "", food=food).parts[0][0] for grown in (1, Fraction(101, 100), Fraction(11, 10), 2)]
    assert steps == sorted(steps)


@given(amounts, units, units)
def test_conversion_there_and_back_is_exact(amount, start, end):
    if UNITS[start].dimension == UNITS[end].dimension:
        assert convert(convert(amount, start, end), end, start) == amount


@pytest.mark.parametrize("system", ["metric", "uk"])
@pytest.mark.parametrize(
    ("amount", "unit", "food", "text"),
    [
        ("3", "tbsp", None, "3 tbsp"),
        ("1/8", "tsp", None, "⅛ tsp"),
        ("4", "tbsp", MILK, "59 mL"),
        ("3", "tbsp_au", MILK, "60 mL"),
        ("2", "tbsp_au", None, "2 tbsp 2 tsp"),
        ("1", "cup", FLOUR, "125 g"),
        ("1", "pint_imp", MILK, "570 mL"),
        ("1", "pint", MILK, "475 mL"),
        ("8", "oz", None, "225 g"),
        ("5", "mL", None, "5 mL"),
        ("2", "pinch", None, "2 pinches"),
    ],
)
def test_metric_and_british_readers_weigh_and_keep_their_spoons(system, amount, unit, food, text):
    assert kitchen_measure(Fraction(amount), unit, "school", system, food).text == text


@pytest.mark.parametrize(
    ("amount", "unit", "text"), [("1", "dsp", "1 dsp"), ("2", "tsp", "2 tsp"), ("10", "mL", "10 mL"), ("2/3", "tbsp", "1 dsp")]
)
def test_a_dessertspoon_stands_in_britain(amount, unit, text):
    assert kitchen_measure(Fraction(amount), unit, "school", "uk").text == text


@pytest.mark.parametrize(
    ("amount", "unit", "text"),
    [
        ("1", "tsp", "1 tsp"),
        ("1", "tbsp", "3 tsp"),
        ("2", "tbsp", "1½ tbsp"),
        ("4", "tbsp", "3 tbsp"),
        ("1/4", "cup", "3 tbsp"),
        ("1/3", "cup", "¼ cup 1 tbsp"),
        ("1/3", "cup_metric", "⅓ cup"),
        ("1", "cup", "¾ cup 2½ tbsp"),
        ("2", "cup", "1¾ cups 2 tbsp"),
        ("1", "cup_metric", "1 cup"),
        ("1/2", "cup_metric", "½ cup"),
        ("2", "tbsp_au", "2 tbsp"),
        ("15", "mL", "3 tsp"),
        ("250", "mL", "250 mL"),
        ("1", "quart", "3¾ cups"),
        ("5", "cup", "1.2 L"),
        ("500", "g", "500 g"),
        ("1", "lb", "455 g"),
    ],
)
def test_australian_spoons_and_cups(amount, unit, text):
    assert kitchen_measure(Fraction(amount), unit, "school", "au", FLOUR).text == text


@pytest.mark.parametrize(
    ("amount", "unit", "text"),
    [
        ("2", "tbsp_au", "2 tbsp 2 tsp"),
        ("1", "cup_metric", "1 cup 1 tbsp"),
        ("1", "dsp", "2 tsp"),
        ("1", "pint_imp", "2⅓ cups"),
    ],
)
def test_an_american_reads_other_kitchens_spoons(amount, unit, text):
    assert kitchen_measure(Fraction(amount), unit, "school", "us").text == text


def test_a_spoon_is_a_spoon_and_its_exact_words_say_so():
    shown = kitchen_measure(Fraction(2), "tbsp", "school", "metric")
    assert (shown.text, shown.exact_text, shown.coarse) == ("2 tbsp", "2 tbsp", False)
    assert shown.error_pct == pytest.approx(1.44, abs=0.01)


def test_the_cooks_own_large_spoon_is_named_where_nobody_chose_measures():
    assert kitchen_measure(Fraction(3), "tbsp_au").text == "3 Australian tbsp"
    assert kitchen_measure(Fraction(3), "tbsp_au", system="au").text == "3 tbsp"
