"""Forms for appliances, power sources and meters."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from itertools import count
from typing import Any

from django import forms

from energy.form_fields import NumberField, ShareField
from energy.gear.domain.supply import OWN_CHARGE_EFFICIENCY, OWN_IDLE_W, OWN_INVERTER_EFFICIENCY
from energy.gear.operations import save_gear
from energy.kinds import APPLIANCE_KINDS, METER_PLACES, SOURCE_KINDS, ApplianceKind, appliance_kind, source_kind
from energy.models import Appliance, Meter, PowerSource
from kitchen.operations.journal import Hand

TAKEN = {"unique": "Another one has this name already. Pick a name that tells them apart."}

_USUAL_LOSSES = {
    "inverter_efficiency": OWN_INVERTER_EFFICIENCY,
    "idle_w": OWN_IDLE_W,
    "charge_efficiency": OWN_CHARGE_EFFICIENCY,
}


def _cookers(of: Callable[[ApplianceKind], bool]) -> tuple[str, ...]:
    return tuple(key for key, _ in APPLIANCE_KINDS if of(appliance_kind(key)))


def _sources(*, has_battery: bool) -> tuple[str, ...]:
    return tuple(key for key, _ in SOURCE_KINDS if source_kind(key).has_battery is has_battery)


class GearForm(forms.ModelForm):
    """What the gear forms share: the few fields that lead, a name where none was typed, the table's defaults for empty fields.

    ``lead`` are the fields that a first cook needs; the others are "more about it". ``matters`` says of a field for which keys of
    ``kind`` it matters; a field that is not there matters for all.
    """

    lead: tuple[str, ...] = ()
    matters: Mapping[str, Sequence[str]] = {}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["name"].required = False
        self.fields["name"].widget.attrs.update(autocomplete="off", placeholder=self.usual_name)
        for name, kinds in self.matters.items():
            self.fields[name].widget.attrs["data-kinds"] = " ".join(kinds)

    @property
    def usual_name(self) -> str:
        """What it is called where nobody gives it a name."""
        raise NotImplementedError

    @property
    def lead_fields(self) -> list[forms.BoundField]:
        """The fields that lead; also the name where it has a page of its own."""
        return [self[name] for name in (self.lead if self.prefix else ("name", *self.lead))]

    @property
    def more_fields(self) -> list[forms.BoundField]:
        """The other fields."""
        leading = {field.name for field in self.lead_fields}
        return [field for field in self if field.name not in leading]

    @property
    def more_is_open(self) -> bool:
        """Whether what stands under "more" must be seen."""
        return self.instance.pk is not None or any(field.errors for field in self.more_fields)

    @property
    def is_given(self) -> bool:
        """Whether somebody typed or chose anything in it."""
        shown = [field for field in self if field.html_name in self.data]
        return any(field.field.has_changed(field.initial, field.data) for field in shown)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        for name in self._meta.fields or ():
            value, field = cleaned.get(name), self._meta.model._meta.get_field(name)
            if name in cleaned and value is None and not field.null and field.has_default():
                cleaned[name] = field.get_default()
        if cleaned.get("name") == "":
            cleaned["name"] = self._free_name()
        return cleaned

    def _free_name(self) -> str:
        """Return the usual name, with a number where others have it. One query."""
        usual = self.usual_name
        others = self._meta.model._default_manager.exclude(pk=self.instance.pk).filter(name__startswith=usual)
        taken = {name.casefold() for name in others.values_list("name", flat=True)}
        numbered = (f"{usual} {number}" for number in count(2))
        return usual if usual.casefold() not in taken else next(name for name in numbered if name.casefold() not in taken)


class ApplianceForm(GearForm):
    """A cooker as its type plate and its manual describe it."""

    lead = ("kind", "rated_w")
    matters = {
        **dict.fromkeys(("capacity_l", "vessel_kg", "vessel_material", "fill_limit_pct"), _cookers(lambda kind: not kind.dry)),
        "foam_fill_limit_pct": _cookers(lambda kind: kind.room_to_swell),
        **dict.fromkeys(("min_liquid_ml", "pressure_kpa"), _cookers(lambda kind: kind.pressed)),
    }
    kind = forms.ChoiceField(choices=APPLIANCE_KINDS, label="What it is", initial=APPLIANCE_KINDS[0][0])
    rated_w = NumberField(
        low=1, high=20000, unit="W", label="Rated power", help_text="From the type plate under the cooker or beside its lead."
    )
    capacity_l = NumberField(
        low=0.1, high=200, unit="L", required=False, label="Holds, to the brim", help_text="Leave empty for a plate or an oven."
    )
    vessel_kg = NumberField(
        low=0.01, high=50, unit="kg", required=False, label="Pot weighs, empty", help_text="The inner pot alone."
    )
    fill_limit_pct = NumberField(
        low=1, high=100, unit="%", required=False, label="Fill at most", help_text="Two thirds unless the manual says less."
    )
    foam_fill_limit_pct = NumberField(
        low=1,
        high=100,
        unit="%",
        required=False,
        label="With food that swells or foams",
        help_text="Half for beans, lentils, grains and pasta, unless the manual says less.",
    )
    min_liquid_ml = NumberField(
        low=0, high=20000, unit="mL", required=False, label="Needs at least this much liquid", help_text="Pressure cookers."
    )
    pressure_kpa = NumberField(
        low=1,
        high=200,
        unit="kPa",
        required=False,
        label="Cooking pressure above the air's",
        help_text="Pressure cookers: 70 kPa is about 10 psi, 103 kPa about 15 psi.",
    )

    class Meta:
        model = Appliance
        fields = [
            "name",
            "kind",
            "rated_w",
            "capacity_l",
            "vessel_kg",
            "vessel_material",
            "fill_limit_pct",
            "foam_fill_limit_pct",
            "min_liquid_ml",
            "pressure_kpa",
            "note",
        ]
        labels = {"kind": "What it is", "vessel_material": "Pot is made of", "note": "Note"}
        help_texts = {"name": "As you call it, for example “big pot”.", "vessel_material": "For example steel or aluminium."}
        error_messages = {"name": TAKEN}

    @property
    def usual_name(self) -> str:
        """The kind of cooker."""
        return appliance_kind(self["kind"].value() or "").label.capitalize()


class PowerSourceForm(GearForm):
    """What the cooker is plugged into: a battery, a hook-up, the house."""

    lead = ("kind", "capacity_wh", "continuous_w")
    matters = {
        **dict.fromkeys(
            (
                *("capacity_wh", "continuous_w", "surge_w", "inverter_efficiency", "idle_w", "charge_efficiency"),
                *("reserve_pct", "display_step_pct", "charge_w", "charged_from", "panel_w", "battery_price", "battery_cycles"),
            ),
            _sources(has_battery=True),
        ),
        **dict.fromkeys(("volts", "amps"), _sources(has_battery=False)),
    }
    kind = forms.ChoiceField(choices=SOURCE_KINDS, label="What it is", initial=SOURCE_KINDS[0][0])
    capacity_wh = NumberField(
        low=1,
        high=1e6,
        unit="Wh",
        required=False,
        label="Battery holds",
        help_text="In watt-hours, or type 12 V x 100 Ah.",
    )
    continuous_w = NumberField(
        low=1, high=1e5, unit="W", required=False, label="Inverter gives all the time", help_text="Its continuous output."
    )
    surge_w = NumberField(
        low=1, high=1e5, unit="W", required=False, label="Gives for a moment", help_text="The surge rating, for a second or so."
    )
    inverter_efficiency = ShareField(
        low=30,
        high=100,
        required=False,
        label="Inverter passes on",
        help_text="Batteries: usually 85 to 92 of every 100 Wh; 88 when you do not know. Hook-up and mains: 100.",
    )
    idle_w = NumberField(
        low=0,
        high=500,
        unit="W",
        required=False,
        label="Inverter uses for itself",
        help_text="Batteries: usually 5 to 25 W while it is on; 10 when you do not know.",
    )
    charge_efficiency = ShareField(
        low=30,
        high=100,
        required=False,
        label="Charger passes on",
        help_text="Batteries: usually 85 to 95 of every 100 Wh from the wall; 90 when you do not know. Hook-up and mains: 100.",
    )
    reserve_pct = NumberField(
        low=0, high=90, unit="%", required=False, label="Kept in reserve", help_text="Batteries: what you never cook with."
    )
    display_step_pct = NumberField(
        low=0.01,
        high=25,
        unit="%",
        required=False,
        label="Charge display counts in steps of",
        help_text="Batteries: usually 1 %.",
    )
    charge_w = NumberField(
        low=1,
        high=1e5,
        unit="W",
        required=False,
        label="Charges with",
        help_text="Batteries: what its charger takes from wall or vehicle.",
    )
    charged_from = forms.TimeField(
        required=False,
        label="Charged from, by the clock",
        widget=forms.TimeInput(format="%H:%M", attrs={"type": "time"}),
        help_text="Batteries on a tariff by the clock; 22:00 when left empty.",
    )
    panel_w = NumberField(
        low=1, high=1e5, unit="W", required=False, label="Solar panel", help_text="Batteries: the panel’s rated watts."
    )
    volts = NumberField(low=1, high=500, unit="V", required=False, label="Voltage", help_text="Hook-up and mains: 230 or 120.")
    amps = NumberField(
        low=0.1,
        high=200,
        unit="A",
        required=False,
        label="Fuse or breaker",
        help_text="Hook-up and mains: as printed on it.",
    )

    class Meta:
        model = PowerSource
        fields = [
            "name",
            "kind",
            "capacity_wh",
            "continuous_w",
            "surge_w",
            "inverter_efficiency",
            "idle_w",
            "charge_efficiency",
            "reserve_pct",
            "display_step_pct",
            "charge_w",
            "charged_from",
            "panel_w",
            "battery_price",
            "battery_cycles",
            "volts",
            "amps",
            "tariff",
            "note",
        ]
        labels = {"tariff": "Charged or supplied at", "battery_price": "Battery cost", "battery_cycles": "Cycles it is good for"}
        help_texts = {
            "battery_price": "Only if its wear shall be told beside free sunshine. In the kitchen’s currency.",
            "battery_cycles": "As its maker promises, for example 3000.",
            "name": "As you call it, for example “van battery”.",
            "tariff": "What its kilowatt-hours cost.",
        }
        error_messages = {"name": TAKEN}

    @property
    def usual_name(self) -> str:
        """The kind of source."""
        return source_kind(self["kind"].value() or "").label.capitalize()

    def clean(self) -> dict[str, Any]:
        battery = source_kind(self.cleaned_data.get("kind", "")).has_battery
        if battery:
            self._assume_losses()
        cleaned = super().clean()
        if battery and "capacity_wh" in cleaned and cleaned["capacity_wh"] is None:
            self.add_error("capacity_wh", "A battery needs its watt-hours: without them no share of a charge can be worked out.")
        surge_w, continuous_w = cleaned.get("surge_w"), cleaned.get("continuous_w")
        if surge_w and continuous_w and surge_w < continuous_w:
            self.add_error("surge_w", "What it gives for a moment cannot be less than what it gives all the time.")
        return cleaned

    def _assume_losses(self) -> None:
        """Take what is usual where a battery's losses were left empty: an inverter that nobody asked about is not perfect."""
        for name, usual in _USUAL_LOSSES.items():
            if name in self.cleaned_data and self.cleaned_data[name] is None:
                self.cleaned_data[name] = usual


