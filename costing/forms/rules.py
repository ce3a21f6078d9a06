"""How the kitchen's cost sheets are made."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import Any

from django import forms

from costing.domain.quotes import Offer
from costing.models import QUOTE_RULES, SheetRules, Shop
from costing.queries import SheetAsk, end_of_day


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


class SheetAskForm(forms.Form):
    """Which prices a cook looks at: of another day, as they were known then, by another rule."""

    day = forms.DateField(
        required=False,
        label="Prices of",
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages={"invalid": "This is not a day. Write it like 2026-10-14."},
    )
    then = forms.BooleanField(required=False, label="as they were known that day")
    rule = forms.ChoiceField(required=False, choices=[("", "the kitchen’s rule"), *QUOTE_RULES], label="Which price")
    shop = forms.ModelChoiceField(Shop.objects.all(), required=False, label="Only at", empty_label="any")

    def asked(self, rules_of: Callable[[], SheetRules], typed: Mapping[int, Offer]) -> SheetAsk:
        """Return what was asked; what cannot be read is left out. Another rule is laid over the kitchen's."""
        held = self.cleaned_data if self.is_valid() else {}
        day, rule, shop = (held.get(name) for name in ("day", "rule", "shop"))
        rules = rules_of() if rule or shop else None
        if rules is not None:
            rules.rule, rules.shop = ("shop", shop) if shop and rule in ("", "shop") else (rule or rules.rule, shop or rules.shop)
        end = None if day is None or not held.get("then") else end_of_day(day)
        return SheetAsk(day, end, rules, typed)


def typed_rules(rules: SheetRules) -> dict[str, Any]:
    """Return what a person would have chosen and typed for these rules."""
    allowance = f"{rules.allowance_pct.normalize():f}"
    return {"rule": rules.rule, "last": rules.last, "shop": rules.shop, "allowance_pct": allowance}
