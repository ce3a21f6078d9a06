"""Bench pages for a recipe's prices and for how sheets are made."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods
from django.views.decorators.vary import vary_on_headers

from costing import access, operations, queries
from costing.forms import PriceGrid, SheetAskForm, SheetRulesForm
from costing.forms.rules import typed_rules
from costing.queries.portions import served_runs
from costing.queries.recipe import sheet_for
from costing.views.files import sheet_file
from costing.views.prices import remember_shopping, shopping_of
from costing.words import ENGLISH
from costing.words.cost_lines import per_100_g, power_gap, sheet_lines
from costing.words.portions import served_words
from costing.words.receipt import make_receipt
from costing.words.waiting import moved_words
from kitchen.models import Recipe
from kitchen.queries.changes import changes_of
from kitchen.views.doors import hand_of


@login_required
@vary_on_headers("HX-Request")
@require_http_methods(["GET", "HEAD", "POST"])
def recipe_prices(request: HttpRequest, slug: str) -> HttpResponse:
    """Show a recipe's cost sheet and take the prices it lacks. ``/bench/recipes/<slug>/prices/``; its owner, 404 to others.

    ``?day=``, ``then``, ``rule`` and ``shop`` ask for other prices, ``as=csv`` or ``json`` for a file. All prices or none are
    kept; ``look`` keeps none and answers with the sums as they would be, the partial ``sheet-sums``.
    """
    recipe, at = access.recipe_for_bench(request.user, slug), timezone.now()
    asking = SheetAskForm(request.GET)
    held = queries.recipe_prices(recipe, at=at, asked=asking.asked(queries.sheet_rules, {}))
    if request.GET.get("as") in ("csv", "json") and held.facts is not None:
        return sheet_file(request.GET["as"], recipe.slug, held, sheet_for(held, held.facts.servings))
    shops = queries.shop_countries()
    posted = request.POST if request.method == "POST" else None
    today = queries.today(at)
    form = PriceGrid(posted, missing=held.missing, shops=shops, currency=held.currency, today=today, initial=shopping_of(request))
    if posted is not None and "look" in posted:
        looked = queries.recipe_prices(recipe, at=at, asked=asking.asked(queries.sheet_rules, form.typed()))
        return render(request, "costing/sheet-sums.html", _sums(recipe, looked))
    if posted is not None and form.is_valid():
        seen = form.seen()
        kept = operations.record_quotes(seen=seen, by=hand_of(request))
        remember_shopping(request, seen[0].shop_name, seen[0].day)
        messages.success(request, f"{len(kept)} {'price is' if len(kept) == 1 else 'prices are'} saved.")
        whole = not queries.recipe_prices(recipe, at=at).missing
        return redirect("kitchen:recipe-bench" if whole else "costing:recipe-prices", slug=recipe.slug)
    context = {"held": held, "form": form, "asking": asking, "shops": list(shops), **_sums(recipe, held)}
    return render(request, "costing/recipe_prices.html", context, status=422 if form.errors else 200)


def _sums(recipe: Recipe, held: queries.RecipePrices) -> dict[str, Any]:
    """Return the sheet in words: its sums with their coverage, its lines, and what moved it since the edition."""
    if held.facts is None:
        return {"recipe": recipe}
    sheet = sheet_for(held, held.facts.servings)
    moved = None if held.moved is None else moved_words(held.moved.then, held.moved.now, held.moved.why, ENGLISH)
    told, untold = served_runs(recipe)
    sheets = {made: sheet_for(held, made) for made in {run.made for run in told}} | {sheet.servings: sheet}
    lines = zip(held.lines, sheet_lines(sheet, ENGLISH), strict=True)
    return {
        "recipe": recipe,
        "sheet": sheet,
        "receipt": make_receipt(sheet, ENGLISH),
        "power_gap": power_gap(sheet, ENGLISH),
        "per_100_g": per_100_g(sheet, held.revision.serving_g, ENGLISH),
        "lines": list(lines),
        "moved": moved,
        "served": served_words([(run, sheets[run.made]) for run in told], ENGLISH),
        "untold": untold,
    }


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def sheet_rules(request: HttpRequest) -> HttpResponse:
    """Say which price counts. ``/bench/prices/rules/``; any signed-in cook; a bad form comes back as typed."""
    rules = queries.sheet_rules()
    form = SheetRulesForm(request.POST if request.method == "POST" else None, initial=typed_rules(rules))
    if request.method == "POST" and form.is_valid():
        operations.set_sheet_rules(**form.kept(rules), by=hand_of(request))
        messages.success(request, "Saved. It counts for sheets made from now on; published editions stay as they are.")
        return redirect("costing:sheet-rules")
    context = {"form": form, "history": changes_of(rules, "sheet-rules")}
    return render(request, "costing/rules.html", context, status=422 if form.errors else 200)
