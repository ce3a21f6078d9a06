"""What a reader may ask of the library's shelf."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django import forms

from kitchen.cards import shelf_figures
from kitchen.queries import ShelfAsk


def _limit(label: str) -> forms.DecimalField:
    sentence = "Type a number above zero, such as 300, or leave this empty."
    return forms.DecimalField(
        label=label,
        required=False,
        min_value=Decimal(0),
        max_value=Decimal(1_000_000),
        error_messages={"invalid": sentence, "min_value": sentence, "max_value": "Type a number below 1,000,000."},
        widget=forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"}),
    )


def _orders() -> list[tuple[str, str]]:
    figures = sorted(shelf_figures(), key=lambda figure: figure.sort_order)
    return [("title", "title"), ("newest", "newest first"), *((figure.name, figure.sort) for figure in figures)]


class ShelfForm(forms.Form):
    """Words, upper limits on figures, and an order. A limit that cannot be read is said, and the others still apply."""

    q = forms.CharField(
        label="Search",
        required=False,
        max_length=200,
        error_messages={"max_length": "Search for fewer words: 200 letters are the most."},
        widget=forms.TextInput(attrs={"type": "search", "placeholder": "lentils, soup, kettle …", "autocomplete": "off"}),
    )
    sort = forms.ChoiceField(label="In order of", required=False, choices=_orders)
    fits = forms.BooleanField(label="Fits my kit", required=False)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.figures = shelf_figures()
        self.fields |= {figure.field: _limit(figure.limit) for figure in self.figures}

    def ask(self, kit_limits: Mapping[str, Decimal]) -> ShelfAsk:
        """Return what was asked, without what could not be read; what fits a kit stays below the kit's limits too."""
        self.full_clean()
        read = self.cleaned_data
        limits = {figure.name: read[figure.field] for figure in self.figures if read.get(figure.field) is not None}
        if read.get("fits"):
            limits = {
                **kit_limits,
                **limits,
                **{name: min(limits[name], kit_limits[name]) for name in limits.keys() & kit_limits.keys()},
            }
        return ShelfAsk(words=read.get("q", ""), sort=read.get("sort") or "title", at_most=limits)

    @property
    def limits(self) -> list[tuple[forms.BoundField, str]]:
        """The fields of the limits, each with its unit; without one it is money."""
        return [(self[figure.field], figure.unit) for figure in self.figures]

    @property
    def limited(self) -> bool:
        """Whether any limit was typed, so that the page keeps the limits open."""
        return any(self.data.get(figure.field) for figure in self.figures)
