"""Packs, prices and lines of till slips of several countries against the table of what each means."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from costing.domain.prices import parse_price, price_words
from costing.domain.slips import MOST_LINES, read_slip, read_slip_line
from kitchen.domain.packs import Pack, content, pack_words, parse_pack
from kitchen.domain.typed_quantity import TwoReadings
from tests.costing.domain.shelf_texts import rows

QUESTION, REFUSED = "?", "!"


def read_or_not(read, *typed):
    try:
        return read(*typed)
    except TwoReadings:
        return QUESTION
    except ValueError as refused:
        return REFUSED if len(str(refused)) < 160 else f"too long: {refused}"


def meant_pack(words):
    amount, *rest = words.split("; ")
    packs, _, number, *unit = amount.split()
    container = next((word for word in rest if not word.startswith("drained") and word != "loose"), "")
    drained = next((Fraction(word.split()[1]) for word in rest if word.startswith("drained")), None)
    return Pack(Fraction(number), "".join(unit), int(packs), container, drained, "loose" if "loose" in rest else "")


@pytest.mark.parametrize(("typed", "meaning"), rows("pack"))
def test_a_pack_is_read_as_its_label_means_it(typed, meaning):
    assert read_or_not(parse_pack, typed) == (meaning if meaning in (QUESTION, REFUSED) else meant_pack(meaning))


def meant_price(words):
    money, _, per = words.partition(" / ")
    price, currency, *count = money.split()
    pack = replace_container(meant_pack(f"1 x {per}")) if per else None
    return Decimal(price), currency, pack, int(count[1]) if count else 1


def replace_container(pack):
    return Pack(pack.amount, pack.unit, 1, "", None, pack.sold)


@pytest.mark.parametrize(("country", "typed", "meaning"), rows("price"))
def test_a_price_is_read_as_its_ticket_means_it(country, typed, meaning):
    found = read_or_not(parse_price, typed, "EUR", country)
    if meaning in (QUESTION, REFUSED):
        assert found == meaning
    else:
        assert (found.price, found.currency, found.per, found.count) == meant_price(meaning)


@pytest.mark.parametrize(("country", "typed", "meaning"), [(row[0], row[1], row[2:]) for row in rows("slip")])
def test_a_line_of_a_slip_is_read_as_the_till_means_it(country, typed, meaning):
    line = read_slip_line(typed, "EUR", country)
    if line.kind in ("question", "nothing", "words"):
        assert [{"question": QUESTION, "words": f"wait {line.name}"}.get(line.kind, line.kind)] == meaning
        return
    said, *detail, price = meaning
    assert (f"{line.kind} {line.name}".strip(), line.price) == (said, Decimal(price))
    if detail and "@" in detail[0]:
        amount, _, each = detail[0].partition(" @ ")
        number, *unit = amount.split()
        assert (line.amount or line.count, line.unit, line.each) == (Fraction(number), "".join(unit), Fraction(each))
    else:
        assert line.count == int(detail[0] if detail else 1)


def test_words_of_goods_are_no_words_of_the_till():
    for typed in ("CHOC BAR 1.20", "TOTAL GREEK YOGURT 2.10", "CARD 6 BIRTHDAY 2.00", "CAN OPENER 3.00", "CASHEWS 200G 2.50"):
        assert read_slip_line(typed, "GBP", "GB").kind == "item", typed


def test_arithmetic_that_does_not_come_out_is_a_question():
    assert read_slip_line("ONIONS 0.640 kg @ 0.95/kg 0.71", "GBP", "GB").kind == "question"
    assert read_slip_line("3 x 0,79 2,73", "EUR", "DE").kind == "question"


def test_what_only_weighs_or_multiplies_joins_its_name_above():
    slip = read_slip("ZWIEBELN\n0,532 kg x 1,99 EUR/kg 1,06 B\nJOGHURT 2,37\n3 x 0,79 2,37\nSUMME 3,43", "EUR", "DE")
    assert [(line.kind, line.name, line.count, str(line.price)) for line in slip] == [
        ("weighed", "ZWIEBELN", 1, "1.06"),
        ("times", "JOGHURT", 3, "2.37"),
        ("total", "", 1, "3.43"),
    ]


def test_behind_the_total_no_goods_come():
    slip = read_slip("LENTILS 1.00\nTOTAL 1.00\nSTAR SAVER 0.10\nVISA 1.00", "GBP", "GB")
    assert [line.kind for line in slip] == ["item", "total", "after", "paid"]


@pytest.mark.parametrize(("words", "after"), [("SAMTALS", "after"), ("LOPPUSUMMA", "after")])
def test_a_total_in_unknown_words_is_told_by_its_sum(words, after):
    slip = read_slip(f"KIKHERNE 1,20\nRIISI 2,05\nPULLOPANTTI 0,15\n{words} 3,40\nMAKSETTU 5,00", "EUR", "FI")
    assert [line.kind for line in slip] == ["item", "item", "deposit", "total", after]
    assert [line.kind for line in read_slip("ONE 1,00\nTWO 2,00\nTHREE 3,00", "EUR", "DE")] == ["item"] * 3


def test_a_line_with_a_price_that_was_not_read_is_asked_and_never_dropped():
    assert read_slip_line("RISI 312,00 qq", "EUR", "IT").kind == "question"


def test_a_slip_without_end_is_read_as_far_as_a_slip_goes():
    assert len(read_slip("LENTILS 1.00\n" * 100_000, "EUR")) == MOST_LINES
    assert read_slip_line("9" * 100_000, "EUR").kind in ("nothing", "question")


@pytest.mark.parametrize("typed", ["", "a", "x" * 5000, "500 👩‍🍳", "( ( ( (" * 20, "0 x 500 g", "0,0 kg"])
def test_what_is_no_pack_is_refused_in_a_short_sentence(typed):
    assert read_or_not(parse_pack, typed) == REFUSED


@pytest.mark.parametrize("typed", ["", "inf", "9" * 400, "99999999", "0.12345", "٣٫٤٩", "1e9"])
def test_what_is_no_price_is_refused_in_a_short_sentence(typed):
    assert read_or_not(parse_price, typed, "EUR") == REFUSED


@given(
    st.fractions(min_value="1/64", max_value=9999, max_denominator=64),
    st.sampled_from(["", "g", "L", "bunch"]),
    st.integers(1, 99),
)
def test_a_pack_in_words_reads_back(amount, unit, packs):
    found = parse_pack(pack_words(amount, unit, packs))
    assert (found.amount, found.unit, found.packs) == (amount, unit, packs)


@pytest.mark.parametrize("typed", ["per kg", "per 100 g", "400 g, drained 240 g", "6 x 400 g, drained 240 g"])
def test_loose_and_drained_packs_read_back(typed):
    pack = parse_pack(typed)
    assert parse_pack(pack_words(pack.amount, pack.unit, pack.packs, sold=pack.sold, drained_g=pack.drained_g)) == pack


@given(st.decimals(0, 9999, places=4))
def test_a_price_in_words_reads_back(price):
    found = parse_price(price_words(price, "CHF", "EUR"), "EUR")
    assert (found.price, found.currency) == (price, "CHF")


def test_an_amount_told_twice_must_say_the_same():
    assert content(parse_pack("14 oz (397 g)"))[1] == "g"
    assert read_or_not(parse_pack, "500 g (800 g)") == REFUSED
