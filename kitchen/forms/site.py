"""What the kitchen says about itself."""

from __future__ import annotations

from typing import Any
from zoneinfo import available_timezones

from django import forms
from django.core.exceptions import ValidationError
from django.utils import timezone

from kitchen.domain.licences import LICENCES
from kitchen.domain.money import CURRENCIES
from kitchen.domain.systems import system_choices
from kitchen.forms.numbers import NumberField
from kitchen.models import COMMAS, ROUNDINGS
from kitchen.words import ENGLISH, sentence

_REGIONS = ("Africa", "America", "Antarctica", "Arctic", "Asia", "Atlantic", "Australia", "Europe", "Indian", "Pacific")


class CurrencyField(forms.CharField):
    """A currency by its three letters (ISO 4217)."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("help_text", "Three letters, like EUR, USD, GBP or AUD.")
        kwargs.setdefault("initial", "EUR")
        kwargs.setdefault("label", "Currency")
        super().__init__(
            max_length=12,
            widget=forms.TextInput({"size": "5", "autocapitalize": "characters", "autocomplete": "off"}),
            error_messages={"required": "Type the three letters of the currency, like EUR."},
            **kwargs,
        )

    def to_python(self, value: Any) -> str:
        return str(super().to_python(value)).upper()

    def validate(self, value: Any) -> None:
        super().validate(value)
        if value and value not in CURRENCIES:
            raise ValidationError(
                "“%(code)s” is no currency that is in use (ISO 4217). Type its three letters, like EUR or USD.",
                params={"code": value},
            )


class ZoneField(forms.ChoiceField):
    """A time zone, chosen by region and place. Cleans to its name, like Europe/Vienna."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("label", "Time zone")
        kwargs.setdefault("required", False)
        kwargs.setdefault("help_text", "By its clock times are shown and typed. What was recorded keeps its moment.")
        super().__init__(choices=_zones, initial=timezone.get_default_timezone_name, **kwargs)


def _zones() -> list[tuple[str, Any]]:
    """Return the zones by region, and before them the server's own, whatever it is called."""
    own = timezone.get_default_timezone_name()
    names = sorted(available_timezones())
    regions = [(region, [(one, _place(one)) for one in names if one.startswith(f"{region}/")]) for region in _REGIONS]
    return [*((one, one) for one in sorted({"UTC", own})), *regions]


def _place(name: str) -> str:
    return name.partition("/")[2].replace("/", ", ").replace("_", " ")


def _licences() -> list[tuple[str, str]]:
    known = [(key, f"{sentence(ENGLISH, f'licence_{key}')} ({key})") for key in LICENCES]
    return [("", "none: whoever wants more than to quote asks"), *known]


class SiteForm(forms.Form):
    """Name, tagline, currency, time zone, measures, rounding, the comma, altitude, licence of the data and public address."""

    name = forms.CharField(
        label="What this kitchen is called",
        max_length=80,
        error_messages={"required": "Give the kitchen a name."},
        widget=forms.TextInput({"dir": "auto"}),
    )
    tagline = forms.CharField(label="One line about it", max_length=160, required=False, widget=forms.TextInput({"dir": "auto"}))
    currency = CurrencyField()
    time_zone = ZoneField()
    measures = forms.ChoiceField(
        choices=system_choices,
        label="Amounts are shown",
        help_text=(
            "In an Australian kitchen “tbsp” and “cup” in a line mean 20 and 250 mL; there and in a British one a pint 568 mL. "
            "Lines that were read before keep what they meant."
        ),
        widget=forms.RadioSelect,
    )
    rounding = forms.ChoiceField(
        choices=ROUNDINGS,
        label="Scaled amounts are rounded as in",
        initial="school",
        required=False,
        widget=forms.RadioSelect,
    )
    comma = forms.ChoiceField(
        choices=COMMAS,
        label="A comma before three digits",
        initial="thousands",
        required=False,
        help_text="In a number that is typed. What was understood is said; where energy or money depends on it, you are asked.",
        widget=forms.RadioSelect,
    )
    altitude_m = NumberField(
        label="Altitude of the kitchen",
        unit="m",
        low=-430,
        high=5500,
        places=0,
        error_messages={"required": "Type the altitude in metres; 0 at the sea."},
        help_text="Water boils cooler higher up.",
    )
    licence = forms.ChoiceField(
        choices=_licences,
        label="Licence of the data",
        required=False,
        help_text="Of recipes as JSON, runs as CSV and what feeds carry; photos are not in it. It cannot be taken back from "
        "those who have the data already.",
        widget=forms.RadioSelect,
    )
    cite_as = forms.CharField(
        label="Whom to name",
        max_length=80,
        required=False,
        help_text="In “how to cite”. Empty: the cook of each recipe.",
        widget=forms.TextInput({"dir": "auto"}),
    )
    base_url = forms.URLField(
        label="Public address",
        required=False,
        max_length=200,
        assume_scheme="https",
        help_text="For printed cards and their QR codes, like https://kitchen.example.org.",
        error_messages={"invalid": "Type a whole address, like https://kitchen.example.org."},
        widget=forms.TextInput({"inputmode": "url", "autocomplete": "off"}),
    )

    def clean_rounding(self) -> str:
        """Return the way of rounding; the school meals' where none is chosen."""
        return str(self.cleaned_data["rounding"] or "school")

    def clean_comma(self) -> str:
        """Return what a comma means; thousands where nothing is chosen."""
        return str(self.cleaned_data["comma"] or "thousands")

    def clean_altitude_m(self) -> int:
        """Return whole metres."""
        return int(self.cleaned_data["altitude_m"])

    def clean_base_url(self) -> str:
        """Return the address without a slash at its end, so that paths can follow it."""
        return str(self.cleaned_data["base_url"]).rstrip("/")
