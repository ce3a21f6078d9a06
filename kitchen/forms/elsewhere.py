"""Where a recipe stands outside this site: its home in the cook's blog, and a film of it."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from kitchen.domain.films import read_chapters
from kitchen.domain.remark import Refused
from kitchen.words import ENGLISH, words_of

_WHOLE = "Type a whole address, like https://example.org/soup."


def _address(label: str, help_text: str) -> forms.URLField:
    return forms.URLField(
        label=label,
        required=False,
        assume_scheme="https",
        max_length=200,
        help_text=help_text,
        error_messages={"invalid": _WHOLE, "max_length": "Type an address of at most 200 signs."},
        widget=forms.TextInput({"inputmode": "url", "autocomplete": "off"}),
    )


class ElsewhereForm(forms.Form):
    """Home and film of a recipe. ``stages`` are the names that wait for their moments while no chapter is typed."""

    blog_url = _address(
        "Its page in your own blog", "Only where that page is to be found instead of this one. Empty: its home is here."
    )
    film_url = _address("A film of it", "The address where it is watched.")
    film_on = forms.DateField(
        label="The day the film came out",
        required=False,
        error_messages={"invalid": "Type a day, like 2026-10-14."},
        widget=forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"}),
    )
    film_chapters = forms.CharField(
        label="Its chapters",
        required=False,
        max_length=4000,
        help_text="One a line: the moment in the film, and what begins then, like 1:20 Brown. A last line like 12:30 end tells "
        "how long it is. Lines without any moment are left out.",
        widget=forms.Textarea({"rows": 6}),
    )

    def __init__(self, *args: Any, stages: tuple[str, ...] = (), **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not self.initial.get("film_chapters"):
            self.initial["film_chapters"] = "\n".join(stages)

    def clean_blog_url(self) -> str:
        """Return the address of a page on the web."""
        return _of_the_web(self.cleaned_data["blog_url"])

    def clean_film_url(self) -> str:
        """Return the address of a film on the web."""
        return _of_the_web(self.cleaned_data["film_url"])

    def clean_film_chapters(self) -> str:
        """Return the chapters as typed, where they can be read; nothing where no moment was typed."""
        typed = str(self.cleaned_data["film_chapters"])
        try:
            return typed if read_chapters(typed) else ""
        except Refused as refused:
            raise ValidationError(words_of(refused.said, ENGLISH)) from None

    def clean(self) -> dict[str, Any]:
        """Ask for the film that a day or chapters belong to."""
        data = super().clean() or {}
        if (data.get("film_on") or data.get("film_chapters")) and not data.get("film_url") and not self.has_error("film_url"):
            self.add_error("film_url", "Type the address of the film that the day or the chapters belong to.")
        return data


def _of_the_web(address: str) -> str:
    if address and not address.lower().startswith(("http://", "https://")):
        raise ValidationError(_WHOLE)
    return str(address)
