"""An archive: the file that is sent, and the yes to what it would do."""

from __future__ import annotations

from django import forms


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
    """The yes: which waiting archive, and whether the kitchen's own words are taken over."""

    token = forms.CharField(widget=forms.HiddenInput, required=False)
    words = forms.BooleanField(label="Take over the archive’s kitchen name, currency and measures, too", required=False)
