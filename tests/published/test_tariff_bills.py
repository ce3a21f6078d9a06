"""Whole bills to the cent, and prices by the clock against a minute-by-minute count across both clock changes."""

from collections import Counter
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal as D
from fractions import Fraction
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from energy.tariffs.domain.bill import Block, Charges, bill, block_lines
from energy.tariffs.domain.hours import Band, Hours
from energy.tariffs.domain.use import Drawn, PriceList, cheapest_start, cost_by_band, cost_of

WEEKDAYS, WEEKEND = frozenset(range(5)), frozenset({5, 6, 7})

ONTARIO_WINTER = Hours(
    (
        Band("off-peak", D("0.076"), 19 * 60, 7 * 60, WEEKDAYS),
        Band("off-peak", D("0.076"), days=WEEKEND),
        Band("mid-peak", D("0.122"), 11 * 60, 17 * 60, WEEKDAYS),
        Band("on-peak", D("0.158"), 7 * 60, 11 * 60, WEEKDAYS),
        Band("on-peak", D("0.158"), 17 * 60, 19 * 60, WEEKDAYS),
    ),
    "America/Toronto",
    frozenset({date(2024, 12, 25)}),
)
"""Time-of-use prices of the Ontario Energy Board from 1 November 2024, winter."""


@pytest.mark.parametrize(
    ("electricity", "gas", "year"),
    [(("0.2236", "0.6012"), ("0.0548", "0.3141"), 1568), (("0.2450", "0.6010"), ("0.0604", "0.3143"), 1690)],
)
def test_a_typical_year_under_the_british_cap(electricity, gas, year):
    """Ofgem's headline figures for July to September and April to June 2024 (direct debit, VAT in it); use from memory."""
    total = 0
    for (price, standing), used in ((electricity, D(2700)), (gas, D(11_500))):
        total += bill(block_lines(used, [Block(D(price))]), Charges(standing_per_day=D(standing)), days=365).total
    assert round(total) == year


@pytest.mark.parametrize(("rounding", "total"), [("each line", "95.69"), ("once", "95.68")])
def test_a_tiered_bill(rounding, total):
    """The worked bill of a municipal utility in the north-west of the United States: 1,050 kWh in three tiers."""
    tiers = [Block(D("0.088958"), D(800)), Block(D("0.098073"), D(2000)), Block(D("0.108615"))]
    assert bill(block_lines(D(1050), tiers), Charges(), rounding=rounding).total == D(total)


def test_declining_blocks_with_an_adder_a_base_charge_and_tax():
    """A city's published comparison of 1,200 kWh: 169.85, with 1 % tax 171.55."""
    blocks = [Block(D("0.064"), D(250)), Block(D("0.049"), D(700)), Block(D("0.0446"))]
    charges = Charges(adder_per_kwh=D("0.085"), base_per_month=D("7.50"), tax_pct=D(1))
    made = bill(block_lines(D(1200), blocks), charges, months=1, rounding="each line")
    assert sum(line.amount for line in made.lines) == D("169.85")
    assert (made.tax, made.total) == (D("1.70"), D("171.55"))


@pytest.mark.parametrize(
    ("local", "price"),
    [
        ("2024-11-04 06:59", "0.076"),
        ("2024-11-04 07:00", "0.158"),
        ("2024-11-04 11:00", "0.122"),
        ("2024-11-04 17:00", "0.158"),
        ("2024-11-04 19:00", "0.076"),
        ("2024-11-09 12:00", "0.076"),
        ("2024-12-25 08:00", "0.076"),
    ],
)
def test_the_hours_of_ontario(local, price):
    instant = datetime.fromisoformat(local).replace(tzinfo=ZoneInfo("America/Toronto"))
    assert ONTARIO_WINTER.at(instant).price_per_kwh == D(price)
    assert ONTARIO_WINTER.mistakes() == []


NIGHT = (Band("night", D("0.09"), 30, 7 * 60 + 30), Band("day", D("0.29"), 7 * 60 + 30, 30))


@pytest.mark.parametrize("zone", ["Europe/London", "America/Toronto", "Australia/Lord_Howe"])
@pytest.mark.parametrize("when", ["2026-03-28", "2026-10-24", "2026-03-07", "2026-10-31", "2026-04-04", "2026-10-03"])
def test_splitting_over_the_clock_changes_is_a_count_of_minutes(zone, when):
    """All three zones' change nights of 2026 (tz database); Lord Howe moves by half an hour."""
    hours = Hours(NIGHT, zone)
    start = datetime.fromisoformat(f"{when}T18:07").replace(tzinfo=ZoneInfo(zone)).astimezone(UTC)
    counted = Counter(hours.at(start + timedelta(minutes=minute)).name for minute in range(36 * 60))
    split = Counter()
    for since, until, band in hours.pieces(start, start + timedelta(hours=36)):
        split[band.name] += (until - since) / timedelta(minutes=1)
    assert split == counted


@given(st.integers(0, 100_000), st.lists(st.tuples(st.integers(0, 20_000), st.integers(0, 900)), min_size=1, max_size=5))
def test_what_the_bands_take_adds_up_exactly(minute, stretches):
    start = datetime(2024, 11, 1, tzinfo=UTC) + timedelta(minutes=minute)
    prices = PriceList(hours=ONTARIO_WINTER)
    parts = cost_by_band(prices, start, [Drawn(span_s, energy_wh) for span_s, energy_wh in stretches])
    assert sum(part.energy_wh for part in parts) == sum(energy_wh for _, energy_wh in stretches)
    dearest, cheapest = D("0.158"), D("0.076")
    total = sum(energy_wh for _, energy_wh in stretches)
    assert Fraction(cheapest) * total / 1000 <= sum(part.cost for part in parts) <= Fraction(dearest) * total / 1000


def test_the_cheapest_start_is_the_brute_forces():
    prices, drawn = PriceList(hours=ONTARIO_WINTER), [Drawn(1200, 230), Drawn(2400, 60)]
    now = datetime(2024, 11, 4, 15, 20, tzinfo=ZoneInfo("America/Toronto"))
    until = now.replace(hour=23, minute=59)
    found = cheapest_start(prices, now, until, drawn)
    every = [now + timedelta(minutes=minute) for minute in range((until - now) // timedelta(minutes=1) + 1)]
    assert found.cost == min(cost_of(prices, start, drawn) for start in every)
    assert found.start.hour == 19
    assert found.cost_now > found.cost


def test_a_flat_price_is_never_cheaper_later():
    now = datetime(2026, 1, 1, 12, tzinfo=UTC)
    found = cheapest_start(PriceList(flat=D("0.30")), now, now + timedelta(hours=8), [Drawn(1200, 200)])
    assert (found.start, found.cost) == (now, Fraction("0.06"))


def test_tax_and_adder_are_in_the_price_at_the_margin():
    prices = PriceList(
        blocks=(Block(D("0.10"), D(500)), Block(D("0.12"))), usual_kwh=D(600), adder_per_kwh=D("0.03"), tax_pct=D(20)
    )
    assert prices.at(datetime(2026, 1, 1, tzinfo=UTC)) == Fraction("0.18")
