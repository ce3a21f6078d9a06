"""Fetch and check in one call: the object, or 404. A run is for those who may edit its recipe, gear for all who are signed in."""

from __future__ import annotations

from collections.abc import Collection
from typing import TYPE_CHECKING, Any
from uuid import UUID

from django.db.models import Model, QuerySet
from django.http import Http404
from django.shortcuts import get_object_or_404

from energy.models import DeviceToken, LoadedFile, Reading, Run
from kitchen.access import may_edit
from kitchen.queries.roles import is_helper

if TYPE_CHECKING:
    from kitchen.access import Person


def _runs() -> QuerySet[Run]:
    return Run.objects.select_related("revision__recipe__owner", "appliance", "source__tariff", "meter")


def run_for_bench(person: Person, number: int) -> Run:
    """Return the run for the person who may edit its recipe, or the helper who recorded it.

    Raises
    ------
    Http404
        If there is no such run, or its recipe belongs to another cook.
    """
    run = get_object_or_404(_runs(), pk=number)
    if not may_edit(person, run.revision.recipe) and not (run.operator_id == person.pk and is_helper(person)):
        raise Http404("There is no run at this address.")
    return run


def runs_for_bench(person: Person, numbers: Collection[int]) -> list[Run]:
    """Return those of these runs whose recipe the person may edit, in the order in which they began. One query."""
    found = _runs().filter(pk__in=numbers).order_by("started_at")
    return [run for run in found if may_edit(person, run.revision.recipe)]


def run_at_desk(person: Person, name: str) -> Run:
    """Return the run of a number, or of the UUID that it was started under, or 404."""
    if name.isascii() and name.isdigit() and len(name) < 19:
        return run_for_bench(person, int(name))
    try:
        number = Run.objects.values_list("pk", flat=True).get(once=UUID(name))
    except (ValueError, Run.DoesNotExist):
        raise Http404("There is no run at this address.") from None
    return run_for_bench(person, number)


def reading_for_bench(person: Person, number: int, key: UUID) -> Reading:
    """Return one reading of a run, or 404; ``reading.run`` is the run with its gear."""
    run = run_for_bench(person, number)
    reading: Reading = get_object_or_404(Reading, pk=key, run=run)
    reading.run = run
    return reading


def file_for_bench(person: Person, number: int, file: int) -> LoadedFile:
    """Return a file whose readings stand in a run, or 404; ``file.run`` is the run with its gear."""
    run = run_for_bench(person, number)
    found: LoadedFile = get_object_or_404(LoadedFile, pk=file, run=run)
    found.run = run
    return found


def device(meter: int, number: int) -> DeviceToken:
    """Return what lets a device send a meter's readings, or 404; any signed-in cook may look after it."""
    return get_object_or_404(DeviceToken.objects.select_related("meter"), pk=number, meter=meter)


def gear(model: type[Model], number: int) -> Any:
    """Return an appliance, a power source, a meter or a tariff, or 404; any signed-in cook may look after them."""
    return get_object_or_404(model._default_manager.all(), pk=number)
