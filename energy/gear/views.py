"""The gear of the kitchen, shared by all signed-in cooks: one page for all of it, and the same two pages for each piece."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.validators import slug_re
from django.db import models
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from energy import access
from energy.gear.forms import ApplianceForm, GearForm, MeterForm, PowerSourceForm
from energy.gear.operations import keep_charge, remove_gear, save_gear, save_together
from energy.gear.queries.learned import learned_of
from energy.gear.queries.lists import gear_defaults, gear_rows, gear_use
from energy.models import Appliance, Meter, PowerSource, Tariff
from energy.tariffs.forms.tariff import TariffForm
from energy.words import ENGLISH
from energy.words.both_ends import kept_words, shown_words
from kitchen.operations.journal import Hand
from kitchen.queries.changes import changes_of, newest_removal
from kitchen.views.doors import hand_of, removed_from
from kitchen.views.first_things import onward


@dataclass(frozen=True)
class GearPages:
    """One sort of gear and the words of its pages. ``lists`` is the name of its place on the page."""

    lists: str
    model: type[models.Model]
    form: type[GearForm]
    one: str
    many: str
    lede: str

    @property
    def article(self) -> str:
        """The sort with its article: "an appliance"."""
        return f"{'an' if self.one[0] in 'aeiou' else 'a'} {self.one}"

    @property
    def template(self) -> str:
        """The template of its rows."""
        return f"energy/gear/{self.lists}.html"

    @property
    def add(self) -> str:
        """The name of the address at which one is added."""
        return f"energy:{self.lists}-new"


GEAR: dict[str, GearPages] = {
    gear.lists: gear
    for gear in (
        GearPages("appliances", Appliance, ApplianceForm, "cooker", "Cookers", "Its rated power stands on its type plate."),
        GearPages("meters", Meter, MeterForm, "meter", "Meters", "What shows the watt-hours. 0.01 kWh on its display is 10 Wh."),
        GearPages("sources", PowerSource, PowerSourceForm, "power source", "Power sources", "What the cooker is plugged into."),
        GearPages("tariffs", Tariff, TariffForm, "price of electricity", "Prices of electricity", "Where you charge or plug in."),
    )
}


@login_required
@require_safe
def gear_list(request: HttpRequest, sort: str) -> HttpResponse:
    """Lead on to the sort's place on the one page. ``/bench/<sort>/``; any signed-in cook."""
    asked = f"?{request.GET.urlencode()}" if request.GET else ""
    return redirect(f"{reverse('energy:gear')}{asked}#{sort}")


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def gear_page(request: HttpRequest) -> HttpResponse:
    """All gear, and one form for what is not there yet. ``/bench/gear/``; any signed-in cook; a bad form comes back as typed.

    ``?cook=<slug>`` leads on to recording a cook of that recipe, where the gear was missing.
    """
    rows = {sort: list(gear_rows(gear.model)) for sort, gear in GEAR.items()}
    data = request.POST if request.method == "POST" else None
    asked = [(gear, _new_form(gear, data)) for sort, gear in GEAR.items() if not rows[sort]]
    given = [form for _, form in asked if data is not None and form.is_given]
    valid = [form.is_valid() for form in given]
    if given and all(valid):
        save_together(gear=[form.instance for form in given], by=hand_of(request))
        messages.success(request, f"Saved: {', '.join(str(form.instance) for form in given)}.")
        return redirect(_onward(request) or onward(request.user))
    context = {
        "asked": asked,
        "nothing": data is not None and not given,
        "held": [(gear, rows[sort]) for sort, gear in GEAR.items() if rows[sort]],
        "removed": newest_removal(request.GET.get("removed", ""), list(GEAR)),
        "onward": _onward(request),
        "bench": reverse("kitchen:bench"),
    }
    return render(request, "energy/gear/page.html", context, status=422 if data is not None else 200)


def _new_form(gear: GearPages, data: Any) -> GearForm:
    """Return the form for the first of a sort. One that nobody filled in is not looked at, and has no mistakes."""
    defaults = gear_defaults(gear.model)
    form = gear.form(data, prefix=gear.lists, initial=defaults)
    return form if data is None or form.is_given else gear.form(prefix=gear.lists, initial=defaults)


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
    price = _new_price(request.POST or None) if gear.model is PowerSource else None
    if request.method == "POST" and all([form.is_valid(), price is None or not price.is_bound or price.is_valid()]):
        _save(form.instance, price, by=hand_of(request))
        messages.success(request, f"“{form.instance}” is saved.")
        return redirect(_onward(request) or reverse("energy:gear"))
    remove = reverse(f"energy:{gear.lists}-remove", args=[thing.pk]) if thing else ""
    context = {"gear": gear, "back": reverse("energy:gear"), "form": form, "thing": thing, "remove": remove}
    context |= {"onward": _onward(request), "new_price": price}
    if isinstance(thing, PowerSource):
        context |= _charge_of(thing)
    context["history"] = changes_of(thing, gear.lists) if thing else []
    return render(request, "energy/gear/edit.html", context, status=422 if form.is_bound else 200)


def _new_price(data: Any) -> GearForm:
    """Return the form of a price that is typed where it is chosen; one that nobody filled in has no mistakes."""
    typed = TariffForm(data, prefix="new-tariff")
    return typed if data is not None and typed.is_given else TariffForm(prefix="new-tariff")


def _save(thing: Any, price: GearForm | None, *, by: Hand) -> None:
    """Save a piece of gear, at the new price that was typed with it."""
    if price is None or not price.is_bound:
        save_gear(gear=thing, by=by)
        return
    thing.tariff = None
    save_together(gear=[price.instance, thing], by=by)


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
    messages.success(request, "It is saved." if learned else "It is forgotten: shares are worked out from the label again.")
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
        return removed_from(gear.lists, reverse("energy:gear"))
    context = {"gear": gear, "back": reverse("energy:gear"), "thing": thing, "use": use}
    return render(request, "energy/gear/remove.html", context, status=409 if request.method == "POST" else 200)
