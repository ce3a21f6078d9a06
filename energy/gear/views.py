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
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from energy import access
from energy.gear.forms import ApplianceForm, MeterForm, PowerSourceForm
from energy.gear.operations import keep_charge, remove_gear, save_gear
from energy.gear.queries.learned import learned_of
from energy.gear.queries.lists import gear_defaults, gear_rows, gear_use
from energy.models import Appliance, Meter, PowerSource, Tariff
from energy.tariffs.forms.tariff import TariffForm
from energy.words import ENGLISH
from energy.words.both_ends import kept_words, shown_words
from kitchen.queries.changes import changes_of, newest_removal
from kitchen.views.doors import hand_of, removed_from


@dataclass(frozen=True)
class GearPages:
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


GEAR: dict[str, GearPages] = {
    gear.lists: gear
    for gear in (
        GearPages(
            "appliances",
            Appliance,
            ApplianceForm,
            "appliance",
            "Appliances",
            "What cooks. The rating and the fill limits come from the type plate and the manual.",
            "No appliance yet. Add the cooker that you want to measure: its name and its watts are enough.",
        ),
        GearPages(
            "sources",
            PowerSource,
            PowerSourceForm,
            "power source",
            "Power sources",
            "What the cooker is plugged into: a battery, a hook-up, the house.",
            "No power source yet. Add the battery or the socket that feeds your cooker.",
        ),
        GearPages(
            "meters",
            Meter,
            MeterForm,
            "meter",
            "Meters",
            "What shows the watt-hours. Its step and its accuracy decide how sure a figure can be.",
            "No meter yet. A plug-in energy meter is a good one; a battery's own display works too.",
        ),
        GearPages(
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
    rows = gear_rows(gear.model)
    removed = newest_removal(request.GET.get("removed", ""), [sort])
    return render(request, f"energy/gear/{sort}.html", {**gear.words, "rows": rows, "removed": removed})


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


def _edit(request: HttpRequest, gear: GearPages, thing: Any) -> HttpResponse:
    form = gear.form(request.POST or None, instance=thing, initial=None if thing else gear_defaults(gear.model))
    if request.method == "POST" and form.is_valid():
        save_gear(gear=form.instance, by=hand_of(request))
        messages.success(request, f"“{form.instance}” is kept.")
        return redirect(_onward(request) or reverse(f"energy:{gear.lists}"))
    remove = reverse(f"energy:{gear.lists}-remove", args=[thing.pk]) if thing else ""
    context = {**gear.words, "form": form, "thing": thing, "remove": remove, "onward": _onward(request)}
    if isinstance(thing, PowerSource):
        context |= _charge_of(thing)
    context["history"] = changes_of(thing, gear.lists) if thing else []
    return render(request, "energy/gear/edit.html", context, status=422 if form.is_bound else 200)


def _charge_of(source: PowerSource) -> dict[str, str]:
    """Return what its cooks showed of its charge, and what is kept of that, as sentences; empty where nothing is."""
    learned, kept = learned_of(source), source.wh_per_pct
    return {
        "shown": shown_words(learned, ENGLISH) if learned else "",
        "kept": kept_words(kept, source.wh_per_pct_uncertainty, ENGLISH) if kept else "",
    }


def _onward(request: HttpRequest) -> str:
    """Return where the cook that waits for this gear is recorded; empty where none does."""
    recipe = request.GET.get("cook", "")
    return reverse("energy:run-new", args=[recipe]) if slug_re.fullmatch(recipe) else ""


@login_required
@require_POST
def source_charge(request: HttpRequest, pk: int) -> HttpResponse:
    """Keep what cooks showed one per cent of a battery's charge to give, or forget it. ``/bench/sources/<pk>/charge/``."""
    source = access.gear(PowerSource, pk)
    learned = None if "forget" in request.POST else learned_of(source)
    keep_charge(source=source, learned=learned, by=hand_of(request))
    messages.success(request, "It is kept." if learned else "It is forgotten: shares are worked out from the label again.")
    return redirect("energy:sources-edit", pk)


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def gear_remove(request: HttpRequest, sort: str, pk: int) -> HttpResponse:
    """Ask, then remove gear. ``/bench/<sort>/<pk>/remove/``; refused in words while runs use it."""
    gear = GEAR[sort]
    thing = access.gear(gear.model, pk)
    use = gear_use(thing)
    if request.method == "POST" and not use.refuses:
        remove_gear(gear=thing, by=hand_of(request))
        return removed_from(gear.lists, reverse(f"energy:{gear.lists}"))
    context = {**gear.words, "thing": thing, "use": use}
    return render(request, "energy/gear/remove.html", context, status=409 if request.method == "POST" else 200)
