"""What an archive says of shops, prices and yields, field by field; ``kitchen.domain.archive`` says how values travel."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from costing.domain.facts import PackPrice
from costing.domain.yields import YieldTest
from kitchen.domain.archive import FoodLink


@dataclass(frozen=True)
class ShopDocument:
    """A place where food is bought."""

    name: str
    note: str = ""


@dataclass(frozen=True)
class QuoteDocument(PackPrice):
    """A price of a food; ``shop`` is the name of one of the shops."""

    food: FoodLink
    currency: str
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class YieldDocument(YieldTest):
    """How much of a food is edible after a preparation."""

    food: FoodLink


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
