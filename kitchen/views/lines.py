"""How one ingredient line is read: its correction, choosing its food, and the one-tap buttons beside it."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from kitchen.access import food_for_bench, line_for_bench
from kitchen.forms.lines import LineForm
from kitchen.forms.numbers import NumberField
from kitchen.models import Line, Recipe
from kitchen.operations import (
    DraftClash,
    Seen,
    add_food,
    correct_line,
    forget_name,
    link_line,
    read_line_again,
    remember_name,
    weigh_food,
)
from kitchen.operations.making import MadeOfItself
from kitchen.queries import editions_to_make, food_named, foods_to_choose, row_alone
from kitchen.views.doors import hand_of, of_recipe

# A button beside a line: link it to a food or to none, keep its words as the food's other name, take them off again, or say
# what one of its unit weighs.
TAP = re.compile(r"(?P<what>food|remember|forget|weigh)-(?P<line>[0-9]{1,18})(?:-(?P<food>[0-9]{1,18}|none))?\Z")
_WEIGHT = NumberField(low=0.001, high=100_000, unit="g", places=3)
_NOT_THERE = "Nothing was changed: this line was rewritten meanwhile, or stands in an older revision. Correct it below."


@never_cache
@of_recipe
@require_http_methods(["GET", "HEAD", "POST"])
def line_correct(request: HttpRequest, recipe: Recipe, number: int) -> HttpResponse:
    """How one line is read. Address ``/bench/recipes/<slug>/edit/lines/<n>/``; its owner.

    Partials ``line-<n>`` (with ``?row=`` as it stands, unopened) and ``line-foods-<n>``.

    What makes no sense is said beside its field; a line of an older revision is not corrected (the page says why).
    """
    wish = request.POST.get("do", "") if request.method == "POST" else ""
    if TAP.match(wish):
        return tapped(request, recipe, wish)
    line = line_for_bench(recipe, number)
    if "row" in request.GET and request.headers.get("HX-Request") == "true":
        return render(request, "kitchen/bench/line-row.html", _row(recipe, line) | {"focus": True})
    if wish == "again":
        return _changed(request, recipe, line, lambda: read_line_again(line=line, by=request.user, at=timezone.now()))
    asked = request.POST if wish else request.GET if f"line-{line.pk}-food" in request.GET else None
    posted, editions = request.POST if request.method == "POST" else asked, editions_to_make(recipe, line.made_of)
    form = LineForm(posted, line=line, editions=editions, own=wish in ("own", "look"))
    if request.method == "POST" and wish != "look" and form.is_valid():
        try:
            return _changed(request, recipe, line, lambda: _correct(request, line, form, own=wish == "own"))
        except MadeOfItself as refused:
            form.add_error("made", str(refused))
    return _page(request, recipe, line, form)


def _correct(request: HttpRequest, line: Line, form: LineForm, *, own: bool) -> Line:
    """Write a correction; a food of the cook's own is made first where that button was pressed."""
    reading = form.reading()
    if own:
        name = form.own_name()
        food = food_named(name) or add_food(values={"name": name}, by=hand_of(request))
        if request.headers.get("HX-Request") != "true":  # else the row says so itself
            messages.success(request, f"“{food.name}” is a food of your own now. Give it its weights under Foods.")
        reading = replace(reading, food=food)
    return correct_line(line=line, reading=reading, made=form.made_by(), by=request.user, at=timezone.now())


def _page(request: HttpRequest, recipe: Recipe, line: Line, form: LineForm) -> HttpResponse:
    """Show the form; the foods to choose from follow what was typed, else the line's own words."""
    typed = (form["food"].value() or "").strip()
    words = typed if form.is_bound else line.name
    context = {"recipe": recipe, "line": line, "form": form, "foods": foods_to_choose(words), "words": words}
    htmx = request.headers.get("HX-Request") == "true"
    part = "line-foods" if request.headers.get("HX-Target") == f"line-foods-{line.pk}" else "line-form"
    return render(request, f"kitchen/bench/{part if htmx else 'line'}.html", context)


def tapped(request: HttpRequest, recipe: Recipe, wish: str) -> HttpResponse:
    """Do what one of the buttons beside a line says, and show its row as it stands then."""
    tap = TAP.match(wish)
    try:
        line = line_for_bench(recipe, int(tap["line"])) if tap else None
    except Http404:
        line = None
    if tap is None or line is None:
        return _lost(request, recipe)
    return _changed(request, recipe, line, lambda: _do(request, line, tap["what"], tap["food"] or ""))


def _do(request: HttpRequest, line: Line, what: str, chosen: str) -> Line:
    if what == "food":
        food = food_for_bench(int(chosen)) if chosen.isdecimal() else None
        return link_line(line=line, food=food, by=request.user, at=timezone.now())
    if what == "weigh":
        _weigh(request, line)
    elif line.food is not None and line.name:
        keep = remember_name if what == "remember" else forget_name
        line.food = keep(food=line.food, name=line.name, by=hand_of(request))
    return line


def _weigh(request: HttpRequest, line: Line) -> None:
    """Give the line's food the weight that was typed beside it; raises ValidationError for one that makes no sense."""
    g = _WEIGHT.clean(request.POST.get(f"weighs-{line.pk}", ""))
    if line.food is not None:
        line.food = weigh_food(food=line.food, unit=line.unit, g=float(g), by=hand_of(request))


def _changed(request: HttpRequest, recipe: Recipe, line: Line, change: Callable[[], Line]) -> HttpResponse:
    """Make a change to a line and show the row as it reads then."""
    was_locked = line.part.revision.locked_at is not None
    mistake = ""
    try:
        line = change()
    except DraftClash:
        return _lost(request, recipe)
    except ValidationError as refused:
        mistake = " ".join(refused.messages)
    edit = reverse("kitchen:recipe-edit", args=[recipe.slug])
    if request.headers.get("HX-Request") != "true":
        if mistake:
            messages.error(request, f"{line.text}: {mistake}")
        return HttpResponseRedirect(f"{edit}#line-{line.pk}")
    if mistake:
        typed = request.POST.get(f"weighs-{line.pk}", "")
        return render(request, "kitchen/bench/line-swaps.html", _row(recipe, line) | {"mistake": mistake, "typed": typed})
    if was_locked:
        return HttpResponse(headers={"HX-Redirect": edit})
    return render(request, "kitchen/bench/line-swaps.html", _row(recipe, line))


def _row(recipe: Recipe, line: Line) -> dict[str, Any]:
    revision = line.part.revision
    desk = {"recipe": recipe, "revision": revision, "seen": Seen(revision.number, revision.draft_version)}
    return {"desk": desk, "row": row_alone(line), "recipe": recipe}


def _lost(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    messages.error(request, _NOT_THERE)
    if request.headers.get("HX-Request") == "true":
        return HttpResponse(headers={"HX-Redirect": reverse("kitchen:recipe-edit", args=[recipe.slug])})
    return redirect("kitchen:recipe-edit", recipe.slug)
