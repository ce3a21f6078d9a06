"""What is said of a scaled line."""

from fractions import Fraction

import pytest

from kitchen.domain.facts import LineFacts
from kitchen.domain.remark import remark
from kitchen.domain.show import show_line


def line(text, amount, unit, name, rule, note="", **more):
    number = Fraction(amount)
    return LineFacts(text, number, number, unit, name, note, rule=rule, **more)


SALT = line("1 tsp salt", 1, "tsp", "salt", "seasoning")
STOCK = line("1 L stock", 1, "L", "vegetable stock", "simmer", evaporated_ml=250.0)
BUTTER = line("1 tsp butter, for greasing", 1, "tsp", "butter", "fixed", "for greasing")
BAY = line("1 bay leaf", 1, "", "bay leaf", "batch")
WATER = line("500 ml water", 500, "mL", "water", "proportional")


def said(what, k, **circumstances):
    return show_line(what, Fraction(k), **circumstances).said


def test_seasoning_says_where_to_start():
    assert said(SALT, "3/2") == (remark("start_with", amount="1½ tsp"),)
    assert said(SALT, 4) == (remark("start_with", amount="1 tbsp"),)
    assert said(SALT, "3/2", measures="au") == (remark("start_with", amount="1½ tsp"),)
    assert said(SALT, 1) == ()


def test_what_the_cook_said_of_tasting_is_not_said_again():
    assert said(line("1 tsp salt, then taste", 1, "tsp", "salt", "seasoning", "then taste"), 3) == ()


@pytest.mark.parametrize(
    ("name", "note", "code"),
    [
        ("butter", "for greasing", "greases_one_pan"),
        ("oil", "to brush the pan", "greases_one_pan"),
        ("baking paper", "to line the tin", "lines_one_pan"),
        ("bay leaf", "", "stays_the_same"),
        ("oil", "", "stays_the_same"),
    ],
)
def test_what_stays_says_why(name, note, code):
    assert said(line("", 1, "tsp", name, "fixed", note), 3) == (remark(code),)
    assert said(line("", 1, "tsp", name, "fixed", note), 1) == ()


def test_once_for_each_batch():
    assert said(BAY, 4, batches=2) == (remark("once_for_each_of", batches=2),)
    assert said(BAY, 2) == (remark("once_for_each_batch"),)
    assert said(BAY, 1) == ()
    assert show_line(BAY, Fraction(4), batches=2).amount == "2"


def test_simmering_says_what_boils_off():
    shown = show_line(STOCK, Fraction(2))
    assert (shown.amount, shown.said) == ("1.75 L", (remark("boils_off_in_pan", amount="250 mL"),))
    assert said(STOCK, 4, batches=2) == (remark("boils_off_in_batch", amount="250 mL"),)
    assert said(STOCK, 2, measures="us") == (remark("boils_off_in_pan", amount="1 cup 1 tbsp"),)
    assert said(STOCK, 1) == ()


def test_simmering_without_a_known_loss_says_what_to_watch():
    assert said(line("1 L stock", 1, "L", "stock", "simmer"), 2) == (remark("boils_down"),)


def test_a_line_cannot_boil_off_more_than_it_is():
    wine = line("100 ml wine", 100, "mL", "wine", "simmer", evaporated_ml=400.0)
    assert said(wine, 2) == (remark("boils_off_in_pan", amount="100 mL"),)


def test_the_least_liquid_is_said_where_it_decides():
    assert show_line(WATER, Fraction(1, 4), least_ml=Fraction(250)).amount == "250 mL"
    assert said(WATER, "1/4", least_ml=Fraction(250)) == (remark("least_liquid"),)
    assert said(WATER, 1, least_ml=Fraction(250)) == ()


def test_the_amount_of_one_batch():
    assert show_line(WATER, Fraction(3), batches=2).per_batch == "750 mL"
    assert show_line(BAY, Fraction(4), batches=2).per_batch == "1"
    assert show_line(SALT, Fraction(4), batches=2).per_batch == "2 tsp"
    assert show_line(BUTTER, Fraction(4), batches=2).per_batch == ""
    assert show_line(WATER, Fraction(3)).per_batch == ""
    assert show_line(WATER, Fraction(3), "us", batches=2).per_batch == "about 3¼ cups"


def test_a_batch_that_is_the_written_pot_is_seasoned_as_written():
    shown = show_line(SALT, Fraction(8), batches=8)
    assert (shown.per_batch, shown.said) == ("1 tsp", ())
    assert said(SALT, 8, batches=6) == (remark("taste_each_batch"),)


def test_batches_that_do_not_add_up_as_printed_say_about():
    onions = line("2 onions", 2, "", "onions", "proportional")
    shown = show_line(onions, Fraction(20, 3), batches=6)
    assert (shown.amount, shown.per_batch) == ("13", "about 2")
    assert show_line(onions, Fraction(6), batches=6).per_batch == "2"


@pytest.mark.parametrize("measures", ["written", "metric", "us", "uk", "au"])
@pytest.mark.parametrize("batches", [2, 3, 7])
def test_batches_add_up(measures, batches):
    """Rounding aside: each batch within 5 % of its share."""
    shown = show_line(line("2 kg potatoes", 2, "kg", "potatoes", "proportional"), Fraction(3), measures, batches=batches)
    number, unit, *rest = shown.per_batch.removeprefix("about ").replace("½", ".5").split()
    grams = float(number) * {"kg": 1000, "g": 1, "lb": 453.592}[unit]
    grams += float(rest[0]) * 28.3495 if rest else 0
    assert grams * batches == pytest.approx(6000, rel=0.05)
