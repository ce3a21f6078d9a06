"""A photo: the file, its words, the point that stays in view."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from kitchen.forms.numbers import NumberField
from kitchen.publish.opening import MOST_BYTES, too_heavy


def words_field() -> forms.CharField:
    """Return the field for what a photo shows; a photo without words is not kept."""
    return forms.CharField(
        label="What it shows",
        max_length=200,
        help_text="For those who cannot see it: “red stew in a blue mug, steam above”.",
        error_messages={"required": "Say in a few words what the photo shows."},
        widget=forms.TextInput({"dir": "auto"}),
    )


_ROWS, _COLUMNS = (("top", 17), ("middle", 50), ("bottom", 83)), (("left", 17), ("middle", 50), ("right", 83))
SPOTS = [(f"{x}-{y}", f"{row} {column}".replace("middle middle", "middle")) for row, y in _ROWS for column, x in _COLUMNS]


class PhotoForm(forms.Form):
    """A photo to add: the file and its words. What must stay in view is chosen on the picture itself, afterwards."""

    picture = forms.FileField(
        label="Photo",
        help_text="JPEG, PNG, WebP, AVIF or GIF; up to 25 MB. Place, camera and every other note are taken out of it.",
        error_messages={"required": "Choose a photo.", "empty": "This file is empty.", "missing": "Choose a photo."},
        widget=forms.FileInput({"accept": "image/jpeg,image/png,image/webp,image/avif,image/gif"}),
    )
    alt = words_field()

    def clean_picture(self) -> Any:
        """Return the file, if it is not too heavy; what is in it is looked at when it is kept."""
        picture = self.cleaned_data["picture"]
        if picture.size > MOST_BYTES:
            raise ValidationError(too_heavy(picture.size))
        return picture


class PhotoWordsForm(forms.Form):
    """What a photo shows, and the point that stays in view: one of nine places, or exactly. Changed numbers count first."""

    alt = words_field()
    spot = forms.ChoiceField(
        label="Keep in view",
        choices=SPOTS,
        required=False,
        widget=forms.RadioSelect,
        error_messages={"invalid_choice": "Choose one of the nine places."},
    )
    focal_x = NumberField(label="Exactly: from the left", low=0, high=100, unit="%", required=False, initial=50)
    focal_y = NumberField(label="Exactly: from the top", low=0, high=100, unit="%", required=False, initial=50)

    def words(self) -> dict[str, Any]:
        """Return a valid form's words and point (0..1)."""
        data = self.cleaned_data
        point = [data["focal_x"], data["focal_y"]]
        if data["spot"] and not {"focal_x", "focal_y"} & {*self.changed_data}:
            point = [Decimal(share) for share in data["spot"].split("-")]
        focal_x, focal_y = (0.5 if share is None else float(share) / 100 for share in point)
        return {"alt": data["alt"], "focal_x": focal_x, "focal_y": focal_y}
