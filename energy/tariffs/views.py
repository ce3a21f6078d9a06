"""A tariff's own page: its week, its price now, the cheapest hours today, and a whole bill."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from energy import access
from energy.models import Tariff
from energy.tariffs.forms.bill import BillForm, MonthForm
from energy.tariffs.queries.page import bill_of, tariff_page


@login_required
@require_safe
def tariff_prices(request: HttpRequest, pk: int) -> HttpResponse:
    """The week, the cheapest hours and a bill. ``/bench/tariffs/<pk>/prices/``; any signed-in cook.

    ``?month=7`` draws another month's week; ``?kwh=1050&days=30&months=1`` works out a bill; what cannot be read is said (400).
    """
    tariff = access.gear(Tariff, pk)
    month = MonthForm(request.GET)
    bill = BillForm(request.GET) if "kwh" in request.GET else BillForm()
    made = None
    if bill.is_bound and bill.is_valid():
        asked = bill.cleaned_data
        made = bill_of(tariff, asked["kwh"], asked["days"] or 0, asked["months"] or 0)
    shown = tariff_page(tariff, timezone.now(), month.cleaned_data.get("month") or None if month.is_valid() else None)
    context = {"tariff": tariff, "shown": shown, "form": bill, "bill": made}
    return render(request, "energy/tariffs/prices.html", context, status=400 if bill.is_bound and made is None else 200)
