"""A device that may send a meter's readings: its name."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from energy.models import Meter


class DeviceForm(forms.Form):
    """The name of a new device. Two that may send for one meter have different names, so that revoking finds the right one."""

    name = forms.CharField(
        max_length=60,
        label="Its name",
        help_text="Where it is or what it is: “plug by the hob”.",
        error_messages={"required": "Give the device a name, so that you can tell it from others."},
        widget=forms.TextInput({"autocomplete": "off"}),
    )

    def __init__(self, *args: Any, meter: Meter, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.meter = meter

    def clean_name(self) -> str:
        name: str = self.cleaned_data["name"]
        if self.meter.devices.filter(name=name, revoked_at=None).exists():
            raise ValidationError("A device of this name may send already. Choose another name, or revoke that one first.")
        return name
