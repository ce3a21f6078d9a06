"""Costing's shared things: shops, prices, yields and the rules of the sheets, as the bench tells of them and puts them back."""

from __future__ import annotations

from typing import Any

from django.db.models import Model, Q, QuerySet
from django.urls import reverse

from costing.models import Item, Quote, SheetRules, Shop, Yield
from costing.operations import put_quote_back
from kitchen.shared import SharedKind


def shared_kinds() -> list[SharedKind]:
    """Return the five sorts. Nothing follows from them but sheets that are made later."""
    return [
        SharedKind("shops", Shop, "shop", lambda number: reverse("costing:shop", args=[number]), _save),
        SharedKind(
            "prices", Quote, "price", lambda number: reverse("costing:price", args=[number]), put_quote_back, standing=_counting
        ),
        SharedKind("items", Item, "thing on the shelf", lambda number: reverse("costing:item", args=[number]), _save),
        SharedKind("yields", Yield, "yield", lambda number: reverse("costing:yield", args=[number]), _save),
        SharedKind("sheet-rules", SheetRules, "rule of the sheets", lambda _: reverse("costing:sheet-rules"), _save),
    ]


def _counting(quotes: QuerySet[Any]) -> QuerySet[Any]:
    """Those that count, and those that count again as a later row."""
    return quotes.filter(Q(taken_back_at=None) | Q(replaced_by__isnull=False))


def _save(thing: Model) -> None:
    thing.save()
