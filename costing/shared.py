"""Costing's shared things: shops, prices, yields and the rules of the sheets, as the bench tells of them and puts them back."""

from __future__ import annotations

from django.db.models import Model
from django.urls import reverse

from costing.models import Quote, SheetRules, Shop, Yield
from kitchen.shared import SharedKind


def shared_kinds() -> list[SharedKind]:
    """Return the four sorts. Nothing follows from them but sheets that are made later."""
    return [
        SharedKind("shops", Shop, "shop", lambda number: reverse("costing:shop", args=[number]), _save),
        SharedKind("prices", Quote, "price", lambda number: reverse("costing:price", args=[number]), _save),
        SharedKind("yields", Yield, "yield", lambda number: reverse("costing:yield", args=[number]), _save),
        SharedKind("sheet-rules", SheetRules, "rule of the sheets", lambda _: reverse("costing:sheet-rules"), _save),
    ]


def _save(thing: Model) -> None:
    thing.save()
