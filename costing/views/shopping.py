"""Bench pages for a shopping list: for one recipe or several, with their sides."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from costing.domain.shopping import ShoppingList, shopping_list
from costing.domain.tables import csv_of
from costing.queries.shopping import aisles_of, dishes, sheets_for
from costing.words import ENGLISH
from costing.words.shopping import listed_rows, missing_words
from costing.words.sums import sum_words
from kitchen.queries import the_site

MOST_SERVINGS = 30_000
HEAD = ("shop", "aisle", "food", "packs", "cost", "left over")


@login_required
@require_safe
def shopping(request: HttpRequest) -> HttpResponse:
    """Show what to buy. ``/bench/shopping/?<slug>=<servings>``; ``?as=csv`` answers with a table."""
    found = dishes(request.user, _asked(request))
    chosen = [dish for dish in found if dish.asked]
    sheets = sheets_for(chosen, at=timezone.now())
    bought, currency = shopping_list(sheets, aisles_of(sheets)), the_site().currency
    rows = listed_rows(bought, currency, ENGLISH)
    if request.GET.get("as") == "csv":
        return _as_csv(bought, currency)
    total = sum_words(bought.cost, currency, ENGLISH, at_least=bool(bought.missing))
    context = {"dishes": found, "chosen": chosen, "rows": rows, "total": total, "missing": missing_words(bought, ENGLISH)}
    return render(request, "costing/shopping.html", context)


def _asked(request: HttpRequest) -> dict[str, int]:
    """Return the servings by the recipes’ addresses; what is no number asks for nothing."""
    typed = {slug: str(text) for slug, text in request.GET.items()}
    numbers = {slug: int(text) for slug, text in typed.items() if text.isascii() and text.isdigit() and len(text) < 6}
    return {slug: number for slug, number in numbers.items() if number <= MOST_SERVINGS}


def _as_csv(bought: ShoppingList, currency: str) -> HttpResponse:
    stops = listed_rows(bought, currency, ENGLISH)
    rows = [[stop.shop, stop.aisle, row.food, row.packs, row.cost, row.left] for stop in stops for row in stop.rows]
    answer = HttpResponse(csv_of(HEAD, rows), content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = 'attachment; filename="shopping.csv"'
    return answer
