"""The bench page that says what another food, pack, shop, tariff or group would make of a recipe's cost."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from costing import access, queries
from costing.forms.what_if import WhatIfForm
from costing.queries.what_if import Asked, what_if
from costing.words import ENGLISH
from costing.words.moving import pull_rows
from costing.words.waiting import moved_words
from kitchen.queries import lines_of, newest_revision, the_site


@login_required
@require_safe
def recipe_what_if(request: HttpRequest, slug: str) -> HttpResponse:
    """Answer what a change would make, and how the cost moves with each price. ``/bench/recipes/<slug>/what-if/``; its owner.

    Everything is asked in the address, and nothing is kept.
    """
    recipe, at = access.recipe_for_bench(request.user, slug), timezone.now()
    lines, today = lines_of(newest_revision(recipe).pk), queries.today(at)
    form = WhatIfForm(request.GET or None, lines=lines, foods=queries.food_names(), currency=the_site().currency, today=today)
    answered = what_if(recipe, form.asked() if form.is_valid() else Asked(), at=at)
    context = {"recipe": recipe, "form": form, "answered": answered}
    if answered is not None:
        context["pulls"] = pull_rows(answered.sheet, answered.pulls, ENGLISH)
        found = answered.found
        context["moved"] = None if found is None else moved_words(found.before, found.after, found.why, ENGLISH)
    return render(request, "costing/what_if.html", context, status=422 if form.errors else 200)
