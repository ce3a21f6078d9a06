"""Receipts: what a line of a slip may be, from what was learnt and from the foods, and the slips that were kept."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import Count, Q, QuerySet

from costing.domain.quotes import shop_key
from costing.domain.slips import GOODS, SlipLine
from costing.models import Learnt, Quote, Receipt, ReceiptPhoto
from costing.queries.prices import item_words
from kitchen.domain.matching import SURE_ENOUGH
from kitchen.domain.packs import parse_pack
from kitchen.queries import known_foods

_SIZE = re.compile(r"(?:\d{1,3}\s*x\s*)?\d[\d.,]*\s*(?:kg|g|ml|cl|l|oz|lb|pk|pack|stk|pcs)\b", re.IGNORECASE)


@dataclass(frozen=True)
class Proposal:
    """What a line is likely to be: a food by its name, a pack as a person would type it, and whether it was learnt."""

    food: str = ""
    pack: str = ""
    learnt: bool = False


def proposals(lines: Sequence[SlipLine], shop_name: str) -> dict[int, Proposal]:
    """Return by its place what each line of goods is likely to be: as it was learnt at this shop, at another, or by its words."""
    learnt = _learnt(lines, shop_name)
    foods = known_foods()
    found = {}
    for place, line in enumerate(lines):
        if line.kind not in GOODS or not line.name:
            continue
        known = learnt.get(line.name.casefold())
        if known is not None:
            found[place] = Proposal(known.item.food.name, item_words(known.item), learnt=True)
            continue
        match = foods.find(_SIZE.sub(" ", line.name).strip().lower())
        found[place] = Proposal(match[0].name if match and match[1] >= SURE_ENOUGH else "", _pack_of(line))
    return found


def receipts() -> QuerySet[Any]:
    """Return the receipts with how many of their prices still count, the newest first."""
    standing = Count("quotes", filter=Q(quotes__taken_back_at=None))
    return Receipt.objects.select_related("shop").annotate(standing=standing).order_by("-day", "-pk")


def prices_of(receipt: Receipt) -> list[Quote]:
    """Return the prices of a receipt in the order of its lines, also those that were taken back. One query."""
    return list(receipt.quotes.select_related("item__food", "shop").order_by("pk"))


def has_photo(receipt: Receipt) -> bool:
    """Whether a picture of the slip is kept. One query, that leaves the picture where it is."""
    return ReceiptPhoto.objects.filter(receipt=receipt).exists()


def same_receipt(shop_name: str, day: date, text: str) -> Receipt | None:
    """Return the receipt of this shop and day with the same lines, of which prices still count."""
    words = "".join(text.split())
    same = [one for one in receipts().filter(day=day) if one.standing and shop_key(one.shop.name) == shop_key(shop_name)]
    return next((one for one in same if "".join(one.text.split()) == words), None)


def _learnt(lines: Sequence[SlipLine], shop_name: str) -> dict[str, Learnt]:
    words = {line.name.casefold() for line in lines if line.name}
    rows = Learnt.objects.filter(words__in=words).select_related("shop", "item__food")
    return {row.words: row for row in sorted(rows, key=lambda row: shop_key(row.shop.name) == shop_key(shop_name))}


def _pack_of(line: SlipLine) -> str:
    if line.amount and line.unit:
        return f"per {line.unit}"
    size = _SIZE.findall(line.name)
    try:
        return size[-1] if size and parse_pack(size[-1]) else ""
    except ValueError:
        return ""
