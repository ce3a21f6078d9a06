"""An archive: the file that is sent, and the yes to what it would do."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms
from django.contrib.auth.models import AnonymousUser, User

from kitchen.queries.cooks import cook_called


class ArchiveForm(forms.Form):
    """A packed library to look at."""

    archive = forms.FileField(
        label="Archive",
        help_text="A ZIP file that this program packed, up to 60 MB. For a larger one use <code>manage.py unpack</code> on the "
        "computer that serves the site.",
        error_messages={"required": "Choose an archive.", "empty": "This file is empty.", "missing": "Choose an archive."},
        widget=forms.FileInput({"accept": ".zip,application/zip"}),
    )


class UnpackForm(forms.Form):
    """The yes: which waiting archive, whose the recipes will be, and whether the kitchen's own words are taken over.

    ``owners`` are the names in the archive with how many recipes each has; a cook here of the same name is
    proposed, else ``by``, who unpacks.
    """

    token = forms.CharField(widget=forms.HiddenInput, required=False)
    words = forms.BooleanField(label="Take over the archive’s kitchen name, currency and measures, too", required=False)

    def __init__(self, *args: Any, owners: Mapping[str, int], by: User | AnonymousUser, **more: Any) -> None:
        super().__init__(*args, **more)
        self.owners = list(owners)
        cooks = User.objects.filter(is_active=True).order_by("username")
        for place, (name, count) in enumerate(owners.items()):
            whose = f"{count:,} recipe{'s' * (count != 1)} of “{name}”: whose here?"
            self.fields[f"cook_{place}"] = forms.ModelChoiceField(
                cooks, label=whose, required=False, initial=cook_called(name) or by, empty_label=None
            )

    def cooks(self) -> dict[str, User]:
        """Return which cook each name in the archive was said to mean."""
        fields = {name: f"cook_{place}" for place, name in enumerate(self.owners)}
        return {name: self.cleaned_data[field] or self.fields[field].initial for name, field in fields.items()}

    def cook_fields(self) -> list[forms.BoundField]:
        """Return the questions whose the recipes will be."""
        return [self[f"cook_{place}"] for place, _ in enumerate(self.owners)]
