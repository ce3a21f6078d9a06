"""Bench pages for appliances, power sources, meters and tariffs: the same four pages for each, shared by all signed-in cooks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.validators import slug_re
from django.db import models
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_safe

from energy import access, operations, queries
from energy.forms.gear import ApplianceForm, MeterForm, PowerSourceForm
from energy.forms.tariff import TariffForm
from energy.models import Appliance, Meter, PowerSource, Tariff
from energy.queries.learned import learned_of


@dataclass(frozen=True)
class Gear:
    """One sort of gear and the words of its pages. ``lists`` is the address name of its list."""

    lists: str
    model: type[models.Model]
    form: type[forms.ModelForm[Any]]
    one: str
    many: str
    lede: str
    empty: str

    @property
    def article(self) -> str:
        """The sort with its article: "an appliance"."""
        return f"{'an' if self.one[0] in 'aeiou' else 'a'} {self.one}"

    @property
    def words(self) -> dict[str, Any]:
        """What every page of this sort needs: itself and the addresses of its list and its form."""
        return {"gear": self, "back": reverse(f"energy:{self.lists}"), "add": reverse(f"energy:{self.lists}-new")}


GEAR: dict[str, Gear] = {
    gear.lists: gear
    for gear in (
        Gear(
            "appliances",
            Appliance,
            ApplianceForm,
            "appliance",
            "Appliances",
            "What cooks. The rating and the fill limits come from the type plate and the manual.",
            "No appliance yet. Add the cooker that you want to measure: its name and its watts are enough.",
        ),
        Gear(
            "sources",
            PowerSource,
            PowerSourceForm,
            "power source",
            "Power sources",
            "What the cooker is plugged into: a battery, a hook-up, the house.",
            "No power source yet. Add the battery or the socket that feeds your cooker.",
        ),
        Gear(
            "meters",
            Meter,
            MeterForm,
            "meter",
            "Meters",
            "What shows the watt-hours. Its step and its accuracy decide how sure a figure can be.",
            "No meter yet. A plug-in energy meter is a good one; a battery's own display works too.",
        ),
        Gear(
            "tariffs",
            Tariff,
            TariffForm,
            "tariff",
            "Tariffs",
            "What a kilowatt-hour costs. The standing charge is left out: one meal more does not change it.",
            "No tariff yet. Add what a kilowatt-hour costs where you charge, and recipes show what their electricity costs.",
        ),
    )
}


@login_required
@require_safe
def gear_list(request: HttpRequest, sort: str) -> HttpResponse:
    """List one sort of gear. ``/bench/<sort>/``; any signed-in cook."""
    gear = GEAR[sort]
    rows = queries.gear_rows(gear.model)
    return render(request, f"energy/gear/{sort}.html", {**gear.words, "rows": rows})


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def gear_new(request: HttpRequest, sort: str) -> HttpResponse:
    """Add gear. ``/bench/<sort>/new/``; any signed-in cook; a bad form comes back as typed.

    ``?cook=<slug>`` leads on to recording a cook of that recipe, where the gear was missing.
    """
    return _edit(request, GEAR[sort], None)


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def gear_edit(request: HttpRequest, sort: str, pk: int) -> HttpResponse:
    """Change gear. ``/bench/<sort>/<pk>/``; any signed-in cook; 404 for what is not there."""
    return _edit(request, GEAR[sort], access.gear(GEAR[sort].model, pk))


def _edit(request: HttpRequest, gear: Gear, thing: Any) -> HttpResponse:
    initial = _offered(request) if thing else queries.gear_defaults(gear.model)
    form = gear.form(request.POST or None, instance=thing, initial=initial)
    if request.method == "POST" and form.is_valid():
        operations.save_gear(gear=form.instance)
        messages.success(request, f"“{form.instance}” is kept.")
        return redirect(_onward(request) or reverse(f"energy:{gear.lists}"))
    remove = reverse(f"energy:{gear.lists}-remove", args=[thing.pk]) if thing else ""
    context = {**gear.words, "form": form, "thing": thing, "remove": remove, "onward": _onward(request)}
    context["learned"] = learned_of(thing)
    return render(request, "energy/gear/edit.html", context, status=422 if form.is_bound else 200)


def _offered(request: HttpRequest) -> dict[str, float]:
    """Return what the cook took over from what was learned: a share in the address, kept only when the form is sent."""
    try:
        share = float(request.GET.get("inverter_efficiency", ""))
    except ValueError:
        return {}
    return {"inverter_efficiency": share} if 0.3 <= share <= 1 else {}


def _onward(request: HttpRequest) -> str:
    """Return where the cook that waits for this gear is recorded; empty where none does."""
    recipe = request.GET.get("cook", "")
    return reverse("energy:run-new", args=[recipe]) if slug_re.fullmatch(recipe) else ""


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def gear_remove(request: HttpRequest, sort: str, pk: int) -> HttpResponse:
    """Ask, then remove gear. ``/bench/<sort>/<pk>/remove/``; refused in words while runs use it."""
    gear = GEAR[sort]
    thing = access.gear(gear.model, pk)
    use = queries.gear_use(thing)
    if request.method == "POST" and not use.refuses:
        name = str(thing)
        operations.remove_gear(gear=thing)
        messages.success(request, f"“{name}” is removed.")
        return redirect(f"energy:{gear.lists}")
    context = {**gear.words, "thing": thing, "use": use}
    return render(request, "energy/gear/remove.html", context, status=409 if request.method == "POST" else 200)
