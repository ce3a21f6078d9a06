"""What a reader may ask of the library's shelf."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from django import forms

from kitchen.queries import SORTS, ShelfAsk

_LIMITS = {"wh": "energy_per_serving_wh", "w": "peak_w", "minutes": "total_min", "cost": "cost_per_serving"}


def _limit(label: str) -> forms.DecimalField:
    sentence = "Type a number above zero, such as 300, or leave this empty."
    field = forms.DecimalField(
        label=label,
        required=False,
        min_value=Decimal(0),
        max_value=Decimal(1_000_000),
        error_messages={"invalid": sentence, "min_value": sentence, "max_value": "Type a number below 1,000,000."},
        widget=forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"}),
    )
    return field


class ShelfForm(forms.Form):
    """Words, upper limits on figures, and an order. A limit that cannot be read is said, and the others still apply."""

    q = forms.CharField(
        label="Search",
        required=False,
        max_length=200,
        error_messages={"max_length": "Search for fewer words: 200 letters are the most."},
        widget=forms.TextInput(attrs={"type": "search", "placeholder": "lentils, soup, kettle …", "autocomplete": "off"}),
    )
    sort = forms.ChoiceField(label="In order of", required=False, choices=list(SORTS.items()))
    wh = _limit("Energy a serving, at most")
    w = _limit("Peak, at most")
    minutes = _limit("Time, at most")
    cost = _limit("Cost a serving, at most")
    fits = forms.BooleanField(label="Fits my kit", required=False)

    def ask(self, kit_limits: Mapping[str, Decimal]) -> ShelfAsk:
        """Return what was asked, without what could not be read; what fits a kit stays below the kit's limits too."""
        self.full_clean()
        read = self.cleaned_data
        limits = {figure: read[name] for name, figure in _LIMITS.items() if read.get(name) is not None}
        if read.get("fits"):
            limits = {
                **kit_limits,
                **limits,
                **{name: min(limits[name], kit_limits[name]) for name in limits.keys() & kit_limits.keys()},
            }
        return ShelfAsk(words=read.get("q", ""), sort=read.get("sort") or "title", at_most=limits)

    @property
    def limited(self) -> bool:
        """Whether any limit was typed, so that the page keeps the limits open."""
        return any(self.data.get(name) for name in _LIMITS)
