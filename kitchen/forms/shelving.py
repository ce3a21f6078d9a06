"""Small forms of a recipe's bench page: publishing, address, sides."""

from __future__ import annotations

from typing import Any, cast

from django import forms
from django.core.exceptions import ValidationError
from django.core.validators import validate_slug

from kitchen.forms.numbers import NumberField
from kitchen.models import Recipe
from kitchen.queries import sides_to_choose


class PublishForm(forms.Form):
    """The note that goes out with an edition."""

    note = forms.CharField(
        label="What is new in this edition",
        max_length=300,
        required=False,
        help_text="Readers see it beside the edition.",
        widget=forms.TextInput({"dir": "auto"}),
    )


class SlugForm(forms.Form):
    """A recipe's address."""

    slug = forms.CharField(
        label="Address",
        max_length=80,
        help_text="Small letters, digits and hyphens. The address it has now goes on working.",
        error_messages={"required": "Type the new address, like lentil-pot."},
        widget=forms.TextInput({"autocapitalize": "none", "autocomplete": "off", "spellcheck": "false"}),
    )

    def clean_slug(self) -> str:
        """Return the address in small letters."""
        slug = str(self.cleaned_data["slug"]).lower()
        try:
            validate_slug(slug)
        except ValidationError:
            raise ValidationError("Only small letters a to z, digits and hyphens fit into an address.") from None
        return slug


class SideForm(forms.Form):
    """A recipe to serve with another, and how much of it."""

    side = forms.ModelChoiceField(
        queryset=Recipe.objects.none(),
        label="Which recipe",
        empty_label="choose a recipe",
        error_messages={"required": "Choose a recipe.", "invalid_choice": "That recipe is not one of yours. Choose another."},
    )
    portions = NumberField(
        label="Portions of it for one serving",
        low=0,
        high=100,
        places=2,
        above_low=True,
        initial="1",
        error_messages={"required": "Type how many portions go with one serving, like 1 or 0.5."},
    )

    def __init__(self, *args: Any, recipe: Recipe, person: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        cast("forms.ModelChoiceField[Recipe]", self.fields["side"]).queryset = sides_to_choose(recipe, person)
