"""The prices of a clock in words: a row for each, with its hours and its days, beside the lines that say the same."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms

from energy.form_fields import PriceField
from energy.tariffs.domain.hours import DAY_MIN
from energy.tariffs.domain.lines import days_words, read_bands
from energy.tariffs.domain.record import BandRecord

MOST_ROWS = 4
DAYS = [
    ("", "every day"),
    ("Mon-Fri", "Monday to Friday"),
    ("Mon-Sat", "Monday to Saturday"),
    ("Sat-Sun", "Saturday and Sunday"),
    ("Sat-Sun, holidays", "Saturday, Sunday and holidays"),
    ("Sun", "Sunday"),
]
_TIME = {"type": "time"}


class BandRow(forms.Form):
    """One price of the clock."""

    name = forms.CharField(label="Called", required=False, max_length=40)
    price = PriceField(label="A kilowatt-hour costs", required=False)
    start = forms.TimeField(label="From", required=False, widget=forms.TimeInput(format="%H:%M", attrs=_TIME))
    end = forms.TimeField(label="To", required=False, widget=forms.TimeInput(format="%H:%M", attrs=_TIME))
    days = forms.ChoiceField(label="On", choices=DAYS, required=False)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if self.has_changed() and cleaned.get("price") is None and "price" not in self.errors:
            self.add_error("price", "What does a kilowatt-hour cost then?")
        if (cleaned.get("start") is None) != (cleaned.get("end") is None):
            self.add_error("end", "Hours need a beginning and an end; leave both empty for the whole day.")
        return cleaned

    def bands(self, place: int) -> tuple[BandRecord, ...]:
        """Return a valid row as the band that it says; none where nothing was typed."""
        said = self.cleaned_data
        if said["price"] is None:
            return ()
        start, end = (0 if one is None else one.hour * 60 + one.minute for one in (said["start"], said["end"]))
        days = read_bands(f"x 1 {said['days']}")[0].days
        price = Decimal(f"{said['price']:f}".rstrip("0").rstrip("."))
        return (BandRecord(" ".join(said["name"].split()) or f"price {'abcd'[place]}", price, start, end, days),)


def rows_of(bands: tuple[BandRecord, ...]) -> list[dict[str, Any]] | None:
    """Return bands as the rows show them; None where a row cannot say one of them."""
    rows = [_row(band) for band in bands]
    known = dict(DAYS)
    fits = len(rows) <= MOST_ROWS and all(row["days"] in known and not band.months for row, band in zip(rows, bands, strict=True))
    return rows if fits else None


def _row(band: BandRecord) -> dict[str, Any]:
    ends = {} if (band.start_min, band.end_min) == (0, 0) else {"start": _clock(band.start_min), "end": _clock(band.end_min)}
    return {"name": band.name, "price": band.price_per_kwh, "days": days_words(band.days), **ends}


def _clock(minute: int) -> str:
    return f"{minute % DAY_MIN // 60:02d}:{minute % 60:02d}"
