"""What an archive says of shops, prices and yields, field by field; ``kitchen.domain.archive`` says how values travel."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from kitchen.domain.archive import FoodLink


@dataclass(frozen=True)
class ShopDocument:
    """A place where food is bought."""

    name: str
    note: str = ""


@dataclass(frozen=True)
class QuoteDocument:
    """A price seen or paid for ``packs`` packs of ``pack_amount`` ``pack_unit``; ``shop`` is the name of one of the shops."""

    food: FoodLink
    shop: str
    day: date
    price: Decimal
    currency: str
    pack_amount: Fraction
    pack_unit: str = ""
    packs: int = 1
    note: str = ""


@dataclass(frozen=True)
class YieldDocument:
    """How much of a bought food is edible after a preparation, in per cent."""

    food: FoodLink
    percent: Decimal
    preparation: str = ""
    source: str = ""


@dataclass(frozen=True)
class RulesDocument:
    """How the kitchen's cost sheets are made; taken over only by a kitchen without recipes."""

    rule: str
    last: int
    allowance_pct: Decimal
    shop: str | None = None


@dataclass(frozen=True)
class PricesDocument:
    """``apps/costing.json``: everything that costing keeps; it keeps nothing of one recipe alone."""

    shops: tuple[ShopDocument, ...] = ()
    quotes: tuple[QuoteDocument, ...] = ()
    yields: tuple[YieldDocument, ...] = ()
    rules: RulesDocument | None = None
    schema: int = 1
