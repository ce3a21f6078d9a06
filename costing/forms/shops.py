"""A shop's name."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from costing.models import Shop


class ShopForm(forms.Form):
    """A shop: its name, once, and a few words."""

    name = forms.CharField(max_length=80, error_messages={"required": "Give the shop a name."})
    note = forms.CharField(max_length=200, required=False)

    def __init__(self, data: Any = None, *, shop: Shop | None = None, **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        self.shop = shop

    def clean_name(self) -> str:
        """Refuse a name that another shop has, whatever its capitals."""
        name: str = self.cleaned_data["name"]
        others = Shop.objects.filter(name__iexact=name).exclude(pk__in=[self.shop.pk] if self.shop else [])
        if others.exists():
            raise ValidationError(f"A shop called “{name}” is there already.")
        return name