class MeterForm(GearForm):
    """A meter: its smallest step, its accuracy and where it sits."""

    lead = ("resolution_wh",)
    place = forms.ChoiceField(
        choices=METER_PLACES,
        label="Where it sits",
        initial=METER_PLACES[0][0],
        required=False,
        help_text="A meter on the battery side sees the inverter's own losses too.",
    )
    resolution_wh = NumberField(
        low=0.001,
        high=1000,
        unit="Wh",
        required=False,
        label="Smallest step of its counter",
        help_text="A display of 0.01 kWh counts in steps of 10 Wh.",
    )
    accuracy_pct = NumberField(
        low=0, high=20, unit="%", required=False, label="Accuracy", help_text="From its manual; 2 % when you do not know."
    )

    class Meta:
        model = Meter
        fields = ["name", "place", "resolution_wh", "accuracy_pct", "note"]
        help_texts = {"name": "As you call it, for example “plug meter”."}
        error_messages = {"name": TAKEN}

    @property
    def usual_name(self) -> str:
        """What most people call it."""
        return "Meter"

    def clean_place(self) -> str:
        """Return where it sits; at the socket where nobody says."""
        return self.cleaned_data["place"] or METER_PLACES[0][0]


COOKED_WITH: Mapping[str, type[GearForm]] = {"appliance": ApplianceForm, "source": PowerSourceForm, "meter": MeterForm}
"""What a cook needs, each with the form of a new one."""


