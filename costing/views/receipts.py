"""Bench pages for till slips: typed or pasted whole, read line by line, kept with their prices, taken back whole."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from costing import access, operations, queries
from costing.domain.countries import COUNTRIES
from costing.forms.receipts import ReceiptForm, SlipForm, SlipPhotoForm, Till
from costing.models import Receipt
from costing.queries.receipts import has_photo, prices_of, proposals, receipts, same_receipt
from costing.views.prices import remember_shopping, shopping_of
from kitchen.operations.room import DiskFull
from kitchen.publish.opening import PhotoRefused
from kitchen.queries import the_site
from kitchen.views.doors import hand_of

KEPT = 201


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def receipt_new(request: HttpRequest) -> HttpResponse:
    """Read a whole slip, then keep its prices. ``/bench/prices/receipt/``; any signed-in cook; the second step posts ``keep``."""
    shops, posted = queries.shop_countries(), request.POST if request.method == "POST" else None
    slip = SlipForm(posted, shops=shops, today=queries.today(timezone.now()), initial=shopping_of(request))
    context = {"slip": slip, "shops": list(shops), "kept": receipts()[:10]}
    if posted is None or not slip.is_valid():
        return render(request, "costing/receipt.html", context, status=422 if slip.errors else 200)
    country = slip.shop_country
    currency = COUNTRIES[country].currency if country in COUNTRIES else the_site().currency
    lines, held = slip.lines(currency), slip.cleaned_data
    proposed = proposals(lines, held["shop"])
    till = Till(held["shop"], held["day"], currency, country)
    form = ReceiptForm(
        posted if "keep" in posted else None, lines=lines, proposals=proposed, foods=queries.food_names(), till=till
    )
    if "keep" in posted and form.is_valid():
        return _keep(request, held["text"], form, till)
    context |= {"form": form, "closing": form.closing(), "currency": currency, "country": country}
    return render(request, "costing/receipt.html", context, status=422 if form.errors else 200)


def _keep(request: HttpRequest, text: str, form: ReceiptForm, till: Till) -> HttpResponse:
    there = same_receipt(till.shop, till.day, text)
    if there is not None:
        messages.warning(request, "This slip is here already; nothing was saved twice.")
        return redirect("costing:receipt-kept", pk=there.pk)
    new = Receipt(
        day=till.day, currency=till.currency, total=form.closing().total, text=text, difference=form.cleaned_data["difference"]
    )
    goods = form.seen(till)
    kept = operations.record_receipt(receipt=new, goods=goods, by=hand_of(request))
    remember_shopping(request, kept.shop.name, kept.day)
    messages.success(request, f"{len(goods)} {'price is' if len(goods) == 1 else 'prices are'} saved.")
    return redirect("costing:receipt-kept", pk=kept.pk)


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def receipt_show(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a kept slip beside its prices, and take its photo. ``/bench/prices/receipt/<pk>/``; any signed-in cook."""
    receipt, status = access.receipt(pk), 200
    form = SlipPhotoForm(request.POST, request.FILES) if request.method == "POST" else SlipPhotoForm()
    if request.method == "POST":
        status = _take_photo(receipt, form)
    if status == KEPT:
        messages.success(request, "The photo is saved beside the slip.")
        return redirect("costing:receipt-kept", pk=pk)
    found = prices_of(receipt)
    standing = any(quote.taken_back_at is None for quote in found)
    context = {"receipt": receipt, "quotes": found, "standing": standing, "day": queries.today(timezone.now())}
    context |= {"form": form, "has_photo": has_photo(receipt)}
    return render(request, "costing/receipt_kept.html", context, status=status)


def _take_photo(receipt: Receipt, form: SlipPhotoForm) -> int:
    """Keep a slip's photo; return the answer's status, with the reason beside the field where it was refused."""
    if not form.is_valid():
        return 422
    try:
        operations.keep_receipt_photo(receipt=receipt, picture=form.cleaned_data["picture"])
    except PhotoRefused as refused:
        form.add_error("picture", str(refused))
        return 422
    except DiskFull as full:
        form.add_error("picture", f"{full.words} Nothing was kept; free some space, and send it again.")
        return 507
    return KEPT


@never_cache
@login_required
@require_safe
def receipt_photo(request: HttpRequest, pk: int) -> HttpResponse:
    """Send the picture of a slip. ``/bench/prices/receipt/<pk>/photo/``; any signed-in cook, 404 where there is none."""
    return HttpResponse(bytes(access.receipt_photo(pk).picture), content_type="image/webp")


@login_required
@require_POST
def receipt_photo_remove(request: HttpRequest, pk: int) -> HttpResponse:
    """Take the picture of a slip away. ``/bench/prices/receipt/<pk>/photo/remove/``; any signed-in cook."""
    operations.remove_receipt_photo(receipt=access.receipt(pk))
    messages.success(request, "The photo of the slip is gone.")
    return redirect("costing:receipt-kept", pk=pk)


@login_required
@require_POST
def receipt_take_back(request: HttpRequest, pk: int) -> HttpResponse:
    """Take all prices of a slip back. ``/bench/prices/receipt/<pk>/take-back/``; any signed-in cook."""
    number = operations.take_receipt_back(receipt=access.receipt(pk), by=hand_of(request))
    messages.success(request, f"{number} {'price counts' if number == 1 else 'prices count'} no longer.")
    return redirect("costing:receipt-kept", pk=pk)
