"""Foods: the list with its search, one food's words and weights."""

from __future__ import annotations

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.http import urlencode
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_safe

from kitchen.access import food_for_bench
from kitchen.forms.foods import FoodForm
from kitchen.models import Food
from kitchen.operations import add_food, change_food
from kitchen.queries import aisles, foods_found
from kitchen.views.doors import of_cook

FOODS_A_PAGE = 60


@never_cache
@of_cook
@require_safe
def foods(request: HttpRequest) -> HttpResponse:
    """All foods, or those whose names hold the words. Address ``/bench/foods/?q=``; cooks; partial ``food-list``."""
    words = request.GET.get("q", "")[:100]
    shown = Paginator(foods_found(words), FOODS_A_PAGE).get_page(request.GET.get("page"))
    context = {"words": words, "shown": shown, "query": f"{urlencode({'q': words})}&" if words else ""}
    asked_by_htmx = request.headers.get("HX-Target") == "food-list"
    return render(request, f"kitchen/bench/{'food-list' if asked_by_htmx else 'foods'}.html", context)


@never_cache
@of_cook
@require_http_methods(["GET", "HEAD", "POST"])
def food_new(request: HttpRequest) -> HttpResponse:
    """A food of one's own. Address ``/bench/foods/new/``; cooks; mistakes beside their fields."""
    form = FoodForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        food = add_food(values=form.values())
        messages.success(request, f"“{food.name}” is in the table. Lines typed from now on can mean it.")
        return redirect("kitchen:foods")
    return _form(request, form, None)


@never_cache
@of_cook
@require_http_methods(["GET", "HEAD", "POST"])
def food_edit(request: HttpRequest, number: int) -> HttpResponse:
    """A food's words and weights. Address ``/bench/foods/<n>/``; cooks; mistakes beside their fields."""
    food = food_for_bench(number)
    form = FoodForm(request.POST if request.method == "POST" else None, food=food)
    if request.method == "POST" and form.is_valid():
        change_food(food=food, values=form.values())
        messages.success(request, f"“{food.name}” is kept.")
        return redirect("kitchen:foods")
    return _form(request, form, food)


def _form(request: HttpRequest, form: FoodForm, food: Food | None) -> HttpResponse:
    return render(request, "kitchen/bench/food.html", {"form": form, "food": food, "aisles": aisles()})
