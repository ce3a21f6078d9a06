"""What an archive says of shops, prices and yields, field by field; ``kitchen.domain.archive`` says how values travel."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction

from costing.domain.facts import PackPrice
from costing.domain.yields import YieldTest
from kitchen.domain.archive import FoodLink


@dataclass(frozen=True)
class ShopDocument:
    """A place where food is bought."""

    name: str
    note: str = ""
    country: str = ""


@dataclass(frozen=True)
class GivenDocument:
    """A food that one pack of a thing gives beside others."""

    food: FoodLink
    amount: Fraction
    unit: str
    share: str | None = None


@dataclass(frozen=True)
class ItemDocument:
    """A thing on the shelf: a pack of a food, and what is known of it."""

    food: FoodLink
    pack_amount: Fraction
    pack_unit: str
    packs: int
    brand: str = ""
    container: str = ""
    sold: str = "pack"
    state: str = ""
    drained_g: Fraction | None = None
    pieces: Fraction | None = None
    tax_pct: Decimal | None = None
    gives: tuple[GivenDocument, ...] = ()


@dataclass(frozen=True)
class QuoteDocument(PackPrice):
    """A price of a food's pack; ``shop`` is the name of one of the shops; brand, pack and ``loose`` tell the item."""

    food: FoodLink
    currency: str
    note: str = ""
    last_day: date | None = None
    brand: str = ""
    loose: bool = False
    known_at: datetime | None = None
    known_guessed: bool = False
    taken_back_at: datetime | None = None
    receipt: str | None = None


@dataclass(frozen=True)
class ReceiptDocument:
    """A till slip as it was typed; ``shop`` is the name of one of the shops."""

    uid: str
    shop: str
    day: date
    currency: str
    text: str
    kept_at: datetime
    total: Decimal | None = None
    difference: str = ""


@dataclass(frozen=True)
class LearntDocument:
    """What a till prints for a thing on the shelf."""

    shop: str
    words: str
    item: ItemDocument


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
    items: tuple[ItemDocument, ...] = ()
    receipts: tuple[ReceiptDocument, ...] = ()
    learnt: tuple[LearntDocument, ...] = ()
    schema: int = 2
