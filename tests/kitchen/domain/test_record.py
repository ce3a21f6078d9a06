"""Records come back exact, junk is refused in one sentence, and nobody's JSON costs more than its length."""

from __future__ import annotations

import json
import time
import typing
from dataclasses import dataclass, fields, is_dataclass
from datetime import UTC, date, datetime, timedelta, timezone
from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from costing.domain.archive import PricesDocument
from costing.domain.facts import CostFacts
from energy.documents import GearDocument, RunsDocument
from energy.facts import EnergyFacts
from energy.runs.domain.curve import Trace
from energy.runs.domain.summary import RunSummary
from energy.tariffs.domain.record import TariffRecord
from kitchen.cards import Headline
from kitchen.domain import record
from kitchen.domain.archive import FoodsDocument, Manifest, RecipeDocument, SiteDocument
from kitchen.domain.facts import PhotoFacts, RecipeFacts

SHAPES = [RecipeFacts, PhotoFacts, Headline, EnergyFacts, RunSummary, Trace, TariffRecord, CostFacts]
SHAPES += [Manifest, SiteDocument, FoodsDocument, RecipeDocument, GearDocument, RunsDocument, PricesDocument]
SHAPES.sort(key=lambda shape: shape.__name__)

PLAIN = st.none() | st.booleans() | st.integers(-(10**18), 10**18) | st.text(max_size=8)
FINITE = st.floats(allow_nan=False, allow_infinity=False)
SCALARS: dict[Any, st.SearchStrategy[Any]] = {
    str: st.text(max_size=8),
    int: st.integers(-(10**18), 10**18),
    bool: st.booleans(),
    float: FINITE,
    Fraction: st.fractions(max_denominator=10**12),
    Decimal: st.decimals(-(10**12), 10**12, allow_nan=False, places=5),
    datetime: st.datetimes(timezones=st.just(UTC)),
    date: st.dates(),
    Fraction | Decimal | int: st.fractions(max_denominator=10**12),
}


def _grown(inner):
    return st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=6), inner, max_size=3)


JSON = st.recursive(PLAIN | FINITE, _grown, max_leaves=6)
JUNK = st.recursive(PLAIN | st.floats(), _grown, max_leaves=6)


@cache
def values(hint):
    """Return a strategy for the values of a type that a record may hold."""
    if hint in SCALARS or hint is Any:
        return SCALARS.get(hint, JSON)
    if is_dataclass(hint):
        hints = typing.get_type_hints(hint)
        names = [field.name for field in fields(hint) if field.name != "schema"]
        return st.deferred(lambda: st.builds(hint, **{name: values(hints[name]) for name in names}))  # may hold its like
    inner = typing.get_args(hint)
    if typing.get_origin(hint) is tuple:
        return st.lists(values(inner[0]), max_size=2).map(tuple)
    if typing.get_origin(hint) is dict:
        return st.dictionaries(st.text(max_size=6), values(inner[1]), max_size=2)
    kinds = [kind for kind in inner if kind is not type(None)]
    made = st.one_of([values(kind) for kind in kinds])
    return made if len(kinds) == len(inner) else st.none() | made


@dataclass(frozen=True)
class Spoon:
    """What a test reads: one value of each kind."""

    words: str
    count: int = 1
    silver: bool = False
    length_cm: float = 0.0
    holds: Fraction | None = None
    price: Decimal | None = None
    made_at: datetime | None = None
    day: date | None = None
    sizes: tuple[float, ...] = ()
    inner: tuple[Spoon, ...] = ()
    more: dict[str, tuple[int, ...]] | None = None
    rest: Spoon | str = ""
    marks: dict[str, float | str] | None = None
    anything: Any = None
    schema: int = 3


def refusal_of(shape, junk):
    try:
        record.read(shape, junk)
    except record.UnreadableRecord as error:
        return str(error)
    return None


def through_json(value):
    return json.loads(json.dumps(value, allow_nan=False))


@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: shape.__name__)
def test_what_is_written_reads_the_same(shape):
    @given(values(shape))
    @settings(max_examples=25)
    def comes_back(made):
        assert record.read(shape, through_json(record.write(made))) == made

    comes_back()


@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: shape.__name__)
def test_junk_is_refused_or_read_and_nothing_else(shape):
    names = [field.name for field in fields(shape)]

    @given(JUNK | st.fixed_dictionaries({}, optional=dict.fromkeys(names, JUNK)))
    @settings(max_examples=60)
    def is_refused_or_read(junk):
        told = refusal_of(shape, junk)
        assert told is None or (told.startswith(shape.__name__) and len(told) < 300)

    is_refused_or_read()


