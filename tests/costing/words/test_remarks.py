"""Every remark of the costing app has its sentence."""

import pytest

from costing.words import ENGLISH, words_of
from costing.words.english import SENTENCES
from kitchen.domain.remark import Remark, remark
from tests.house.codes import codes_of

PINNED = [
    (remark("no_food"), "no food is chosen for this line"),
    (remark("no_price"), "no price yet"),
    (remark("price_in_currencies", currencies="CHF", currency="EUR"), "its price is in CHF, which does not add to EUR"),
    (
        remark("price_in_currencies", currencies="CHF USD", currency="EUR"),
        "its price is in CHF and USD, which does not add to EUR",
    ),
    (remark("price_over", last_day="2026-10-04"), "its sale price ended on 4 October 2026"),
    (remark("no_amount"), "no amount is given"),
    (remark("needs_cooking_test"), "it is sold dry: type what it weighs cooked under Yields"),
    (remark("needs_pieces", unit="clove"), "say how many of “clove” one piece from the shop has"),
    (remark("taken_for_pack", unit="can", amount="400", pack_unit="g"), "one can is taken for one pack of 400 g"),
    (remark("unknown_unit", unit="smidgen"), "“smidgen” is not a unit we know"),
    (
        remark("needs_piece_weight", own="each", base="g", missing="each"),
        "cannot be converted from pieces to g: add grams each for this food",
    ),
    (
        remark("needs_density", own="g", base="mL", missing="mL"),
        "cannot be converted from g to mL: add grams per mL for this food",
    ),
    (
        remark("needs_unit_weight", own="g", base="bunch", missing="bunch"),
        "cannot be converted from g to bunch: the weight of one bunch is not known; write the line or the price in g",
    ),
    (remark("side_in_currency", own="CHF", currency="EUR"), "its prices are in CHF, which does not add to EUR"),
    (remark("side_unpriced"), "none of its ingredients has a price yet"),
    (remark("electricity"), "electricity"),
    (remark("not_measured"), "no cook of it has been measured yet"),
    (remark("no_kwh_price"), "no price for a kilowatt-hour is known"),
    (remark("own_price_in_currency", own="USD", currency="EUR"), "your price is in USD, which does not add to EUR"),
    (remark("tariff_in_currency", own="CHF", currency="EUR"), "its tariff is in CHF, which does not add to EUR"),
    (remark("gap_of_side", side="stock", what="salt"), "stock: salt"),
    (remark("made_electricity", made="stock"), "electricity of stock"),
    (
        remark("made_share_unknown", made="stock"),
        "how much of stock goes in is not known: type it in portions, or in g where that recipe says what one of its "
        "servings weighs",
    ),
    (remark("own_price"), "your own price"),
    (remark("tariff", name="Club meadow"), "tariff Club meadow"),
    (remark("refuse_in_table"), "refuse in the food table"),
    (remark("own_test"), "own test"),
    (remark("own_test_after", preparation="peeled"), "own test, peeled"),
]

CHOSEN = {"needs_density", "needs_piece_weight", "needs_unit_weight"}
"""Codes that are chosen by the unit: ``test_conversion`` has them all."""


@pytest.mark.parametrize(("said", "sentence"), PINNED, ids=[said.code for said, _ in PINNED])
def test_a_remark_has_its_sentence(said, sentence):
    assert words_of(said, ENGLISH) == sentence


def test_every_code_is_pinned():
    assert codes_of("costing", "remark") | CHOSEN == {said.code for said, _ in PINNED}


def test_what_the_room_says_by_itself_has_its_sentence():
    said = codes_of("costing", "sentence", place=1) | codes_of("costing", "_say")
    assert len(said) > 20
    assert said - set(SENTENCES) == set()


@pytest.mark.parametrize("said", [Remark("spilt"), Remark("unknown_unit"), Remark("tariff", {"title": "Club meadow"})])
def test_what_a_newer_program_or_a_stranger_kept_is_named_and_breaks_nothing(said):
    assert words_of(said, ENGLISH) == f"This program has no words for “{said.code}”: update it to read this remark."


def test_a_sentence_that_was_kept_stays_as_it_was():
    assert words_of("its price is in {CHF}", ENGLISH) == "its price is in {CHF}"
