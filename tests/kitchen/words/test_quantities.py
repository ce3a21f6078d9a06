"""What a cook reads beside a field whose quantity is not understood."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain import technical_units
from kitchen.domain.typed_quantity import Expected, NotUnderstood, read_quantity
from kitchen.words import ENGLISH
from kitchen.words.english import SENTENCES
from kitchen.words.quantities import SAME, quantity_refusal

REFUSED = [
    (
        "W",
        "many",
        "“many” is not a number. A number from -1,000,000 to 9,000,000 W is needed here. 1.2 kW and 1200 mean the same.",
    ),
    ("W", "3 kg", "“3 kg” is a weight, and a power is needed here: 1.2 kW and 1200 mean the same."),
    ("W", "1 kWh", "“1 kWh” is an energy, and a power is needed here"),
    ("Wh", "12 V x 64 A", "“12 V x 64 A” is a power, and an energy is needed here"),
    ("Wh", "12 V x 3 kg", "“12 V x 3 kg” is a voltage, and an energy is needed here"),
    ("Wh", "5 parsec", "“5 parsec”: “parsec” is no unit that is known here: 1.02 kWh and 1020 mean the same."),
    ("Wh", "2 - 3 kWh", "“2 - 3 kWh” is a range. Type one number."),
    ("Wh", "2–3", "is a range"),
    ("Wh", "2 to 3 kWh", "is a range"),
    ("Wh", "1 2", "“1 2” is more than one number"),
    ("Wh", "1020 000", "“1020 000” is not a number."),
    ("Wh", "1/0", "“1/0” is not a number."),
    ("Wh", "1e999", "no unit that is known here"),
    ("Wh", "9e99", "“9e99” is not a number."),
    ("Wh", "__import__('os')", "is not a number"),
    ("Wh", "2**9999", "no unit that is known"),
    ("Wh", "100 GWh", "“100 GWh” is 100,000,000,000 Wh. A number from -1,000,000 to 9,000,000 Wh is needed here."),
    ("Wh", "1 mwh", "no unit that is known here"),
    ("L", "3 lb", "“3 lb” is a weight, and a volume is needed here: 750 mL and 0.75 mean the same."),
    ("°C", "2 x 40 °F", "is more than one number"),
    ("°C", "40 °F 3 °C", "is more than one number"),
    ("min", "20 min 1 h", "is more than one number"),
    ("m", "3 m 2", "“3 m 2” is more than one number: 1.5 km and 1500 mean the same."),
    ("", "4 kg", "“4 kg” is a weight, and a plain number is needed here. Type digits, like 8."),
    ("", "nan", "“nan” is not a number. A number from -1,000,000 to 9,000,000 is needed here."),
]


def expected(unit):
    return Expected(unit, -1_000_000, 9_000_000)


def refusal(typed, asked):
    with pytest.raises(NotUnderstood) as refused:
        read_quantity(typed, asked)
    return quantity_refusal(refused.value, ENGLISH)


@pytest.mark.parametrize(("unit", "typed", "words"), REFUSED)
def test_what_is_no_such_quantity_is_refused_in_words(unit, typed, words):
    assert words in refusal(typed, expected(unit))


def test_the_ends_are_told():
    kilowatts = refusal("30 kW", Expected("W", 1, 20_000))
    assert kilowatts == "“30 kW” is 30,000 W. A number from 1 to 20,000 W is needed here."
    assert refusal("0", Expected("L", 0, 200, above_low=True)) == "A number above 0 up to 200 L is needed here."
    assert refusal("noon", Expected("min", -math.inf, math.inf)) == (
        "“noon” is not a number. Type digits, like 12. 1 h 20 and 80 mean the same."
    )


def test_the_places_are_told():
    assert refusal("176.66", Expected("°C", -60, 600, places=1)) == "Type at most 1 digits after the point."
    assert refusal("1.5", Expected("days", 0, 60, places=0)) == "Type a whole number."


def test_both_readings_of_a_comma_are_told():
    assert refusal("1,234 Wh", expected("Wh")) == "“1,234 Wh” can be read in two ways. Type “1234 Wh” or “1.234 Wh”."


@pytest.mark.parametrize("unit", SAME)
def test_an_example_says_one_amount_in_two_ways(unit):
    first, second = SAME[unit].split(" and ")
    assert read_quantity(first, expected(unit)).exact == read_quantity(second, expected(unit)).exact
    assert "" not in (first, second)


def test_every_dimension_has_words():
    dimensions = {measure.dimension for measure in technical_units._ALL.values()} | {"mass", "volume", "none"}
    assert {code.removeprefix("kind_") for code in SENTENCES if code.startswith("kind_")} == dimensions


@given(st.sampled_from([*SAME, ""]), st.text(max_size=90))
def test_whatever_is_typed_is_answered_with_a_sentence(unit, typed):
    try:
        read_quantity(typed, expected(unit))
    except NotUnderstood as refused:
        sentence = quantity_refusal(refused, ENGLISH)
        if not sentence.endswith(".") or "no words for" in sentence:
            pytest.fail(sentence)