@pytest.mark.parametrize(
    ("junk", "words"),
    [
        ([], "Spoon should be an object"),
        ({}, "Spoon.words is missing"),
        ({"words": 3}, "Spoon.words: 3 is not text"),
        ({"words": "a", "count": True}, "Spoon.count: True is not a whole number"),
        ({"words": "a", "count": 1.0}, "Spoon.count: 1.0 is not a whole number"),
        ({"words": "a", "silver": 1}, "Spoon.silver: 1 is not true or false"),
        ({"words": "a", "length_cm": float("nan")}, "Spoon.length_cm: nan is not a number"),
        ({"words": "a", "length_cm": "inf"}, "Spoon.length_cm: 'inf' is not a number"),
        ({"words": "a", "length_cm": 10**400}, "is not a number"),
        ({"words": "a", "holds": "1/0"}, "Spoon.holds: '1/0' is not an exact amount"),
        ({"words": "a", "holds": "1e999999999"}, "Spoon.holds: '1e999999999' is not an exact amount"),
        ({"words": "a", "holds": "1/2/3"}, "Spoon.holds: '1/2/3' is not an exact amount"),
        ({"words": "a", "price": "1e999999999"}, "Spoon.price: '1e999999999' is not a decimal number"),
        ({"words": "a", "price": "NaN"}, "Spoon.price: 'NaN' is not a decimal number"),
        ({"words": "a", "made_at": 12}, "Spoon.made_at: 12 is not a moment"),
        ({"words": "a", "day": "2026-02-30"}, "Spoon.day: '2026-02-30' is not a day"),
        ({"words": "a", "sizes": "12"}, "Spoon.sizes should be a list"),
        ({"words": "a", "sizes": [1, 2, "x"]}, "Spoon.sizes[2]: 'x' is not a number"),
        ({"words": "a", "inner": [{"words": "b", "inner": [{}]}]}, "Spoon.inner[0].inner[0].words is missing"),
        ({"words": "a", "more": {"wide": [1, None]}}, "Spoon.more['wide'][1]: None is not a whole number"),
        ({"words": "a", "more": []}, "Spoon.more should be an object"),
        ({"words": "a", "rest": 3}, "Spoon.rest should be an object"),
        ({"words": "a", "rest": {"words": 3}}, "Spoon.rest.words: 3 is not text"),
        ({"words": "a", "marks": {"x": None}}, "Spoon.marks['x']: None is not a number or text"),
    ],
)
def test_a_refusal_names_the_place_and_what_should_be_there(junk, words):
    with pytest.raises(record.UnreadableRecord) as refusal:
        record.read(Spoon, junk)
    assert str(refusal.value).endswith(words)


@pytest.mark.parametrize("rest", ["as it was", {"words": "b", "marks": {"size_cm": 2.5, "by": "hand"}}])
def test_text_may_stand_where_a_record_may_and_is_written_as_it_was(rest):
    read = record.read(Spoon, {"words": "a", "rest": rest})
    assert read.rest == (rest if isinstance(rest, str) else Spoon("b", marks={"size_cm": 2.5, "by": "hand"}))
    assert record.read(Spoon, through_json(record.write(read))) == read


@dataclass(frozen=True)
class Fussy:
    """A record that refuses some values itself."""

    size: int

    def __post_init__(self):
        if self.size > 9:
            raise ValueError("nothing above 9 fits")


def test_what_a_record_refuses_itself_is_told():
    with pytest.raises(record.UnreadableRecord, match=r"^tuple\[1\]: nothing above 9 fits$"):
        record.read(tuple[Fussy, ...], [{"size": 9}, {"size": 10}])


def test_a_newer_schema_is_refused_in_words_and_an_older_one_takes_defaults():
    with pytest.raises(record.UnreadableRecord, match=r"Spoon has schema 4; this program knows schemas up to 3\. Update"):
        record.read(Spoon, {"words": "a", "schema": 4})
    assert record.read(Spoon, {"words": "a", "schema": 2, "since": "then"}) == Spoon("a", schema=2)


@pytest.mark.parametrize(
    ("value", "spelled"),
    [
        (Fraction(3), "3/1"),
        (Fraction(-1, 3), "-1/3"),
        (Decimal("1E+3"), "1E+3"),
        (Decimal("0.10"), "0.10"),
        (datetime(2026, 10, 14, 12, tzinfo=UTC), "2026-10-14T12:00:00+00:00"),
        (datetime(2026, 10, 14, 12, 0, 0, 250, tzinfo=timezone(timedelta(hours=-5))), "2026-10-14T12:00:00.000250-05:00"),
        (date(2026, 10, 14), "2026-10-14"),
        ({"a": (Fraction(1), [None, True, 2, 0.5])}, {"a": ["1/1", [None, True, 2, 0.5]]}),
    ],
)
def test_how_values_are_spelled(value, spelled):
    assert record.write(value) == spelled
    assert record.write(Spoon("a", anything=value))["anything"] == spelled


def test_a_whole_number_in_an_exact_field_stays_one():
    written = record.write(Spoon("a", holds=2, price=3, length_cm=4))
    assert (written["holds"], written["price"], written["length_cm"]) == (2, 3, 4)
    assert list(written) == [field.name for field in fields(Spoon)]


@pytest.mark.parametrize(
    "junk",
    [
        {"sizes": [[]] * 300_000},
        {"inner": [{}] * 300_000},
        {"more": {str(number): [""] for number in range(100_000)}},
        {"price": "0." + "3" * 1_000_000},
        {"holds": "7" * 1_000_000},
        {"holds": "1/" + "7" * 1_000_000},
        {"day": "2" * 1_000_000},
    ],
    ids=lambda junk: next(iter(junk)),
)
def test_a_long_document_is_refused_at_once(junk):
    began = time.process_time()
    with pytest.raises(record.UnreadableRecord) as refusal:
        record.read(Spoon, {"words": "a", **junk})
    assert time.process_time() - began < 1
    assert len(str(refusal.value)) < 200
