"""Bench pages for shops."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from costing import access, operations, queries
from costing.forms import ShopForm
from kitchen.queries.changes import changes_of, newest_removal
from kitchen.views.doors import hand_of, removed_from


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def shop_list(request: HttpRequest) -> HttpResponse:
    """List shops and open one. ``/bench/shops/``; any signed-in cook; a bad form comes back as typed."""
    form = ShopForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        shop = operations.open_shop(**form.cleaned_data, by=hand_of(request))
        messages.success(request, f"“{shop}” is saved.")
        return redirect("costing:shops")
    context = {"shops": queries.shops(), "form": form, "removed": newest_removal(request.GET.get("removed", ""), ["shops"])}
    return render(request, "costing/shops.html", context, status=422 if form.errors else 200)


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def shop_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Rename a shop. ``/bench/shops/<pk>/``; any signed-in cook; 404 for one that is not there."""
    shop = access.shop(pk)
    initial = {"name": shop.name, "note": shop.note, "country": shop.country}
    form = ShopForm(request.POST if request.method == "POST" else None, shop=shop, initial=initial)
    if request.method == "POST" and form.is_valid():
        operations.rename_shop(shop=shop, **form.cleaned_data, by=hand_of(request))
        messages.success(request, f"“{shop}” is saved.")
        return redirect("costing:shops")
    context = {"shop": shop, "form": form, "history": changes_of(shop, "shops")}
    return render(request, "costing/shop.html", context, status=422 if form.errors else 200)


@login_required
@require_POST
def shop_remove(request: HttpRequest, pk: int) -> HttpResponse:
    """Remove a shop without prices. ``/bench/shops/<pk>/remove/``; refused in words while it has any."""
    shop = access.shop(pk)
    name = shop.name
    try:
        operations.close_shop(shop=shop, by=hand_of(request))
    except operations.ShopInUse:
        messages.error(request, f"{name} has prices. Remove or move them first.")
        return redirect("costing:shop", pk=pk)
    return removed_from("shops", reverse("costing:shops"))
