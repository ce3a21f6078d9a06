"""How the kitchen's cost sheets are made."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms

from costing.models import QUOTE_RULES, SheetRules, Shop


class SheetRulesForm(forms.Form):
    """Which quote counts, and the allowance for seasoning."""

    rule = forms.ChoiceField(choices=QUOTE_RULES, widget=forms.RadioSelect, label="Which price counts")
    last = forms.IntegerField(
        required=False,
        min_value=2,
        max_value=20,
        label="How many for the median",
        error_messages={"min_value": "A median needs at least 2 prices.", "max_value": "At most 20 prices."},
    )
    shop = forms.ModelChoiceField(Shop.objects.all(), required=False, label="Which shop", empty_label="choose one")
    allowance_pct = forms.DecimalField(
        min_value=Decimal(0),
        max_value=Decimal(50),
        max_digits=4,
        decimal_places=1,
        label="Allowance for seasoning",
        help_text="Added to the ingredients as a line of its own, for what is not weighed. 0 switches it off.",
        error_messages={
            "min_value": "0 is the least.",
            "max_value": "50 %% is the most.",
            "invalid": "Type it in figures, like 5.",
        },
    )

    def kept(self, before: SheetRules) -> dict[str, Any]:
        """Return what is to be kept; a number that was not asked for stays. Only after ``is_valid``."""
        return self.cleaned_data | {"last": self.cleaned_data["last"] or before.last}

    def clean(self) -> dict[str, Any]:
        """Ask for the number or the shop that the chosen rule needs."""
        values = super().clean() or {}
        if values.get("rule") == "median" and "last" not in self.errors and not values.get("last"):
            self.add_error("last", "Say how many prices the median is taken of, like 3.")
        if values.get("rule") == "shop" and not values.get("shop"):
            self.add_error("shop", "Choose the shop whose prices count.")
        return values


def typed_rules(rules: SheetRules) -> dict[str, Any]:
    """Return what a person would have chosen and typed for these rules."""
    allowance = f"{rules.allowance_pct.normalize():f}"
    return {"rule": rules.rule, "last": rules.last, "shop": rules.shop, "allowance_pct": allowance}
