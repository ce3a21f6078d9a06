"""Bench pages for a shopping list: for one recipe or several, with their sides."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from costing.domain.shopping import shopping_list
from costing.queries.baskets import compared
from costing.queries.shopping import aisles_of, dishes, sheets_for
from costing.views.files import list_file
from costing.words import ENGLISH
from costing.words.baskets import basket_words
from costing.words.shopping import listed_rows, missing_words
from costing.words.sums import sum_words
from kitchen.queries import the_site

MOST_SERVINGS = 30_000


@login_required
@require_safe
def shopping(request: HttpRequest) -> HttpResponse:
    """Show what to buy. ``/bench/shopping/?<slug>=<servings>``; ``as=csv`` or ``json``, ``compare``."""
    found = dishes(request.user, _asked(request))
    chosen = [dish for dish in found if dish.asked]
    sheets = sheets_for(chosen, at=timezone.now())
    aisles = aisles_of(sheets)
    bought, currency = shopping_list(sheets, aisles), the_site().currency
    rows = listed_rows(bought, currency, ENGLISH)
    if request.GET.get("as") in ("csv", "json"):
        return list_file(request.GET["as"], bought, currency)
    total = sum_words(bought.cost, currency, ENGLISH, at_least=bool(bought.missing))
    context = {"dishes": found, "chosen": chosen, "rows": rows, "total": total, "missing": missing_words(bought, ENGLISH)}
    if request.GET.get("compare") and rows:
        shops = compared(chosen, bought, aisles, at=timezone.now())
        context["baskets"] = basket_words(shops, currency, ENGLISH, at_least=bool(bought.missing))
    return render(request, "costing/shopping.html", context)


def _asked(request: HttpRequest) -> dict[str, int]:
    """Return the servings by the recipes’ addresses; what is no number asks for nothing."""
    typed = {slug: str(text) for slug, text in request.GET.items()}
    numbers = {slug: int(text) for slug, text in typed.items() if text.isascii() and text.isdigit() and len(text) < 6}
    return {slug: number for slug, number in numbers.items() if number <= MOST_SERVINGS}
