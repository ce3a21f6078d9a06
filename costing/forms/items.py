"""What is known of a thing on the shelf: how it is sold, what a pack holds, and what it gives."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from costing.domain.conversion import based
from costing.forms.fields import FoodField, PackField
from costing.models import ITEM_STATES, SOLD_AS, Item
from costing.queries import FoodNames
from kitchen.domain.amounts import format_amount, parse_amount
from kitchen.domain.packs import LOOSE, pack_words
from kitchen.domain.units import find_unit
from kitchen.models import Food

GIVES = 3


class CountField(forms.CharField):
    """A number of pieces as typed: "8", "2½"."""

    def clean(self, value: Any) -> Fraction | None:
        """Return the number, or a sentence."""
        typed = super().clean(value)
        try:
            number = parse_amount(typed) if typed else None
        except ValueError:
            raise ValidationError("Type a number of pieces, like 8.") from None
        if number is not None and not 0 < number <= 100_000:
            raise ValidationError("Type a number of pieces, like 8.")
        return number


class ItemForm(forms.Form):
    """A thing on the shelf; every field may stay empty."""

    state = forms.ChoiceField(
        choices=ITEM_STATES,
        required=False,
        label="Lies there",
        help_text="Trimmings are bought on top only of what is sold whole.",
    )
    container = forms.CharField(max_length=24, required=False, label="One pack is a", help_text="can, jar, bag")
    drained = PackField(required=False, label="Drained weight of one pack", help_text="240 g, where the label says it")
    pieces = CountField(max_length=20, required=False, label="Pieces in one pack", help_text="8 carrots, 10 cloves in a bulb")
    tax_pct = forms.DecimalField(
        required=False,
        min_value=Decimal(0),
        max_value=Decimal(50),
        max_digits=4,
        decimal_places=1,
        label="Tax on top",
        help_text="what the till adds to the shelf price",
    )

    def __init__(self, data: Any = None, *, item: Item, foods: FoodNames, **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        self.item, self.food_names = item, foods.names
        ways = [choice for choice in SOLD_AS if (choice[0] == LOOSE) == (item.sold == LOOSE)]
        self.fields["sold"] = forms.ChoiceField(choices=ways, widget=forms.RadioSelect, label="Sold")
        for place in range(1, GIVES + 1):
            self.fields[f"part_{place}"] = FoodField(foods=foods, required=False, label=f"Gives, {place}")
            self.fields[f"part_amount_{place}"] = PackField(required=False, label=f"How much of it, {place}")
            self.fields[f"part_share_{place}"] = forms.DecimalField(
                required=False,
                min_value=Decimal("0.1"),
                max_value=Decimal(100),
                max_digits=4,
                decimal_places=1,
                label=f"Share, {place}",
            )

    def parts(self) -> list[tuple[Any, ...]]:
        """Return the fields of what the thing gives, row by row."""
        return [tuple(self[f"{name}_{place}"] for name in ("part", "part_amount", "part_share")) for place in range(1, GIVES + 1)]

    def clean_container(self) -> str:
        """Take the kitchen's own word for what holds a pack."""
        typed: str = self.cleaned_data["container"]
        unit = find_unit(typed) if typed else None
        if typed and (unit is None or unit.dimension != "count"):
            raise ValidationError("Use a word for one pack, like can, jar, bag or bottle.")
        return unit.key if unit else ""

    def clean_drained(self) -> Fraction | None:
        """Take the drained weight in grams: less than the pack holds."""
        drained = self.cleaned_data["drained"]
        if drained is None:
            return None
        grams, base = based(drained.amount, drained.unit)
        if base != "g" or drained.packs != 1:
            raise ValidationError("Type the drained weight of one pack, like 240 g.")
        held = based(self.item.pack_amount, self.item.pack_unit)
        if held[1] == "g" and grams > held[0]:
            raise ValidationError("Drained it cannot weigh more than the pack holds.")
        return grams

    def clean(self) -> dict[str, Any]:
        """Ask for the whole of each part that was begun."""
        values = super().clean() or {}
        for place in range(1, GIVES + 1):
            part, amount = f"part_{place}", f"part_amount_{place}"
            if bool(values.get(part)) != bool(values.get(amount)) and not {part, amount} & set(self.errors):
                self.add_error(amount if values.get(part) else part, "Say the food and how much of it one pack gives, like 48 g.")
        return values

    def known(self) -> dict[str, Any]:
        """Return what is to be kept; only after ``is_valid``."""
        held = self.cleaned_data
        plain = {name: held[name] for name in ("sold", "state", "container", "pieces", "tax_pct")}
        return plain | {
            "drained_g": held["drained"],
            "gives": [part for place in range(1, GIVES + 1) if (part := self._part(place))],
        }

    def _part(self, place: int) -> dict[str, Any] | None:
        food, pack, share = (self.cleaned_data.get(f"{name}_{place}") for name in ("part", "part_amount", "part_share"))
        if not food or not pack:
            return None
        return {
            "food_id": food,
            "amount": str(pack.amount * pack.packs),
            "unit": pack.unit,
            "share": None if share is None else str(share),
        }


def typed_item(item: Item) -> dict[str, Any]:
    """Return what a person would have typed of this thing."""
    names = dict(Food.objects.filter(pk__in=[part["food_id"] for part in item.gives]).values_list("pk", "name"))
    typed: dict[str, Any] = {name: getattr(item, name) for name in ("sold", "state", "container", "tax_pct")}
    typed |= {
        "drained": "" if item.drained_g is None else f"{format_amount(item.drained_g)} g",
        "pieces": "" if item.pieces is None else format_amount(item.pieces),
    }
    for place, part in enumerate([part for part in item.gives if part["food_id"] in names], 1):
        typed[f"part_{place}"] = names[part["food_id"]]
        typed[f"part_amount_{place}"] = pack_words(Fraction(part["amount"]), part["unit"])
        typed[f"part_share_{place}"] = part.get("share")
    return typed
