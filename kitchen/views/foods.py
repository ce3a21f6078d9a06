"""Foods: the list with its search and filters, one food's words, weights and composition, removing and resetting one."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_safe

from kitchen.access import food_for_bench
from kitchen.forms.foods import FoodForm, doubts_of
from kitchen.forms.household import arranges
from kitchen.models import Food
from kitchen.operations import FoodInUse, NotInTable, add_food, change_food, remove_food, reset_food
from kitchen.queries import aisles, food_use, foods_listed, whose_is
from kitchen.queries.changes import changes_of, newest_removal
from kitchen.views.doors import hand_of, of_cook, removed_from
from kitchen.words import ENGLISH, words_of

FOODS_A_PAGE = 60
WHOSE = [("", "all"), ("own", "your own"), ("changed", "changed by you"), ("reference", "as in the table")]


@never_cache
@of_cook
@require_safe
def foods(request: HttpRequest) -> HttpResponse:
    """All foods, or those whose names hold the words. Address ``/bench/foods/?q=&whose=``; cooks; partial ``food-list``."""
    words, whose = request.GET.get("q", "")[:100], request.GET.get("whose", "")
    whose = whose if whose in dict(WHOSE) else ""
    shown = Paginator(foods_listed(words, whose), FOODS_A_PAGE).get_page(request.GET.get("page"))
    asked = {name: value for name, value in (("q", words), ("whose", whose)) if value}
    context: dict[str, Any] = {"removed": newest_removal(request.GET.get("removed", ""), ["foods"])}
    context |= {"words": words, "whose": whose, "kinds": WHOSE, "shown": shown, "query": f"{urlencode(asked)}&" if asked else ""}
    asked_by_htmx = request.headers.get("HX-Target") == "food-list"
    return render(request, f"kitchen/bench/{'food-list' if asked_by_htmx else 'foods'}.html", context)


@never_cache
@of_cook
@require_http_methods(["GET", "HEAD", "POST"])
def food_new(request: HttpRequest) -> HttpResponse:
    """A food of one's own. Address ``/bench/foods/new/?name=``; cooks; mistakes beside their fields."""
    wish = request.POST.get("do", "")
    form = FoodForm(request.POST if request.method == "POST" else None, name=request.GET.get("name", "")[:120], wish=wish)
    if request.method == "POST" and not arranges(wish) and form.is_valid():
        food = add_food(values=form.values(), by=hand_of(request))
        messages.success(request, f"“{food.name}” is in the table. Lines typed from now on can mean it.")
        return _after_keeping(request, food)
    return _form(request, form, None)


@never_cache
@of_cook
@require_http_methods(["GET", "HEAD", "POST"])
def food_edit(request: HttpRequest, number: int) -> HttpResponse:
    """A food's words, weights and composition. Address ``/bench/foods/<n>/``; cooks; mistakes beside their fields."""
    food = food_for_bench(number)
    wish = request.POST.get("do", "") if request.method == "POST" else ""
    if wish in ("remove", "reset"):
        return _remove(request, food) if wish == "remove" else _reset(request, food)
    form = FoodForm(request.POST if request.method == "POST" else None, food=food, wish=wish)
    if request.method == "POST" and not arranges(wish) and form.is_valid():
        food = change_food(food=food, values=form.values(), by=hand_of(request))
        messages.success(request, f"“{food.name}” is saved.")
        return _after_keeping(request, food)
    return _form(request, form, food)


def _after_keeping(request: HttpRequest, food: Food) -> HttpResponse:
    """Lead back to the list, or to the food where something about it is hardly true."""
    doubts = doubts_of(food)
    for doubt in doubts:
        messages.warning(request, f"Saved, but look again: {words_of(doubt, ENGLISH)}")
    return redirect("kitchen:food-edit", food.pk) if doubts else redirect("kitchen:foods")


def _remove(request: HttpRequest, food: Food) -> HttpResponse:
    try:
        remove_food(food=food, by=hand_of(request))
    except FoodInUse as reason:
        messages.error(request, f"“{food.name}” stays. {reason}")
        return redirect("kitchen:food-edit", food.pk)
    return removed_from("foods", reverse("kitchen:foods"))


def _reset(request: HttpRequest, food: Food) -> HttpResponse:
    try:
        food = reset_food(food=food, by=hand_of(request))
        messages.success(request, f"“{food.name}” has the table’s values again.")
    except NotInTable:
        messages.error(request, f"“{food.name}” stays: the table has no such row, or another food has its name by now.")
    return redirect("kitchen:food-edit", food.pk)


def _form(request: HttpRequest, form: FoodForm, food: Food | None) -> HttpResponse:
    context: dict[str, Any] = {"form": form, "food": food, "aisles": aisles()}
    if food is not None:
        context |= {"use": food_use(food), "whose": whose_is(food), "history": changes_of(food, "foods")}
    return render(request, "kitchen/bench/food.html", context)
