"""What people type beside a field with a unit, against the definitions of the units.

Definitions: NIST Special Publication 811 (2008), appendix B.8 (foot, inch, mile, pound, ounce, gallon, quart, psi, atmosphere,
inch and millimetre of mercury, thermochemical calorie, watt-hour, degree Fahrenheit); BIPM, The International System of Units,
9th edition, table 8 (minute, hour, day) and prefixes; UK Weights and Measures Act 1985 (imperial gallon).
"""

from __future__ import annotations

from contextlib import suppress
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain import technical_units
from kitchen.domain.remark import remark
from kitchen.domain.technical_units import converted, meant_by, measure_of
from kitchen.domain.typed_quantity import (
    MOST_CHARACTERS,
    Expected,
    Habits,
    NotANumber,
    NotUnderstood,
    TwoReadings,
    read_quantity,
)
from kitchen.domain.units import by_pint

LB, OZ, INCH, FOOT = 453.59237, 28.349523125, 0.0254, 0.3048  # g, g, m, m
GALLON, IMPERIAL_GALLON = 3.785411784, 4.54609  # L
PSI = 0.45359237 * 9.80665 / INCH**2 / 1000  # kPa

READ = {
    "Wh": [
        ("1020", 1020),
        ("1020 Wh", 1020),
        ("1020Wh", 1020),
        ("1.02 kWh", 1020),
        ("1,02 kWh", 1020),
        ("1.02kwh", 1020),
        ("1.02 KWH", 1020),
        ("0,725 kWh", 725),
        ("0.001 MWh", 1000),
        ("500 mWh", 0.5),
        ("1 020", 1020),
        ("1\u202f020 Wh", 1020),
        ("1'020", 1020),
        ("1,234,567", 1234567),
        ("1,234.5", 1234.5),
        ("1.234,5", 1234.5),
        ("12345,678", 12345.678),
        ("1e3", 1000),
        ("12.", 12),
        (".5 kWh", 500),
        ("½ kWh", 500),
        ("1 1/2 kWh", 1500),
        ("3.6 MJ", 1000),
        ("3600 kJ", 1000),
        ("7200 J", 2),
        ("60 W min", 1),
        ("1 kcal", 4184 / 3600),
        ("12 V x 64 Ah", 768),
        ("12V 64Ah", 768),
        ("12Vx64Ah", 768),
        ("64 Ah × 12.8 V", 819.2),
        ("12 V * 100 Ah", 1200),
        ("3.7 V x 26,8 Ah", 99.16),
        ("3.7 V 20000 mAh", 74),
        ("700 W x 2 h", 1400),
        ("90 min x 1.2 kW", 1800),
        ("2 x 512 Wh", 1024),
        ("512 Wh x 2", 1024),
        ("1.5 kilowatt-hours", 1500),
        ("250 watt hours", 250),
    ],
    "kWh": [("1.5", 1.5), ("1500 Wh", 1.5), ("1.5 MWh", 1500), ("3.6 MJ", 1)],
    "W": [
        ("1200", 1200),
        ("1.2 kW", 1200),
        ("1,2 kw", 1200),
        ("1200 watts", 1200),
        ("500 mW", 0.5),
        ("-2 x 100 W", -200),
        ("0.001 MW", 1000),
        ("2 x 100 W", 200),
        ("230 V x 10 A", 2300),
        ("12 V 20 A", 240),
        ("−5", -5),
        ("+5 W", 5),
    ],
    "V": [("230", 230), ("230 V", 230), ("0.23 kV", 230), ("12000 mV", 12), ("12 volts", 12)],
    "A": [("16", 16), ("16 A", 16), ("500 mA", 0.5), ("10 amps", 10)],
    "L": [
        ("6", 6),
        ("6 L", 6),
        ("6 qt", 6 * GALLON / 4),
        ("6 quarts", 6 * GALLON / 4),
        ("2.6 gal", 2.6 * GALLON),
        ("750 mL", 0.75),
        ("750 ml", 0.75),
        ("75 cl", 0.75),
        ("1 pint", GALLON / 8),
        ("1 imperial pint", IMPERIAL_GALLON / 8),
        ("1 imperial gallon", IMPERIAL_GALLON),
        ("1 gal 2 qt", 1.5 * GALLON),
        ("6 litres", 6),
    ],
    "mL": [
        ("240", 240),
        ("0.5 L", 500),
        ("2 cups", GALLON / 8 * 1000),
        ("1 tbsp", GALLON / 256 * 1000),
        ("8 fl oz", GALLON * 62.5),
    ],
    "g": [
        ("500", 500),
        ("1.2 kg", 1200),
        ("1.2kg", 1200),
        ("3 lb", 3 * LB),
        ("3 lb 4 oz", 3 * LB + 4 * OZ),
        ("3lb4oz", 3 * LB + 4 * OZ),
        ("3 lb, 4 oz", 3 * LB + 4 * OZ),
        ("3 lb and 4 oz", 3 * LB + 4 * OZ),
        ("3 lb 4", 3 * LB + 4 * OZ),
        ("1½ lb", 1.5 * LB),
        ("1 1/2 lb", 1.5 * LB),
        ("8 oz", 8 * OZ),
        ("2 x 500 g", 1000),
        ("250 mg", 0.25),
        ("1 kg 200 g", 1200),
    ],
    "kg": [("0.8", 0.8), ("800 g", 0.8), ("2 lb", 2 * LB / 1000), ("1 lb 8 oz", 1.5 * LB / 1000)],
    "mg": [("393", 393), ("1.5 g", 1500)],
    "m": [
        ("1500", 1500),
        ("6500 ft", 6500 * FOOT),
        ("6,500 ft", 6500 * FOOT),
        ("6 500 feet", 6500 * FOOT),
        ("1.5 km", 1500),
        ("1 mi", 1609.344),
        ("100 yd", 91.44),
        ("5 ft 11 in", 71 * INCH),
        ("5' 11\"", 71 * INCH),
        ("6 ft 6", 78 * INCH),
        ("−12 m", -12),
        ("-100 ft", -100 * FOOT),
    ],
    "°C": [
        ("20", 20),
        ("20 °C", 20),
        ("20C", 20),
        ("40 °F", 40 / 9),
        ("40F", 40 / 9),
        ("40 f", 40 / 9),
        ("40 deg F", 40 / 9),
        ("40 º F", 40 / 9),
        ("32 °F", 0),
        ("212 fahrenheit", 100),
        ("-40 °F", -40),
        ("−4 °F", -20),
        ("300 K", 26.85),
        ("9,5", 9.5),
    ],
    "min": [
        ("80", 80),
        ("80 min", 80),
        ("1 h 20", 80),
        ("1h20", 80),
        ("1 h 20 min", 80),
        ("1h 20m", 80),
        ("1 hr 20 mins", 80),
        ("1 hour and 20 minutes", 80),
        ("2 h", 120),
        ("1½ h", 90),
        ("90 s", 1.5),
        ("12 min 30 s", 12.5),
        ("12 min 30", 12.5),
        ("1 day", 1440),
    ],
    "kPa": [
        ("70", 70),
        ("10 psi", 10 * PSI),
        ("15 psi", 15 * PSI),
        ("0.7 bar", 70),
        ("700 mbar", 70),
        ("700 hPa", 70),
        ("1 atm", 101.325),
        ("1 inHg", 3.386389),
        ("100 mmHg", 13.33224),
    ],
    "kcal": [("100", 100), ("418.4 kJ", 100), ("1 MJ", 1000 / 4.184), ("100 kcal", 100)],
    "%": [("88", 88), ("88 %", 88), ("88%", 88), ("88 percent", 88), ("12,5 %", 12.5)],
    "g/mL": [("0.92", 0.92), ("920 g/L", 0.92), ("0.92 kg/L", 0.92)],
    "g/kWh": [("400", 400), ("0.4 kg/kWh", 400), ("881.85 lb/MWh", 881.85 * LB / 1000)],
    "days": [("30", 30), ("30 days", 30), ("2 weeks", 14)],
    "months": [("24", 24), ("2 years", 24)],
    "": [("4", 4), ("2,5", 2.5), ("1e1", 10)],
}
ROWS = [(unit, typed, value) for unit, rows in READ.items() for typed, value in rows]

