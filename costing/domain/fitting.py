"""How a line is bought by one offer: in which base, how much of it, after which yield. Or why it cannot be."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from costing.domain.conversion import based, in_base, why_not_in_base
from costing.domain.quotes import Offer
from costing.domain.yields import ChosenYield, YieldTest, bought_amount, choose_yield, cooking_yield
from kitchen.domain.facts import LineFacts
from kitchen.domain.foods import line_amount, piece_key, piece_of
from kitchen.domain.line_units import CONTAINERS
from kitchen.domain.remark import Remark, Said, remark
from kitchen.domain.units import UNITS

_ALL_USED = ChosenYield(Decimal(100), "")
_TRIMMED = re.compile(
    r"\b(?:boneless|boned|fillet(?:s|ed)?|filleted|skinless|shelled|shucked|pitted|trimmed|peeled|ready[- ]to[- ]cook)\b", re.I
)
_COOKED = re.compile(r"\b(?:cooked|boiled|steamed)\b", re.IGNORECASE)
_UNCOOKED = re.compile(r"\b(?:un|pre|half[- ]|par)-?(?:cooked|boiled)\b|\bquick[- ]cook", re.IGNORECASE)
_DRAINED = re.compile(r"\b(?:drained|rinsed)\b", re.IGNORECASE)
# A tin or a jar of unknown size is taken for the pack that has a price only where that can be one. [g or mL]
_SMALLEST_TIN, _LARGEST_TIN = 50, 1000


@dataclass(frozen=True)
class Fit:
    """``bought`` in ``base``, one pack holding ``pack``; what of it is used, what it weighs cooked, and what was assumed."""

    bought: Fraction
    base: str
    pack: Fraction
    trim: ChosenYield = _ALL_USED
    cooked_pct: Decimal | None = None
    assumed: Said = ""


@dataclass(frozen=True)
class Amount:
    """How much of an offer a line uses, before anything is trimmed off: ``edible`` in ``base``, one pack holding ``pack``."""

    edible: Fraction
    base: str
    pack: Fraction
    assumed: Said = ""
    whole_packs: bool = False


def fit(line: LineFacts, offer: Offer, tests: Sequence[YieldTest], refuse_pct: float) -> Fit | Remark:
    """Return how a line is bought by an offer, or why it cannot be.

    Notes
    -----
    In this order: packs of the same word ("1 tin" of tins), what is drained by its drained weight, pieces that the pack counts,
    the food's own weights, and last one tin for one pack of a likely size, which is said.
    Trim is taken only on what is sold whole: nothing where the thing is sold trimmed, or the line or the food is called so; by
    the piece it is in the weight of a piece already. What a line wants cooked and the shop sells uncooked is turned back by the
    owner's own cooking test.

    Examples
    --------
    >>> from datetime import date
    >>> from kitchen.domain.facts import FoodFacts
    >>> tins = Offer("Mill Lane", date(2026, 10, 1), Decimal("5.40"), Fraction(400), "g", 6, "EUR", container="can")
    >>> tin = LineFacts("1 tin chickpeas", Fraction(1), Fraction(1), "can", food=FoodFacts("chickpeas"))
    >>> fit(tin, tins, (), 0).bought
    Fraction(400, 1)
    """
    amount = _amount(line, offer)
    if amount is None:
        return _why_not(line, offer)
    if amount.whole_packs:
        return Fit(amount.edible, amount.base, amount.pack, assumed=amount.assumed)
    edible, cooked = amount.edible, None
    if wants_cooked(line) and offer.state not in ("cooked", "drained"):
        cooked = cooking_yield(tests, f"{line.name}, {line.note}")
        if cooked is None and offer.state == "dry":
            return remark("needs_cooking_test")
    if cooked is not None:
        edible = edible * 100 / Fraction(cooked.percent)
    trim = _trim(line, offer, amount.base, tests, refuse_pct)
    return Fit(
        bought_amount(edible, trim.percent),
        amount.base,
        amount.pack,
        trim,
        None if cooked is None else cooked.percent,
        amount.assumed,
    )


def wants_cooked(line: LineFacts) -> bool:
    """Return whether a line weighs its food cooked, where the food itself is not cooked already.

    Examples
    --------
    >>> from kitchen.domain.facts import FoodFacts
    >>> rice = FoodFacts("white rice")
    >>> [wants_cooked(LineFacts("", name="rice", note=note, food=rice)) for note in ("cooked", "uncooked", "rinsed")]
    [True, False, False]
    """
    words = f"{line.name}, {line.note}"
    already = line.food is not None and _COOKED.search(line.food.name)
    return bool(_COOKED.search(words)) and not _UNCOOKED.search(words) and not already


def _amount(line: LineFacts, offer: Offer) -> Amount | None:
    pack, base = based(offer.pack_amount, offer.pack_unit)
    used = line_amount(line)
    if used is None:
        return None
    unit = piece_key(line.unit)
    if unit and unit == piece_key(offer.container) and not line.size:
        return Amount(used * pack, base, pack, whole_packs=True)
    if offer.drained_g and _DRAINED.search(f"{line.name}, {line.note}, {line.food.name if line.food else ''}"):
        drained = in_base(line, "g")
        if drained is not None and UNITS[line.unit or "each"].dimension == "mass":
            return Amount(drained / offer.drained_g * pack, base, pack)
    if offer.pieces and unit == _piece_of_food(line):
        return Amount(used / offer.pieces * pack, base, pack, whole_packs=True)
    edible = in_base(line, base)
    if edible is not None:
        return Amount(edible, base, pack)
    return _tins(line, offer, used, pack, base)


def _piece_of_food(line: LineFacts) -> str:
    return "" if line.food is None else piece_key(piece_of(line.food.each_name))


def _tins(line: LineFacts, offer: Offer, used: Fraction, pack: Fraction, base: str) -> Amount | None:
    """Return one tin of unknown size as one pack, where nothing says what holds the pack and its size can be one."""
    likely = base in ("g", "mL") and _SMALLEST_TIN <= pack <= _LARGEST_TIN and offer.sold != "loose" and offer.state != "dry"
    if line.unit not in CONTAINERS or line.size or offer.container or not likely:
        return None
    said = remark("taken_for_pack", unit=line.unit, amount=str(offer.pack_amount), pack_unit=offer.pack_unit)
    return Amount(used * pack, base, pack, said, whole_packs=True)


def _trim(line: LineFacts, offer: Offer, base: str, tests: Sequence[YieldTest], refuse_pct: float) -> ChosenYield:
    if base not in ("g", "mL") or offer.state not in ("", "whole"):
        return _ALL_USED
    if offer.state == "" and _TRIMMED.search(f"{line.name} {line.food.name if line.food else ''}"):
        return choose_yield([test for test in tests if test.preparation], 0, line.note)  # what the cook does on top of it
    return choose_yield(tests, refuse_pct, line.note)


def _why_not(line: LineFacts, offer: Offer) -> Remark:
    base = based(offer.pack_amount, offer.pack_unit)[1]
    if base == "each" and _piece_of_food(line) and line.unit:
        return remark("needs_pieces", unit=_piece_of_food(line))
    return why_not_in_base(line, base)
