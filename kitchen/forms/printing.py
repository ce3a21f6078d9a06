"""How a reader wants cards printed."""

from __future__ import annotations

from typing import Any

from django import forms

from kitchen.publish.leaves import CARD_SIZES, SHEETS, Wish, grid_of

_NOTHING_CHOSEN = {"invalid_choice": "Choose one of the sizes that are listed."}


class PrintForm(forms.Form):
    """Size, sheet and ink, and what their owner writes on the cards."""

    size = forms.ChoiceField(
        label="Card",
        choices=[(key, size.label) for key, size in CARD_SIZES.items()],
        initial="a6",
        required=False,
        error_messages=_NOTHING_CHOSEN,
    )
    sheet = forms.ChoiceField(
        label="Paper",
        choices=[
            ("", "One side of a card a page"),
            *((key, f"Several on {sheet.label}, to be cut") for key, sheet in SHEETS.items()),
        ],
        required=False,
        help_text="Print sheets on both sides; backs lie behind their fronts when the paper is turned over sideways.",
        error_messages=_NOTHING_CHOSEN,
    )
    ink = forms.ChoiceField(
        label="Ink",
        choices=[("colour", "Colour"), ("black", "Black alone: for grease, copies and a red lamp")],
        initial="colour",
        required=False,
        error_messages=_NOTHING_CHOSEN,
    )
    name = forms.CharField(label="Your name or box", max_length=40, required=False, widget=forms.TextInput({"dir": "auto"}))
    note = forms.CharField(label="Your own note", max_length=120, required=False, widget=forms.TextInput({"dir": "auto"}))

    def clean(self) -> dict[str, Any]:
        """Refuse cards that are larger than their sheet."""
        cleaned = super().clean() or self.cleaned_data
        size, sheet = CARD_SIZES.get(cleaned.get("size") or "a6"), SHEETS.get(cleaned.get("sheet") or "")
        if size and sheet:
            try:
                grid_of(size, sheet)
            except ValueError:
                self.add_error("sheet", f"A card of {size.label} does not go on {sheet.label}. Choose a smaller card.")
        return cleaned

    @property
    def wish(self) -> Wish:
        """What was chosen; the usual where nothing was."""
        asked = self.cleaned_data
        size, sheet = CARD_SIZES[asked["size"] or "a6"], SHEETS.get(asked["sheet"])
        return Wish(size, sheet, asked["ink"] or "colour", asked["name"], asked["note"])
