"""A shop's name."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from costing.domain.countries import COUNTRIES
from costing.models import Shop
from costing.operations import same_shop


class ShopForm(forms.Form):
    """A shop: its name, once, and a few words."""

    name = forms.CharField(max_length=80, error_messages={"required": "Give the shop a name."})
    note = forms.CharField(max_length=200, required=False)
    country = forms.ChoiceField(
        required=False,
        choices=[("", "not said"), *((code, country.name) for code, country in COUNTRIES.items())],
        help_text="says how its prices are printed: 1,299 or 1.299",
    )

    def __init__(self, data: Any = None, *, shop: Shop | None = None, **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        self.shop = shop

    def clean_name(self) -> str:
        """Refuse a name that another shop has, whatever its spaces and capitals."""
        name = " ".join(self.cleaned_data["name"].split())
        other = same_shop(name, but=self.shop)
        if other is not None:
            raise ValidationError(f"A shop called “{other}” is there already.")
        return name
