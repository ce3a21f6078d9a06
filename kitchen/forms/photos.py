"""A photo: the file, its words, the point that stays in view."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from kitchen.forms.numbers import NumberField
from kitchen.publish.photos import MOST_BYTES, too_heavy


class PhotoWordsForm(forms.Form):
    """What a photo shows, and where its middle is."""

    alt = forms.CharField(
        label="What it shows",
        max_length=200,
        help_text="For those who cannot see it: “red stew in a blue mug, steam above”.",
        error_messages={"required": "Say in a few words what the photo shows."},
        widget=forms.TextInput({"dir": "auto"}),
    )
    focal_x = NumberField(label="Keep in view: from the left", low=0, high=100, required=False, initial=50)
    focal_y = NumberField(label="Keep in view: from the top", low=0, high=100, required=False, initial=50)

    def words(self) -> dict[str, Any]:
        """Return a valid form's words and point (0..1)."""
        data = self.cleaned_data
        shares = {name: 0.5 if data[name] is None else float(data[name]) / 100 for name in ("focal_x", "focal_y")}
        return {"alt": data["alt"], **shares}


class PhotoForm(PhotoWordsForm):
    """A photo to add."""

    picture = forms.FileField(
        label="Photo",
        help_text="JPEG, PNG, WebP or GIF; up to 24 megapixels and 15 MB. Place and camera are taken out of it.",
        error_messages={"required": "Choose a photo.", "empty": "This file is empty.", "missing": "Choose a photo."},
        widget=forms.FileInput({"accept": "image/jpeg,image/png,image/webp,image/gif"}),
    )
    field_order = ("picture", "alt", "focal_x", "focal_y")

    def clean_picture(self) -> Any:
        """Return the file, if it is not too heavy; what is in it is looked at when it is kept."""
        picture = self.cleaned_data["picture"]
        if picture.size > MOST_BYTES:
            raise ValidationError(too_heavy(picture.size))
        return picture
