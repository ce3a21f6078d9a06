"""Yields: how much of what is bought reaches the pot."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from kitchen.domain.remark import Said, remark

WHOLE = Decimal(100)


@dataclass(frozen=True)
class YieldTest:
    """A yield that somebody tested: ``percent`` of the bought food is left after ``preparation`` (empty: the usual one).

    Of the process ``cook`` it is what the food weighs cooked, of its weight before: more than 100 for what takes up water.
    ``from_day`` is from when on it counts; None: on any day.
    """

    preparation: str
    percent: Decimal
    source: str = ""
    process: str = "trim"
    from_day: date | None = None


def in_force(tests: Iterable[YieldTest], day: date) -> list[YieldTest]:
    """Return the tests that count on a day: of each process and preparation the newest that had begun by then.

    Examples
    --------
    >>> tests = [YieldTest("", Decimal(88)), YieldTest("", Decimal(80), from_day=date(2026, 10, 9))]
    >>> [str(in_force(tests, date(2026, 10, asked))[0].percent) for asked in (8, 9)]
    ['88', '80']
    """
    begun = [test for test in tests if test.from_day is None or test.from_day <= day]
    begun.sort(key=lambda test: test.from_day or date.min)
    return list({(test.process, test.preparation): test for test in begun}.values())


@dataclass(frozen=True)
class ChosenYield:
    """The yield that a line uses and where it comes from: in a person's own words, or a remark."""

    percent: Decimal
    source: Said


def yield_percent(edible: Fraction, bought: Fraction) -> Fraction:
    """Return the yield of a test: what was left of what was bought.

    Parameters
    ----------
    edible : Fraction, 0 < edible <= bought
        What was left. [g, or any one unit]
    bought : Fraction, > 0
        What was bought. [the same unit]

    Returns
    -------
    Fraction
        The yield, exact. [%]

    Raises
    ------
    ValueError
        If nothing is left or more is left than was bought.

    References
    ----------
    "Basic Kitchen and Food Service Management" (open textbook), the chapter on yield testing: yield = edible / as purchased.

    Examples
    --------
    >>> yield_percent(Fraction(1750), Fraction(2500))
    Fraction(70, 1)
    """
    if not 0 < edible <= bought:
        raise ValueError("What is left must be more than nothing and at most what was bought.")
    return 100 * edible / bought


def bought_amount(edible: Fraction, percent: Fraction | Decimal) -> Fraction:
    """Return how much to buy so that an edible amount is left.

    Parameters
    ----------
    edible : Fraction, >= 0
        What the recipe needs. [any one unit]
    percent : Fraction or Decimal, 0 < percent <= 100
        The yield. [%]

    Returns
    -------
    Fraction
        What to buy, exact, never less than ``edible``. [the same unit]

    Raises
    ------
    ValueError
        If the yield is not above 0 and at most 100.

    References
    ----------
    "Basic Kitchen and Food Service Management" (open textbook): amount needed = edible amount / yield.

    Examples
    --------
    >>> round(float(bought_amount(Fraction(100), Decimal(95))), 2)
    105.26
    """
    return edible * 100 / _checked(percent)


def edible_amount(bought: Fraction, percent: Fraction | Decimal) -> Fraction:
    """Return what is left of a bought amount; the inverse of `bought_amount`.

    Examples
    --------
    >>> float(edible_amount(Fraction(50), Decimal(75)))
    37.5
    """
    return bought * _checked(percent) / 100


def edible_price(price: Fraction, percent: Fraction | Decimal) -> Fraction:
    """Return what one unit of edible food costs when one unit as bought costs ``price``; never less than ``price``.

    Examples
    --------
    >>> float(edible_price(Fraction(10), Decimal(80)))
    12.5
    """
    return price * 100 / _checked(percent)


def yield_of_refuse(refuse_pct: float) -> Decimal:
    """Return the yield that a reference table's refuse stands for.

    Parameters
    ----------
    refuse_pct : float, 0 <= refuse < 100
        Share of the food as bought that is thrown away. [%]

    Returns
    -------
    Decimal
        100 less the refuse. [%]

    Raises
    ------
    ValueError
        If the refuse is not at least 0 and below 100.

    Examples
    --------
    >>> yield_of_refuse(10)
    Decimal('90')
    """
    if not 0 <= refuse_pct < 100:
        raise ValueError(f"A refuse of {refuse_pct} % leaves nothing to eat; it must be at least 0 and below 100.")
    return WHOLE - Decimal(f"{refuse_pct:g}")


def choose_yield(tests: Sequence[YieldTest], refuse_pct: float, note: str = "") -> ChosenYield:
    """Return the yield to use for a line: the owner's test for its preparation, else the usual test, else the food's refuse.

    Parameters
    ----------
    tests : sequence of YieldTest
        The owner's tests of this food.
    refuse_pct : float, 0 <= refuse < 100
        The reference table's refuse. [%]
    note : str
        The line's own words after the comma ("peeled and diced").

    Returns
    -------
    ChosenYield
        A test whose preparation is all among the line's words wins, the longest first; then the test without a preparation; then
        the table. A test of another preparation never counts: wedges with their skin say nothing about peeled potatoes.

    Examples
    --------
    >>> tests = [YieldTest("", Decimal(88), "our test"), YieldTest("peeled", Decimal(81), "our test")]
    >>> choose_yield(tests, 10, "peeled and diced").percent, choose_yield(tests, 10).percent, choose_yield([], 10).percent
    (Decimal('81'), Decimal('88'), Decimal('90'))
    >>> choose_yield([YieldTest("wedges with skin", Decimal(96))], 25, "peeled").percent
    Decimal('75')
    """
    tested = _tested(tests, "trim", note)
    return tested or ChosenYield(yield_of_refuse(refuse_pct), remark("refuse_in_table") if refuse_pct else "")


def cooking_yield(tests: Sequence[YieldTest], note: str) -> ChosenYield | None:
    """Return what a food weighs cooked, of its weight before [%], or None where nobody tested it.

    Examples
    --------
    >>> cooking_yield([YieldTest("", Decimal(280), "own test", "cook")], "cooked").percent
    Decimal('280')
    """
    return _tested(tests, "cook", note)


def _tested(tests: Sequence[YieldTest], process: str, note: str) -> ChosenYield | None:
    own = [test for test in tests if test.process == process]
    named = [test for test in own if test.preparation and _steps_named(test.preparation) <= _steps_named(note)]
    usual = [test for test in own if not test.preparation]
    return _chosen(max(named, key=lambda test: len(test.preparation))) if named else _chosen(usual[0]) if usual else None


def _chosen(test: YieldTest) -> ChosenYield:
    if test.source:
        return ChosenYield(test.percent, ", ".join(filter(None, (test.source, test.preparation))))
    after = remark("own_test_after", preparation=test.preparation)
    return ChosenYield(test.percent, after if test.preparation else remark("own_test"))


def _steps_named(text: str) -> set[str]:
    return set(re.findall(r"\w+", text.casefold())) - {"and", "then"}


def _checked(percent: Fraction | Decimal) -> Fraction:
    if not 0 < percent <= 100:
        raise ValueError("A yield must be above 0 and at most 100 %.")
    return Fraction(percent)
