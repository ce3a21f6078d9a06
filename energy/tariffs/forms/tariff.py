"""The form of a tariff: one price, or lines for the hours of the clock, or lines for a month's blocks."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any
from zoneinfo import available_timezones

from django import forms
from django.core.exceptions import ValidationError
from django.utils import timezone

from energy.form_fields import NumberField, PriceField
from energy.gear.forms import TAKEN, GearForm
from energy.models import Tariff
from energy.tariffs.domain.bill import EACH_LINE, ONCE
from energy.tariffs.domain.lines import UnreadLine, band_lines, block_words, read_bands, read_blocks
from energy.tariffs.domain.record import BY_BLOCKS, BY_HOURS, FLAT, TariffRecord
from energy.tariffs.forms.band_rows import MOST_ROWS, BandRow, rows_of
from energy.tariffs.queries.pricing import record_of
from kitchen.domain import record
from kitchen.domain.money import UNIT_PRICE_PLACES, round_half_up
from kitchen.forms.site import CurrencyField
from kitchen.queries import the_site

KINDS = [(FLAT, "one price at all hours"), (BY_HOURS, "prices by the clock"), (BY_BLOCKS, "blocks by a month’s use")]
ROUNDINGS = [(ONCE, "once, at the end"), (EACH_LINE, "on each line of the bill")]
MOST_HOLIDAYS = 400


class TariffForm(GearForm):
    """What a kilowatt-hour costs, from a day to a day. Bands and blocks are typed as lines; gaps and overlaps are refused."""

    lead = ("price_per_kwh",)
    matters = {
        **dict.fromkeys(("bands", "zone", "holidays"), (BY_HOURS,)),
        **dict.fromkeys(("blocks", "usual_kwh"), (BY_BLOCKS,)),
    }
    kind = forms.ChoiceField(choices=KINDS, label="How it is priced", required=False)
    currency = CurrencyField(required=False, initial="")
    price_per_kwh = PriceField(
        label="Price of a kilowatt-hour",
        required=False,
        help_text="For one price at all hours: with its taxes, without the standing charge.",
    )
    bands = forms.CharField(
        label="The same, typed as lines",
        required=False,
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 4, "placeholder": "night 0.09 22:00-06:00\nday 0.31 06:00-22:00"}),
        help_text="A line each: name, price and, where it does not always hold, a window, days and months, "
        "like “peak 0.41 17-19 Mon-Fri Nov-Mar”.",
    )
    blocks = forms.CharField(
        label="Blocks",
        required=False,
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 3, "placeholder": "0.0889 to 800\n0.0981 to 2000\n0.1086 above"}),
        help_text="A line each: price and how far it goes in a month, the last one “above”.",
    )
    usual_kwh = NumberField(
        low=0,
        high=1e6,
        unit="kWh",
        required=False,
        label="Used in a month anyway",
        help_text="Blocks: tells which one a meal falls into.",
    )
    adder_per_kwh = PriceField(
        label="Added to every kilowatt-hour", required=False, help_text="Power cost or levies, if the bill lists them."
    )
    standing_per_day = PriceField(
        label="Standing charge a day", required=False, help_text="Only for whole bills; no meal is loaded with it."
    )
    base_per_month = PriceField(label="Base charge a month", required=False, help_text="Only for whole bills.")
    tax_pct = NumberField(
        low=0, high=100, unit="%", required=False, label="Tax on all of it", help_text="Empty where prices contain it."
    )
    rounding = forms.ChoiceField(choices=ROUNDINGS, required=False, label="The bill is rounded")
    zone = forms.CharField(
        label="Clock of", required=False, max_length=60, help_text="A time zone like Europe/Vienna; empty: the site’s own."
    )
    holidays = forms.CharField(
        label="Holidays",
        required=False,
        max_length=6000,
        widget=forms.Textarea(attrs={"rows": 2}),
        help_text="Days like 2026-12-25, if some prices name holidays; without such prices a holiday is a Sunday.",
    )
    valid_from = forms.DateField(label="From", required=False, widget=forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"}))
    valid_to = forms.DateField(
        label="To",
        required=False,
        widget=forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"}),
        help_text="Leave empty while it is still in force.",
    )
    co2_g_per_kwh = NumberField(
        low=0, high=3000, unit="g/kWh", required=False, label="CO₂ of a kilowatt-hour", help_text="Only if you want it shown."
    )

    class Meta:
        model = Tariff
        fields = ["name", "currency", "price_per_kwh", "valid_from", "valid_to", "co2_g_per_kwh", "co2_source"]
        labels = {"co2_source": "Whose figure, of which year"}
        help_texts = {"name": "As you call it, for example “club house 2026”."}
        error_messages = {"name": TAKEN}

    field_order = [
        "name", "kind", "currency", "price_per_kwh", "bands", "blocks", "usual_kwh", "adder_per_kwh", "tax_pct", "zone",
        "holidays", "standing_per_day", "base_per_month", "rounding", "valid_from", "valid_to", "co2_g_per_kwh", "co2_source",
    ]  # fmt: skip

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        tariff = kwargs.get("instance")
        kept = record_of(tariff) if tariff is not None else TariffRecord()
        rows = rows_of(kept.bands)
        if tariff is not None:
            typed = _typed(kept if rows is None else replace(kept, bands=()))
            kwargs["initial"] = {**typed, **(kwargs.get("initial") or {})}
        super().__init__(*args, **kwargs)
        held = [*(rows or ()), *[{}] * MOST_ROWS][:MOST_ROWS]
        names = [self.add_prefix(f"band{n}") for n in range(MOST_ROWS)]
        self.rows = [
            BandRow(self.data if f"{name}-price" in self.data else None, prefix=name, initial=one)
            for name, one in zip(names, held, strict=True)
        ]

    @property
    def is_given(self) -> bool:
        """Whether somebody typed or chose anything in it, also in a row."""
        return super().is_given or any(row.is_bound and row.has_changed() for row in self.rows)

    @property
    def usual_name(self) -> str:
        """What most people call it."""
        return "Electricity"

    def clean_currency(self) -> str:
        return self.cleaned_data["currency"] or the_site().currency

    def clean_valid_from(self) -> date:
        return self.cleaned_data["valid_from"] or timezone.localdate()

    def clean_bands(self) -> Any:
        typed = [row for row in self.rows if row.is_bound]
        whole = [row.is_valid() for row in typed]
        if not all(whole):
            raise ValidationError("A row of the prices by the clock is not whole yet: see beside it.")
        try:
            typed_bands = [band for place, row in enumerate(typed) for band in row.bands(place)]
            return (*typed_bands, *read_bands(self.cleaned_data["bands"]))
        except UnreadLine as unread:
            raise ValidationError(str(unread)) from unread

    def clean_blocks(self) -> Any:
        try:
            return read_blocks(self.cleaned_data["blocks"])
        except UnreadLine as unread:
            raise ValidationError(str(unread)) from unread

    def clean_zone(self) -> str:
        zone: str = self.cleaned_data["zone"].strip()
        if zone and zone not in available_timezones():
            raise ValidationError("“%(zone)s” is no time zone. Zones are called like Europe/Vienna.", params={"zone": zone})
        return zone

    def clean_holidays(self) -> tuple[date, ...]:
        days: set[date] = set()
        for word in re.split(r"[\s,;]+", self.cleaned_data["holidays"].strip()):
            try:
                days |= {date.fromisoformat(word)} if word else set()
            except ValueError as error:
                raise ValidationError("“%(word)s” is no day. Type days like 2026-12-25.", params={"word": word}) from error
        if len(days) > MOST_HOLIDAYS:
            raise ValidationError("These are too many holidays to keep: type those of the next years.")
        return tuple(sorted(days))

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean()
        first, last = cleaned.get("valid_from"), cleaned.get("valid_to")
        if first and last and last < first:
            self.add_error("valid_to", "The last day cannot lie before the first one.")
        if not self.errors:
            self._price(cleaned)
        return cleaned

    def _price(self, cleaned: dict[str, Any]) -> None:
        """Put the record into the tariff, with the one price that stands for it where nothing is known of the clock."""
        kept = self._record(cleaned)
        flat = cleaned.get("price_per_kwh")
        if kept.kind == FLAT and flat is None:
            self.add_error("price_per_kwh", "What does a kilowatt-hour cost?")
        elif kept.kind == BY_BLOCKS and not kept.blocks:
            self.add_error("blocks", "Blocks need a line each, like “0.09 to 800” and “0.11 above”.")
        elif (hours := kept.hours(timezone.get_current_timezone_name())) is not None and (mistakes := hours.mistakes()):
            self.add_error("bands", [*mistakes[:6]])
        else:
            usual = kept.usual_price(flat or Decimal(0), timezone.get_current_timezone_name())
            self.instance.prices = record.write(kept)
            cleaned["price_per_kwh"] = flat if kept.kind == FLAT else round_half_up(usual, UNIT_PRICE_PLACES)

    def _record(self, cleaned: dict[str, Any]) -> TariffRecord:
        return TariffRecord(
            kind=cleaned.get("kind") or FLAT,
            zone=cleaned["zone"],
            bands=cleaned["bands"],
            blocks=cleaned["blocks"],
            usual_kwh=Decimal(str(cleaned.get("usual_kwh") or 0)),
            adder_per_kwh=cleaned.get("adder_per_kwh") or Decimal(0),
            standing_per_day=cleaned.get("standing_per_day") or Decimal(0),
            base_per_month=cleaned.get("base_per_month") or Decimal(0),
            tax_pct=Decimal(str(cleaned.get("tax_pct") or 0)),
            rounding=cleaned.get("rounding") or ONCE,
            holidays=cleaned["holidays"],
        )


def _typed(kept: TariffRecord) -> dict[str, Any]:
    """Return a record as the form shows it; nothing for what is zero."""
    return {
        "kind": kept.kind,
        "bands": band_lines(kept.bands),
        "blocks": block_words(kept.blocks),
        "usual_kwh": float(kept.usual_kwh) or None,
        "adder_per_kwh": kept.adder_per_kwh or None,
        "standing_per_day": kept.standing_per_day or None,
        "base_per_month": kept.base_per_month or None,
        "tax_pct": float(kept.tax_pct) or None,
        "rounding": kept.rounding,
        "zone": kept.zone,
        "holidays": " ".join(day.isoformat() for day in kept.holidays),
    }
