"""The price book as a file: out as CSV or JSON, and back in without doubles."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from costing import operations, queries
from costing.domain.tables import csv_of
from costing.forms.price_book import PriceBookForm
from costing.queries.price_book import HEAD, book_rows
from kitchen.views.doors import hand_of


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def price_book(request: HttpRequest) -> HttpResponse:
    """Offer the price book and take one. ``/bench/prices/book/``; any signed-in cook; all rows are saved or none."""
    posted = (request.POST, request.FILES) if request.method == "POST" else (None, None)
    form = PriceBookForm(*posted, foods=queries.food_names(), today=queries.today(timezone.now()))
    if request.method == "POST" and form.is_valid():
        kept = operations.record_quotes(seen=form.cleaned_data["table"], by=hand_of(request))
        messages.success(request, f"New and saved: {len(kept)}. The rest was here.")
        return redirect("costing:prices")
    return render(request, "costing/price_book.html", {"form": form}, status=422 if form.errors else 200)


@login_required
@require_safe
def price_book_csv(request: HttpRequest) -> HttpResponse:
    """Send the price book as a table. ``/bench/prices/book.csv``; any signed-in cook."""
    answer = HttpResponse(csv_of(HEAD, book_rows()), content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = 'attachment; filename="prices.csv"'
    return answer


@login_required
@require_safe
def price_book_json(request: HttpRequest) -> HttpResponse:
    """Send the price book as records. ``/bench/prices/book.json``; any signed-in cook."""
    return JsonResponse({"prices": [dict(zip(HEAD, row, strict=True)) for row in book_rows()]})
