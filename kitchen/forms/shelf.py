"""What a reader may ask of the library's shelf."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django import forms
from django.core.validators import MaxLengthValidator

from kitchen.cards import shelf_figures, shelf_groups
from kitchen.domain.allergens import ALLERGENS
from kitchen.queries import ShelfAsk, marks_counted


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


def _mark(label: str) -> forms.CharField:
    """Return the field of a mark: any may be asked for, those that there are stand in a list with their counts."""
    sentence = "Choose one of the list."
    too_long = MaxLengthValidator(60, message=sentence)
    return forms.CharField(label=label, required=False, validators=[too_long], widget=forms.Select)


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
    free = forms.MultipleChoiceField(
        label="Free of",
        required=False,
        choices=[(one.key, one.words) for one in ALLERGENS],
        widget=forms.CheckboxSelectMultiple,
        error_messages={"invalid_choice": "Choose from the list of allergens."},
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.figures = shelf_figures()
        self.fields |= {figure.field: _limit(figure.limit) for figure in self.figures}
        self.groups = shelf_groups()
        self.fields |= {"tag": _mark("Tag"), **{group.name: _mark(group.title) for group in self.groups}}

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
        return ShelfAsk(
            words=read.get("q", ""),
            sort=read.get("sort") or "title",
            at_most=limits,
            marks={name: read[name] for name in self._mark_names if read.get(name)},
            free_of=tuple(read.get("free") or ()),
        )

    @property
    def _mark_names(self) -> list[str]:
        return ["tag", *(group.name for group in self.groups)]

    def count(self, ask: ShelfAsk) -> None:
        """Give every mark among which a reader may choose the number of recipes that it leaves. See ``marks_counted``."""
        words = {group.name: group.words for group in self.groups}
        for name, counted in marks_counted(ask, self._mark_names).items():
            chosen = ask.marks.get(name)
            if chosen and chosen not in dict(counted):
                counted.append((chosen, 0))
            said = [(value, f"{words.get(name, str)(value)} ({many})") for value, many in counted]
            self.fields[name].widget.choices = [("", "any"), *said]

    @property
    def marks(self) -> list[forms.BoundField]:
        """The fields of the marks that there are any of."""
        return [self[name] for name in self._mark_names if len(self.fields[name].widget.choices) > 1]

    @property
    def limits(self) -> list[tuple[forms.BoundField, str]]:
        """The fields of the limits, each with its unit; without one it is money."""
        return [(self[figure.field], figure.unit) for figure in self.figures]

    @property
    def limited(self) -> bool:
        """Whether any limit or mark was chosen, so that the page keeps them open."""
        return any(self.data.get(name) for name in (*(figure.field for figure in self.figures), *self._mark_names, "free"))
