"""How many servings a reader asks for."""

from __future__ import annotations

from django import forms

MOST_SERVINGS = 500
_SENTENCE = f"Type a whole number of servings from 1 to {MOST_SERVINGS}."


class ServingsForm(forms.Form):
    """One whole number; the field is named ``for`` in addresses."""

    servings = forms.IntegerField(
        min_value=1,
        max_value=MOST_SERVINGS,
        error_messages={"required": _SENTENCE, "invalid": _SENTENCE, "min_value": _SENTENCE, "max_value": _SENTENCE},
    )

    @classmethod
    def asked(cls, typed: str) -> ServingsForm:
        """Return the form bound to what stood in the address."""
        return cls({"servings": typed})

    @property
    def sentence(self) -> str:
        """What is wrong with the number; empty when nothing is."""
        return str(next(iter(self.errors.get("servings", [])), ""))
