"""The reader's kit: the circumstances that the cards understand, from the address or from the cookie that remembers them."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django import forms
from django.forms import BoundField
from django.utils.http import urlencode

from kitchen.cards import registered

_LONGEST_COOKIE = 1000


@dataclass(frozen=True)
class KitReading:
    """What was read: ``values`` for the cards, ``typed`` as it was typed, ``forms`` to draw the plate again."""

    forms: tuple[forms.Form, ...]
    values: Mapping[str, Any]
    typed: Mapping[str, str]

    @property
    def fields(self) -> list[BoundField]:
        """Every card's fields, in the order of the cards; a field that two cards understand stands there once."""
        return list({bound.name: bound for form in reversed(self.forms) for bound in reversed(list(form))}.values())[::-1]

    @property
    def leading(self) -> list[BoundField]:
        """The few fields that matter most, by the cards' own word."""
        return [field for field in self.fields if field.name in self._leading]

    @property
    def further(self) -> list[BoundField]:
        """The other fields."""
        return [field for field in self.fields if field.name not in self._leading]

    @property
    def further_used(self) -> bool:
        """Whether any of the other fields holds something, so that they stand open."""
        return any(self.typed.get(field.name) for field in self.further)

    @property
    def _leading(self) -> set[str]:
        return {name for form in self.forms for name in getattr(form, "leading", ())}

    @property
    def presets(self) -> list[tuple[str, str]]:
        """Kits in plain words, each with the query that stands for it."""
        return [(words, urlencode(values)) for form in self.forms for words, values in getattr(form, "presets", ())]

    @property
    def question(self) -> str:
        """What the shelf asks a reader who typed no kit yet, in the first card's words."""
        return next((form.question for form in self.forms if hasattr(form, "question")), "What fits my kit?")

    @property
    def holds(self) -> str:
        """What a kit is about, in the first card's words."""
        return next((form.holds for form in self.forms if hasattr(form, "holds")), "it")

    @property
    def limits(self) -> dict[str, Decimal]:
        """What a recipe's figures may be at most to fit this kit, by every card that understands it."""
        return {name: limit for card in registered() for name, limit in card.kit_limits(self.values).items()}

    @property
    def query(self) -> dict[str, str]:
        """What was typed and could be read, as it stands in an address."""
        return {name: typed for name, typed in self.typed.items() if name in self.values}

    @property
    def query_text(self) -> str:
        """The same, spelled for an address."""
        return urlencode(self.query)

    @property
    def sound(self) -> bool:
        """Whether everything that was typed could be read."""
        return not any(form.errors for form in self.forms)


CALLED, _LONGEST_CALLED = "called", 40
"""What an address calls the kit that it carries, in the words of whoever passed it on."""


def called(asked: Mapping[str, str]) -> str:
    """Return what an address calls its kit; empty where it names none, or carries no kit."""
    known = any(asked.get(name) for name in field_names())
    return " ".join(asked.get(CALLED, "").split())[:_LONGEST_CALLED] if known else ""


def field_names() -> list[str]:
    """Return the names of all fields that any card's kit form has."""
    return [name for kind in _kinds() for name in kind.base_fields]


def read_kit(asked: Mapping[str, str]) -> KitReading:
    """Return the kit that an address names."""
    return _reading({name: asked[name] for name in field_names() if name in asked})


def remembered_kit(cookie: str | None) -> KitReading:
    """Return the kit that a browser remembers; what of it cannot be read any more is dropped."""
    return _reading(_reading(_from_cookie(cookie, field_names())).query)


def cookie_text(reading: KitReading) -> str:
    """Return what the cookie remembers: the fields as typed, and nobody's name."""
    return json.dumps({name: typed for name, typed in reading.typed.items() if typed}, separators=(",", ":"))


def _kinds() -> Iterable[type[forms.Form]]:
    return [card.kit_form for card in registered() if card.kit_form is not None and card.audience == "everyone"]


def _reading(typed: Mapping[str, str]) -> KitReading:
    bound = tuple(kind(dict(typed), prefix=None) for kind in _kinds())
    values = {
        name: value
        for form in bound
        if form.is_valid() or form.cleaned_data
        for name, value in form.cleaned_data.items()
        if value not in (None, "")
    }
    return KitReading(forms=bound, values=values, typed=typed)


def _from_cookie(text: str | None, names: Iterable[str]) -> dict[str, str]:
    if not text or len(text) > _LONGEST_COOKIE:
        return {}
    try:
        kept = json.loads(text)
    except ValueError:
        return {}
    return {name: kept[name] for name in names if isinstance(kept.get(name), str)} if isinstance(kept, dict) else {}
