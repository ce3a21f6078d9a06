"""What a whole bill is worked out for."""

from __future__ import annotations

from django import forms

from energy.form_fields import NumberField


class BillForm(forms.Form):
    """A use and a time; without anything typed there is no bill."""

    kwh = NumberField(low=0, high=1e7, unit="kWh", label="Used")
    days = NumberField(low=0, high=3660, unit="days", whole=True, required=False, label="Days")
    months = NumberField(low=0, high=120, unit="months", whole=True, required=False, label="Months")


class MonthForm(forms.Form):
    """The month whose week is drawn."""

    month = forms.TypedChoiceField(choices=[(number, str(number)) for number in range(1, 13)], coerce=int, required=False)
