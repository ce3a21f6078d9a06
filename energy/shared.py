"""Energy's shared things: appliances, power sources, meters and tariffs, as the bench tells of them and puts them back."""

from __future__ import annotations

from functools import partial
from typing import Any

from django.db.models import Model
from django.urls import reverse

from energy.gear.forms import ApplianceForm, MeterForm, PowerSourceForm
from energy.gear.operations import save_gear
from energy.models import Appliance, Meter, PowerSource, Tariff
from energy.tariffs.forms.tariff import TariffForm
from kitchen.shared import SharedKind

_LEARNED = {"wh_per_pct": "One per cent gives, in Wh", "wh_per_pct_uncertainty": "± of what one per cent gives, in Wh"}


def shared_kinds() -> list[SharedKind]:
    """Return the four sorts of gear."""
    sorts: list[tuple[str, type[Model], str, Any]] = [
        ("appliances", Appliance, "appliance", ApplianceForm),
        ("sources", PowerSource, "power source", PowerSourceForm),
        ("meters", Meter, "meter", MeterForm),
        ("tariffs", Tariff, "tariff", TariffForm),
    ]
    return [
        SharedKind(
            slug=slug,
            model=model,
            one=one,
            address=partial(_address, slug),
            save=lambda gear: save_gear(gear=gear),
            labels=_LEARNED | {name: str(field.label) for name, field in form.base_fields.items() if field.label},
        )
        for slug, model, one, form in sorts
    ]


def _address(slug: str, number: int) -> str:
    return reverse(f"energy:{slug}-edit", args=[number])