def same_gear(new: GearForm) -> Any:
    """Return what was made of the very same words as a valid form before: what is sent twice makes one. One query."""
    said = {name: new.cleaned_data[name] for name in new.lead}
    return new._meta.model._default_manager.filter(**said, name__startswith=new.usual_name).first()


class GearChoices(forms.Form):
    """What a cook is cooked on, plugged into and read from: each is chosen, or typed in as a new one in its place."""

    appliance = forms.ModelChoiceField(Appliance.objects.all(), empty_label="choose …", label="Cooked on")
    source = forms.ModelChoiceField(PowerSource.objects.all(), empty_label="choose …", label="Plugged into")
    meter = forms.ModelChoiceField(Meter.objects.all(), empty_label="choose …", label="Read from")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.new: dict[str, GearForm] = {}
        for name, form in COOKED_WITH.items():
            new = form(self.data if self.is_bound else None, prefix=f"new-{name}")
            self.new[name] = new if self.is_bound and new.is_given else form(prefix=f"new-{name}")
            self.fields[name].required = not self.new[name].is_bound

    @property
    def choices(self) -> list[tuple[forms.BoundField, GearForm]]:
        """The choices, each with the form of a new one."""
        return [(self[name], new) for name, new in self.new.items()]

    @property
    def circumstances(self) -> list[forms.BoundField]:
        """The other fields."""
        return [field for field in self.visible_fields() if field.name not in self.new]

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        for name, new in self.new.items():
            if new.is_bound and new.is_valid():
                cleaned[name] = same_gear(new) or new.instance
            elif new.is_bound:
                self.add_error(name, "The new one is not whole yet: see below.")
        return cleaned

    def save_new(self, *, by: Hand | None) -> None:
        """Keep the new gear of a valid form, so that it is what was chosen."""
        for name in self.new:
            if self.cleaned_data[name].pk is None:
                save_gear(gear=self.cleaned_data[name], by=by)
