"""The bench page of one thing on the shelf."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from costing import access, operations, queries
from costing.forms.items import ItemForm, typed_item
from kitchen.queries.changes import changes_of
from kitchen.views.doors import hand_of


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def item_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Say what a pack holds, how it is sold and what it gives. ``/bench/prices/items/<pk>/``; any signed-in cook."""
    item = access.item(pk)
    posted = request.POST if request.method == "POST" else None
    form = ItemForm(posted, item=item, foods=queries.food_names(), initial=typed_item(item))
    if request.method == "POST" and form.is_valid():
        operations.describe_item(item=item, by=hand_of(request), **form.known())
        messages.success(request, f"What is known of {item}, {queries.item_words(item)}, is saved.")
        return redirect("costing:price-history", pk=item.food_id)
    context = {"item": item, "pack": queries.item_words(item), "form": form, "history": changes_of(item, "items")}
    return render(request, "costing/item.html", context, status=422 if form.errors else 200)