REFUSED = [
    ("W", "many", "not_a_number"),
    ("W", "3 kg", "other_kind"),
    ("W", "1 kWh", "other_kind"),
    ("Wh", "12 V x 64 A", "other_kind"),
    ("Wh", "12 V x 3 kg", "other_kind"),
    ("Wh", "5 parsec", "unknown_unit"),
    ("Wh", "2 - 3 kWh", "a_range"),
    ("Wh", "2–3", "a_range"),
    ("Wh", "2 to 3 kWh", "a_range"),
    ("Wh", "1 2", "more_than_one_number"),
    ("Wh", "1020 000", "not_a_number"),
    ("Wh", "1/0", "not_a_number"),
    ("Wh", "1e999", "unknown_unit"),
    ("Wh", "9e99", "not_a_number"),
    ("Wh", "__import__('os')", "not_a_number"),
    ("Wh", "2**9999", "unknown_unit"),
    ("Wh", "100 GWh", "means_out_of_range"),
    ("Wh", "1 mwh", "unknown_unit"),
    ("L", "3 lb", "other_kind"),
    ("°C", "2 x 40 °F", "more_than_one_number"),
    ("°C", "40 °F 3 °C", "more_than_one_number"),
    ("min", "20 min 1 h", "more_than_one_number"),
    ("m", "3 m 2", "more_than_one_number"),
    ("", "4 kg", "other_kind"),
    ("", "nan", "not_a_number"),
]


