"""What the cook says of a recipe's allergens, over and above what its foods bring."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, cast

from django import forms

from kitchen.domain.allergens import ALLERGENS, BY_KEY, ordered

NOT_LISTED = {"invalid_choice": "“%(value)s” is not on the list. Tick what is shown here."}
_LONGER = {"gluten": "gluten: wheat, barley, rye, oats", "molluscs": "molluscs: mussels, clams, squid", "soya": "soya (soybeans)"}


def choices_of(keys: Iterable[str]) -> list[tuple[str, str]]:
    """Return these allergens as a form offers them, in the order of the list."""
    return [(key, _LONGER.get(key, BY_KEY[key].words)) for key in ordered(keys)]


class AllergensForm(forms.Form):
    """Two lists: what is in the recipe though no food says so, and what is not in it though a food says so."""

    added = forms.MultipleChoiceField(
        label="Also in it",
        choices=choices_of(entry.key for entry in ALLERGENS),
        required=False,
        help_text="What no food named here brings, or what you read on the label.",
        widget=forms.CheckboxSelectMultiple,
        error_messages=NOT_LISTED,
    )
    removed = forms.MultipleChoiceField(
        label="Not in it",
        required=False,
        help_text="What the foods named here bring and yours does not, by its label. The page says that it is your word. "
        "For a gluten-free flour tick wheat and gluten.",
        widget=forms.CheckboxSelectMultiple,
        error_messages=NOT_LISTED,
    )

    def __init__(self, *args: Any, brought: Iterable[str], **kwargs: Any) -> None:
        """``brought`` are the allergens that the foods bring, for sure or in some brands, and those taken off before."""
        super().__init__(*args, **kwargs)
        cast(forms.ChoiceField, self.fields["removed"]).choices = choices_of(brought)

    def clean(self) -> dict[str, Any]:
        """Refuse an allergen that is ticked in both lists."""
        data = super().clean() or {}
        both = ordered(set(data.get("added", ())) & set(data.get("removed", ())))
        if both:
            words = ", ".join(BY_KEY[key].words for key in both)
            self.add_error("removed", f"In both lists: {words}. Untick one of the two.")
        return data
