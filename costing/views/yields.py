"""Bench pages for yields: how much of what is bought reaches the pot."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from costing import access, operations, queries
from costing.domain.yields import yield_of_refuse
from costing.forms import YieldForm
from costing.forms.yields import typed_yield
from kitchen.models import Food
from kitchen.queries.changes import changes_of, newest_removal
from kitchen.views.doors import hand_of, removed_from

PAGE = 50


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def yield_list(request: HttpRequest) -> HttpResponse:
    """List yields and keep a new one. ``/bench/yields/``; any signed-in cook; ``?food=`` shows that food's default."""
    initial = {"food": request.GET.get("food", "")}
    form = YieldForm(request.POST if request.method == "POST" else None, foods=queries.food_names(), initial=initial)
    if request.method == "POST" and form.is_valid():
        food = access.food_for_bench(form.cleaned_data["food"])
        operations.record_yield(food=food, **form.kept(), by=hand_of(request))
        messages.success(request, f"The yield of {food} is saved. {_table_says(food)}")
        return redirect("costing:yields")
    shown = Paginator(queries.yields(), PAGE).get_page(request.GET.get("page"))
    removed = newest_removal(request.GET.get("removed", ""), ["yields"])
    context = {"shown": shown, "form": form, "defaults": queries.default_yields(), "removed": removed}
    return render(request, "costing/yields.html", context, status=422 if form.errors else 200)


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def yield_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Correct a yield. ``/bench/yields/<pk>/``; any signed-in cook; 404 for one that is not there."""
    tested = access.yield_test(pk)
    posted = request.POST if request.method == "POST" else None
    form = YieldForm(posted, foods=queries.FoodNames(), tested=tested, initial=typed_yield(tested))
    if request.method == "POST" and form.is_valid():
        operations.correct_yield(tested=tested, **form.kept(), by=hand_of(request))
        messages.success(request, f"The yield of {tested.food} is saved.")
        return redirect("costing:yields")
    context = {"tested": tested, "form": form, "default": _table_says(tested.food), "history": changes_of(tested, "yields")}
    return render(request, "costing/yield.html", context, status=422 if form.errors else 200)


@login_required
@require_POST
def yield_remove(request: HttpRequest, pk: int) -> HttpResponse:
    """Remove a yield: the food table counts again. ``/bench/yields/<pk>/remove/``; any signed-in cook."""
    tested = access.yield_test(pk)
    operations.remove_yield(tested=tested, by=hand_of(request))
    messages.success(request, _table_says(tested.food))
    return removed_from("yields", reverse("costing:yields"))


def _table_says(food: Food) -> str:
    lost = f" ({food.refuse_words[0].lower()}{food.refuse_words[1:]} thrown away)" if food.refuse_words else ""
    return f"The food table says {yield_of_refuse(food.refuse_pct)} %{lost}."