def read(unit, typed, **more):
    return read_quantity(typed, Expected(unit, -1_000_000, 9_000_000, **more))


@pytest.mark.parametrize(("unit", "typed", "value"), ROWS)
def test_what_is_typed_is_read_by_the_definitions(unit, typed, value):
    accuracy = 1e-6 if "Hg" in typed else 1e-12  # the publication gives mercury with seven figures
    assert float(read(unit, typed).exact) == pytest.approx(value, rel=accuracy, abs=1e-12)


def test_the_table_is_long_enough():
    assert len(ROWS) >= 120


@pytest.mark.parametrize(("unit", "typed", "code"), REFUSED)
def test_what_is_no_such_quantity_is_refused(unit, typed, code):
    with pytest.raises(NotUnderstood) as refusal:
        read(unit, typed)
    assert (refusal.value.said.code, refusal.value.said.values["typed"]) == (code, typed)


def test_what_is_of_another_kind_says_of_which():
    with pytest.raises(NotUnderstood) as refusal:
        read("W", "3 kg")
    assert refusal.value.said == remark("other_kind", typed="3 kg", dimension="mass")


@pytest.mark.parametrize("typed", ["1,234", "1,234 Wh", "1,234 kWh", "12 V x 1,234 Ah"])
def test_a_comma_on_which_energy_depends_is_asked(typed):
    with pytest.raises(TwoReadings) as refusal:
        read("Wh", typed)
    joined, pointed = typed.replace(",", ""), typed.replace(",", ".")
    assert refusal.value.said == remark("two_readings", typed=typed, joined=joined, pointed=pointed)
    for unit in ("W", "kWh"):
        with pytest.raises(TwoReadings):
            read(unit, "1,234")
    with pytest.raises(TwoReadings):
        read("", "1,234", asked=True)


def test_elsewhere_the_site_decides_and_it_is_said():
    metres = Expected("m", -430, 5500)
    assert read_quantity("1,500", metres).words == "1,500 m"
    assert read_quantity("1,500", metres, lambda: Habits(comma_parts=False)).words == "1.5 m"
    assert read_quantity("2,000 ft", metres, lambda: Habits(comma_parts=False)).words == "0.6096 m"


