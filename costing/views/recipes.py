"""Bench pages for a recipe's prices and for how sheets are made."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from costing import access, operations, queries
from costing.forms import PriceGrid, SheetRulesForm
from costing.forms.rules import typed_rules
from costing.views.prices import remember_shopping, shopping_of
from kitchen.queries.changes import changes_of
from kitchen.views.doors import hand_of


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def recipe_prices(request: HttpRequest, slug: str) -> HttpResponse:
    """Type the prices that a recipe lacks. ``/bench/recipes/<slug>/prices/``; its owner, 404 to others; all or none is kept."""
    recipe = access.recipe_for_bench(request.user, slug)
    held = queries.recipe_prices(recipe, at=timezone.now())
    posted = request.POST if request.method == "POST" else None
    shops = queries.shop_countries()
    initial = shopping_of(request)
    form = PriceGrid(posted, missing=held.missing, shops=shops, currency=held.currency, today=held.day, initial=initial)
    if request.method == "POST" and form.is_valid():
        seen = form.seen()
        kept = operations.record_quotes(seen=seen, by=hand_of(request))
        remember_shopping(request, seen[0].shop_name, seen[0].day)
        messages.success(request, f"{len(kept)} {'price is' if len(kept) == 1 else 'prices are'} kept.")
        whole = not queries.recipe_prices(recipe, at=timezone.now()).missing
        return redirect("kitchen:recipe-bench" if whole else "costing:recipe-prices", slug=recipe.slug)
    context = {"recipe": recipe, "held": held, "form": form, "shops": list(shops)}
    return render(request, "costing/recipe_prices.html", context, status=422 if form.errors else 200)


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def sheet_rules(request: HttpRequest) -> HttpResponse:
    """Say which price counts. ``/bench/prices/rules/``; any signed-in cook; a bad form comes back as typed."""
    rules = queries.sheet_rules()
    form = SheetRulesForm(request.POST if request.method == "POST" else None, initial=typed_rules(rules))
    if request.method == "POST" and form.is_valid():
        operations.set_sheet_rules(**form.kept(rules), by=hand_of(request))
        messages.success(request, "Kept. It counts for sheets made from now on; published editions stay as they are.")
        return redirect("costing:sheet-rules")
    context = {"form": form, "history": changes_of(rules, "sheet-rules")}
    return render(request, "costing/rules.html", context, status=422 if form.errors else 200)
