"""Files of the costing pages: sheets and shopping lists as a table or as records."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from django.http import HttpResponse, JsonResponse

from costing.domain.shopping import ShoppingList
from costing.domain.tables import csv_of
from costing.queries import RecipePrices
from costing.words import ENGLISH
from costing.words.sheet_table import HEAD, sheet_rows
from costing.words.shopping import listed_rows, missing_words
from kitchen.domain import record

LIST_HEAD = ("shop", "aisle", "food", "packs", "cost", "left over")


def csv_file(head: Sequence[str], rows: Iterable[Sequence[str]], name: str) -> HttpResponse:
    """Return a table as a file."""
    answer = HttpResponse(csv_of(head, rows), content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="{name}.csv"'
    return answer


def json_file(held: dict[str, Any], name: str) -> HttpResponse:
    """Return records as a file."""
    answer = JsonResponse(held)
    answer["Content-Disposition"] = f'attachment; filename="{name}.json"'
    return answer


def sheet_file(kind: str, slug: str, held: RecipePrices, sheet: Any) -> HttpResponse:
    """Return a recipe's cost sheet as ``csv``, or as ``json`` with the exact facts that ``record.read`` reads back."""
    assert held.facts is not None
    if kind == "csv":
        return csv_file(HEAD, sheet_rows(sheet, [line.text for line in held.lines], ENGLISH), f"{slug}-costs")
    told = {"recipe": slug, "revision": held.revision.number, "day": held.day.isoformat()}
    return json_file({**told, "costs": record.write(held.facts)}, f"{slug}-costs")


def list_file(kind: str, bought: ShoppingList, currency: str) -> HttpResponse:
    """Return a shopping list as ``csv`` or ``json``, with what has no price."""
    stops = listed_rows(bought, currency, ENGLISH)
    rows = [[stop.shop, stop.aisle, row.food, row.packs, row.cost, row.left] for stop in stops for row in stop.rows]
    if kind == "csv":
        return csv_file(LIST_HEAD, rows, "shopping")
    items = [dict(zip(LIST_HEAD, row, strict=True)) for row in rows]
    missing = [{"what": words, "why": why} for words, why in missing_words(bought, ENGLISH)]
    return json_file({"currency": currency, "cost": str(bought.cost), "items": items, "missing": missing}, "shopping")
