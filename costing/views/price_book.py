"""The price book as a file: out as CSV or JSON; and tables of prices in, looked at first, without doubles, taken back whole."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from costing import operations, queries
from costing.forms.price_book import PriceTableForm
from costing.queries.price_book import HEAD, book_rows
from costing.views.files import csv_file, json_file
from kitchen.queries import the_site
from kitchen.views.doors import hand_of

_SHOWN, _LEFT = 20, 50


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def price_book(request: HttpRequest) -> HttpResponse:
    """Offer the price book, and look at a table of prices; ``keep`` keeps its rows. ``/bench/prices/book/``; any cook."""
    posted = (request.POST, request.FILES) if request.method == "POST" else (None, None)
    shops = queries.shop_countries()
    today, currency = queries.today(timezone.now()), the_site().currency
    form = PriceTableForm(*posted, foods=queries.food_names(), shops=shops, currency=currency, today=today)
    context: dict[str, Any] = {"form": form, "shops": list(shops), "brought": _brought(request)}
    if posted[0] is None or not form.is_valid() or form.table is None:
        return render(request, "costing/price_book.html", context, status=422 if form.errors else 200)
    read = form.read()
    if "keep" in request.POST and form.cleaned_data["file"] is None:
        return _keep(request, read)
    rows = [cells for _, cells in form.table.rows[:_SHOWN]]
    looked = {"columns": form.columns(), "rows": rows, "read": read, "left": read.left[:_LEFT], "text": form.cleaned_data["text"]}
    return render(request, "costing/price_book.html", context | looked)


def _keep(request: HttpRequest, read: Any) -> HttpResponse:
    hand = hand_of(request)
    kept = operations.record_quotes(seen=read.new, by=hand)
    if kept:
        request.session["brought"] = {"at": hand.at.isoformat(), "prices": len(kept)}
    left = f" Left out: {len(read.left)} that cannot be read." if read.left else ""
    messages.success(request, f"New and saved: {len(kept)}. Here already: {read.here}.{left}")
    return redirect("costing:price-book")


def _brought(request: HttpRequest) -> dict[str, Any] | None:
    held: dict[str, Any] | None = request.session.get("brought")
    return held


@login_required
@require_POST
def table_take_back(request: HttpRequest) -> HttpResponse:
    """Take the prices of the last table back. ``/bench/prices/book/take-back/``; the cook who brought it in, in this session."""
    held = request.session.pop("brought", None)
    number = 0
    if held is not None:
        number = operations.take_table_back(known_at=datetime.fromisoformat(held["at"]), by=hand_of(request))
    messages.success(request, f"{number} {'price counts' if number == 1 else 'prices count'} no longer.")
    return redirect("costing:price-book")


@login_required
@require_safe
def price_book_csv(request: HttpRequest) -> HttpResponse:
    """Send the price book as a table. ``/bench/prices/book.csv``; any signed-in cook."""
    return csv_file(HEAD, book_rows(), "prices")


@login_required
@require_safe
def price_book_json(request: HttpRequest) -> HttpResponse:
    """Send the price book as records. ``/bench/prices/book.json``; any signed-in cook."""
    return json_file({"prices": [dict(zip(HEAD, row, strict=True)) for row in book_rows()]}, "prices")
