"""A collection on the bench: its name, its recipes in their order, the servings of each."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, cast

from django import forms
from django.forms import BoundField

from kitchen.forms.numbers import NumberField, NumberInput
from kitchen.forms.servings import MOST_SERVINGS
from kitchen.models import Recipe

MOST_DISHES = 60
_ROW = re.compile(r"dish([0-9]{1,3})\Z")


def _title() -> forms.CharField:
    return forms.CharField(
        label="Name",
        max_length=120,
        error_messages={"required": "Give it a name, like Three days at the hut."},
        widget=forms.TextInput({"dir": "auto"}),
    )


class NewCollectionForm(forms.Form):
    """The name of a new collection."""

    title = _title()


@dataclass(frozen=True)
class DishRow:
    """A recipe in its place: its fields, and an ``id`` that stays with it where it is moved."""

    place: int
    recipe: Recipe
    number: BoundField
    servings: BoundField
    id: str


class CollectionForm(forms.Form):
    """The whole collection. ``do`` is what a button asks: ``up:2``, ``down:2``, ``drop:2``; anything else saves."""

    title = _title()
    summary = forms.CharField(
        label="What it is for", max_length=300, required=False, widget=forms.Textarea({"rows": 2, "dir": "auto"})
    )
    add = forms.TypedChoiceField(
        label="Add a recipe",
        coerce=int,
        empty_value=None,
        required=False,
        error_messages={"invalid_choice": "That recipe is not here any more. Choose another."},
    )

    def __init__(self, *args: Any, dishes: Sequence[tuple[int, int | None]], choices: Sequence[Recipe], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self._known = {recipe.pk: recipe for recipe in choices}
        listed = [("", "choose a recipe"), *((recipe.pk, recipe.title) for recipe in choices)]
        cast("forms.TypedChoiceField", self.fields["add"]).choices = listed
        rows = self._sent() if self.is_bound else list(dishes)
        for place, (number, servings) in enumerate(rows):
            self.fields[f"dish{place}"] = forms.IntegerField(widget=forms.HiddenInput, initial=number, required=False)
            self.fields[f"for{place}"] = _servings(self._known[number].title, servings)
        self._numbers = [number for number, _ in rows]
        if self.is_bound:
            self.data = self._renumbered()

    def _places(self) -> list[str]:
        found = {int(match[1]): match[1] for name in self.data if (match := _ROW.match(name))}
        numbers = {place: _number(self.data[f"dish{place}"]) for place in (found[at] for at in sorted(found))}
        return [place for place, number in numbers.items() if number in self._known][:MOST_DISHES]

    def _sent(self) -> list[tuple[int, None]]:
        """Return the recipes that came, in their order; those that nobody may put here are left out."""
        return [(_number(self.data[f"dish{place}"]), None) for place in self._places()]

    def _renumbered(self) -> dict[str, Any]:
        rows = [(self.data[f"dish{place}"], self.data.get(f"for{place}", "")) for place in self._places()]
        held = {name: value for name, value in self.data.items() if not re.match(r"(dish|for)[0-9]", name)}
        for at, (number, servings) in enumerate(rows):
            held |= {f"dish{at}": number, f"for{at}": servings}
        return held

    @property
    def rows(self) -> list[DishRow]:
        """The recipes in their places."""
        seen: dict[int, int] = {}
        found = []
        for place, number in enumerate(self._numbers):
            seen[number] = seen.get(number, 0) + 1
            fields = self[f"dish{place}"], self[f"for{place}"]
            found.append(DishRow(place, self._known[number], *fields, f"{number}-{seen[number]}"))
        return found

    def clean(self) -> dict[str, Any]:
        """Refuse one recipe more than a collection holds."""
        cleaned = super().clean() or self.cleaned_data
        if cleaned.get("add") and len(self._numbers) >= MOST_DISHES:
            self.add_error("add", f"A collection holds at most {MOST_DISHES} recipes. Take one out first.")
        return cleaned

    @property
    def dishes(self) -> list[tuple[int, int | None]]:
        """What the collection holds from now on: what was sent, moved, without what was taken out, with what was added."""
        cleaned = self.cleaned_data
        held = [(number, cleaned.get(f"for{place}")) for place, number in enumerate(self._numbers)]
        dishes = [(number, None if servings is None else int(servings)) for number, servings in held]
        word, _, told = str(self.data.get("do", "")).partition(":")
        at = int(told) if told.isascii() and told.isdigit() and len(told) < 4 else -1
        if 0 <= at < len(dishes):
            to = at + {"up": -1, "down": 1}.get(word, 0)
            moved = dishes.pop(at)
            if word != "drop":
                dishes.insert(max(0, to), moved)
        return [*dishes, *([(cleaned["add"], None)] if cleaned.get("add") else [])]


def _servings(title: str, initial: int | None) -> NumberField:
    return NumberField(
        low=1,
        high=MOST_SERVINGS,
        places=0,
        required=False,
        initial=initial,
        label=f"Servings: {title}",
        widget=NumberInput({"placeholder": "as written"}),
    )


def _number(typed: Any) -> int:
    text = str(typed)
    return int(text) if text.isascii() and text.isdigit() and len(text) < 19 else 0