def test_a_pint_is_the_sites_own():
    litres = Expected("L", 0, 200)
    assert read_quantity("1 pint", litres, lambda: Habits(home="uk")).exact == Fraction("0.56826125")
    assert read_quantity("1 gal", litres, lambda: Habits(home="uk")).exact == Fraction("4.54609")
    assert read_quantity("1 imperial pint", litres, lambda: Habits(home="us")).exact == Fraction("0.56826125")


def test_the_sites_habits_are_asked_only_where_they_matter():
    def never():
        raise AssertionError("asked")

    for typed in ("1020", "1.02 kWh", "0,725 kWh", "1,234.5", "12 V x 64 Ah"):
        assert read_quantity(typed, Expected("Wh", 0, 1e6), never).exact > 0


def test_only_what_was_typed_otherwise_is_said_again():
    said = [read("g", typed).words for typed in ("500", "500 g", "12,5", "1.2 kg", "1,200", "3 lb 4 oz")]
    assert said == ["", "", "", "1,200 g", "1,200 g", "1,474.18 g"]


def test_what_is_converted_is_rounded_to_the_field_and_what_is_bare_is_not():
    temperature = Expected("°C", -60, 600, places=1)
    assert read_quantity("350 °F", temperature).kept == Fraction("176.7")
    with pytest.raises(NotUnderstood) as refusal:
        read_quantity("176.66", temperature)
    assert refusal.value.said == remark("too_many_places", places=1)
    assert read_quantity("6,500 ft", Expected("m", -430, 5500, places=0)).kept == 1981


def test_the_ends_hold_for_what_was_converted():
    with pytest.raises(NotUnderstood) as refusal:
        read_quantity("30 kW", Expected("W", 1, 20_000))
    assert refusal.value.said == remark("means_out_of_range", typed="30 kW", words="30,000 W")
    with pytest.raises(NotUnderstood, match="out_of_range"):
        read_quantity("0 qt", Expected("L", 0, 200, above_low=True))


NUMBERS = st.decimals(min_value=0, max_value=10**6, places=3).map(lambda number: f"{number:f}")
WORDS = st.sampled_from([*technical_units._BY_WORD, "lb", "qt", "cup", "x", "-", ",", "and", "½", "/", "e9", "\0", "😀", "%s"])
OWN = {unit for unit, *_ in ROWS if unit}
UNITS = st.sampled_from(sorted(OWN | {""}))


@given(UNITS, st.one_of(st.text(max_size=90), st.lists(st.one_of(NUMBERS, WORDS), max_size=8).map(" ".join)))
def test_nothing_that_is_typed_ends_in_anything_but_a_quantity_or_a_refusal(unit, typed):
    kept = None
    with suppress(NotUnderstood):
        kept = read(unit, typed).kept
    assert kept is None or -1_000_000 <= kept <= 9_000_000


@given(st.sampled_from(sorted(technical_units._ALL)), st.sampled_from(sorted(technical_units._ALL)), NUMBERS)
def test_there_and_back_is_exact_and_pint_says_the_same(first, second, number):
    one, other = measure_of(first), measure_of(second)
    amount = Fraction(number)
    if one.dimension != other.dimension:
        return
    there = converted(amount, one, other)
    assert converted(there, other, one) == amount
    times, more = by_pint(one.pint, other.pint)
    assert there == amount * times + more


@given(st.sampled_from(sorted(OWN - {"%"})), NUMBERS)
def test_a_number_with_the_fields_own_unit_is_that_number(unit, number):
    assert read(unit, f"{number} {unit}").exact == read(unit, number).exact == Fraction(number)


def test_what_is_long_is_refused_before_it_is_read():
    assert read("W", "0" * (MOST_CHARACTERS - 1) + "7").exact == 7
    for typed in ("1" * 100_000, "1 h " * 50_000, "(" * 90_000, "1," * 50_000):
        with pytest.raises(NotANumber):
            read("W", typed)


def test_the_words_of_one_dimension_mean_one_unit():
    for word, found in technical_units._BY_WORD.items():
        dimensions = [measure.dimension for measure in found]
        assert len(dimensions) == len(set(dimensions)), word
        assert meant_by(word, dimensions[0]) is not None
