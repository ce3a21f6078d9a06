"""Bench pages for prices: the list with its quick form, one price, a food's history, undo."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.paginator import Page, Paginator
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.http import urlencode
from django.views.decorators.http import require_http_methods, require_POST, require_safe
from django.views.decorators.vary import vary_on_headers

from costing import access, operations, queries
from costing.charts import MOST, price_chart
from costing.domain.conversion import can_convert
from costing.domain.quotes import unit_price
from costing.forms import QuoteForm, SearchForm
from costing.forms.prices import typed_quote
from costing.models import Quote
from costing.words import ENGLISH
from costing.words.sources import conversion_words
from costing.words.sums import unit_price_words
from kitchen.queries import food_facts, the_site
from kitchen.queries.changes import changes_of, newest_removal
from kitchen.views.doors import hand_of, removed_from
from kitchen.views.showing import wants_part

PAGE = 50


@login_required
@vary_on_headers("HX-Request")
@require_http_methods(["GET", "HEAD", "POST"])
def price_list(request: HttpRequest) -> HttpResponse:
    """List prices, newest first, under a quick form. ``/bench/prices/``; any signed-in cook; partial ``price-list``."""
    part = request.method != "POST" and wants_part(request)
    form = None if part else _quote_form(request)
    if request.method == "POST" and form is not None and form.is_valid():
        seen = form.seen()
        quote = operations.record_quote(seen=seen, by=hand_of(request))
        remember_shopping(request, seen.shop_name, seen.day)
        _confirm_price(request, access.quote(quote.pk))
        return redirect("costing:prices")
    context = {**_found(request), "form": form, "removed": newest_removal(request.GET.get("removed", ""), ["prices"])}
    if not part and not context["asked"] and "page" not in request.GET:
        context["watch"] = queries.watch(request.user, _today())
    template = "costing/price-list.html" if part else "costing/prices.html"
    return render(request, template, context, status=422 if form is not None and form.errors else 200)


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def price_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Correct one price. ``/bench/prices/<pk>/``; any signed-in cook; 404 for one that is not there."""
    quote = access.quote(pk)
    form = _quote_form(request, quote)
    if request.method == "POST" and form.is_valid():
        kept = operations.correct_quote(quote=quote, seen=form.seen(), by=hand_of(request))
        _confirm_price(request, access.quote(kept.pk))
        return redirect("costing:prices")
    context = {
        "quote": quote,
        "form": form,
        "history": changes_of(quote, "prices"),
        "newer": queries.what_replaced(quote),
    }
    return render(request, "costing/price.html", context, status=422 if form.errors else 200)


@login_required
@require_POST
def price_remove(request: HttpRequest, pk: int) -> HttpResponse:
    """Remove a price; the list then offers to put it back. ``/bench/prices/<pk>/remove/``; any signed-in cook."""
    operations.remove_quote(quote=access.quote(pk), by=hand_of(request))
    return removed_from("prices", reverse("costing:prices"))


@login_required
@require_safe
def price_history(request: HttpRequest, pk: int) -> HttpResponse:
    """Show every price of one food with its price by the unit. ``/bench/prices/food/<pk>/``; any signed-in cook."""
    food = access.food_for_bench(pk)
    numbers = queries.history_of(food)
    drawn = [queries.offer_of(quote) for quote in queries.quotes_of(numbers[:MOST])]
    chart = price_chart(drawn, the_site().currency, food.name, ENGLISH)
    return render(
        request, "costing/history.html", {"food": food, "shown": _page(request, numbers), "chart": chart, "day": _today()}
    )


def remember_shopping(request: HttpRequest, shop: str, day: date) -> None:
    """Keep the shop and the day for the next price that is typed in this session."""
    request.session["shopping"] = {"shop": shop, "day": day.isoformat(), "on": _today().isoformat()}


def shopping_of(request: HttpRequest) -> dict[str, Any]:
    """Return the shop, and the day if it was typed today, of the last price of this session."""
    held = request.session.get("shopping") or {}
    if held.get("on") != _today().isoformat():
        return {"shop": held["shop"]} if "shop" in held else {}
    return {"shop": held["shop"], "day": date.fromisoformat(held["day"])}


def _page(request: HttpRequest, numbers: QuerySet[Quote, int]) -> Page[Any]:
    """Return the page that was asked for; only its own quotes are read."""
    shown: Page[Any] = Paginator(numbers, PAGE).get_page(request.GET.get("page"))
    shown.object_list = queries.quotes_of(shown.object_list)
    return shown


def _found(request: HttpRequest) -> dict[str, Any]:
    search = SearchForm(request.GET or None)
    asked: dict[str, Any] = search.cleaned_data if search.is_valid() else {"q": "", "stale": False}
    ask = queries.PriceAsk(asked["q"], _today() if asked["stale"] else None)
    shown = _page(request, queries.price_numbers(ask))
    kept = {name: value for name, value in (("q", asked["q"]), ("stale", "on" if asked["stale"] else "")) if value}
    return {
        "search": search,
        "shown": shown,
        "query": f"{urlencode(kept)}&" if kept else "",
        "asked": bool(kept),
        "day": _today(),
    }


def _quote_form(request: HttpRequest, quote: Quote | None = None) -> QuoteForm:
    currency = the_site().currency
    again = request.GET.get("again", "")
    if quote is None and again.isascii() and again.isdigit() and len(again) < 19:
        initial = typed_quote(access.quote(int(again)), currency) | {"day": _today(), "last_day": None, "note": ""}
    else:
        initial = typed_quote(quote, currency) if quote else {"food": request.GET.get("food", ""), **shopping_of(request)}
    return QuoteForm(
        request.POST if request.method == "POST" else None,
        foods=queries.food_names(),
        shops=queries.shop_countries(),
        currency=currency,
        today=_today(),
        initial=initial,
    )


def kept_words(quote: Quote) -> str:
    """Return a kept price as it was understood, by the kilogram, litre or piece."""
    return unit_price_words(*unit_price(queries.offer_of(quote)), quote.currency, ENGLISH)


def _confirm_price(request: HttpRequest, quote: Quote) -> None:
    messages.success(request, f"The price of {quote.food} is saved: {kept_words(quote)}.")
    odd = next((one for one in queries.odd_prices() if one.quote.pk == quote.pk), None)
    if odd is not None:
        messages.warning(request, f"This is far from the price before, {kept_words(odd.before)}. Look at pack and price again.")
    base = unit_price(queries.offer_of(quote))[1]
    if not can_convert(food_facts(quote.food), base):
        messages.warning(request, conversion_words(base, quote.food.name, ENGLISH))


def _today() -> Any:
    return queries.today(timezone.now())
