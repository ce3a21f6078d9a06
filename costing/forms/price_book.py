"""A table of prices from a file or pasted: its columns pointed at, each row read, what is here already told apart."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from costing.domain.countries import COUNTRIES
from costing.domain.price_tables import COLUMNS, PriceTable, day_in, guessed_columns, read_table
from costing.domain.prices import Price
from costing.domain.tables import csv_of
from costing.forms.fields import FoodField, PackField, PriceField, SeenOnField, country_of, whole_price
from costing.operations import SeenPrice, not_here
from costing.queries import FoodNames
from energy.meters.files.columns.shape import UnreadableFile
from energy.meters.files.tables.decoding import encoding_of, lines
from kitchen.domain.money import CURRENCIES
from kitchen.domain.packs import Pack
from kitchen.models import Food

LONGEST = 2_000_000
_UNUSED = "left out"


@dataclass(frozen=True)
class Column:
    """A column as the page draws it: its place, its name, what stands in it."""

    place: int
    name: str
    chosen: str

    @property
    def choices(self) -> list[tuple[str, str]]:
        """What may stand in it."""
        return [("", _UNUSED), *((column, column) for column in COLUMNS)]


@dataclass(frozen=True)
class Read:
    """What came of a table: the prices that are not here yet, how many are, and the rows that cannot be read with the reason."""

    new: Sequence[SeenPrice]
    here: int
    left: Sequence[tuple[int, str]]


class PriceTableForm(forms.Form):
    """The table as a file or as text, and what its rows do not say: the shop, its country, the day."""

    file = forms.FileField(required=False, label="A file", help_text="CSV from a spreadsheet or a shop, or what this page wrote")
    text = forms.CharField(
        required=False,
        label="Or its rows",
        max_length=LONGEST,
        strip=False,
        widget=forms.Textarea(attrs={"rows": 8, "spellcheck": "false", "wrap": "off"}),
    )
    shop = forms.CharField(required=False, max_length=80, help_text="for rows that name none")
    country = forms.ChoiceField(
        required=False,
        choices=[("", "as the shop’s"), *((code, one.name) for code, one in COUNTRIES.items())],
        help_text="says how prices and days are written",
    )

    def __init__(
        self,
        data: Any = None,
        files: Any = None,
        *,
        foods: FoodNames,
        shops: Mapping[str, str],
        currency: str,
        today: date,
        **kwargs: Any,
    ) -> None:
        super().__init__(data, files, **kwargs)
        self.food_names, self.shops, self.currency = foods, shops, currency
        self.table: PriceTable | None = None
        self.fields["day"] = SeenOnField(today=today, required=False, help_text="for rows that name none")
        self.fields["file"].widget.attrs |= {"accept": ".csv,.txt,.json,text/csv,application/json"}
        self.fields["shop"].widget.attrs |= {"list": "shop-names", "autocomplete": "off"}
        self._food, self._day = FoodField(foods=foods), SeenOnField(today=today)

    def clean(self) -> dict[str, Any]:
        """Take the table apart; what was sent as a file stands in the text from now on, so that it can be mended there."""
        values = super().clean() or {}
        sent = values.get("file")
        if self.errors:
            return values
        try:
            values["text"] = _text_of(sent) if sent is not None else values.get("text") or ""
            self.table = read_table(values["text"])
        except ValueError as refused:
            raise ValidationError(str(refused)) from None
        return values

    def columns(self) -> list[Column]:
        """Return the columns with what stands in each, as it was pointed at, else as it is guessed."""
        assert self.table is not None
        guessed = guessed_columns(self.table)
        told = f"column{len(guessed) - 1}" in self.data and self.cleaned_data.get("file") is None
        chosen = [self.data.get(f"column{place}", "") for place in range(len(guessed))] if told else guessed
        return [Column(place, name, chosen[place]) for place, name in enumerate(self.table.names)]

    def read(self) -> Read:
        """Return the prices of the table; only after ``is_valid``."""
        assert self.table is not None
        places = {column.chosen: column.place for column in reversed(self.columns()) if column.chosen}
        good, left = [], []
        for line, cells in self.table.rows:
            try:
                good.append(self._seen({name: cells[place] for name, place in places.items()}))
            except (ValidationError, ValueError) as refused:
                left.append((line, " ".join(getattr(refused, "messages", [str(refused)]))))
        new = not_here(good)
        return Read(new, len(good) - len(new), left)

    def _seen(self, row: Mapping[str, str]) -> SeenPrice:
        """Return one row's price; raises ValidationError or ValueError with what is wrong with it."""
        shop = " ".join((row.get("shop") or self.cleaned_data["shop"]).split())
        country = self.cleaned_data["country"] or country_of({"shop": shop}, self.shops)
        if not 0 < len(shop) <= 80:
            raise ValueError("The shop needs a name of at most 80 letters.")
        food = self._food.clean(row.get("food", ""))
        pack, price = self._amount(row, country)
        return SeenPrice(
            food=Food(pk=food),
            pack=pack,
            price=price.price,
            currency=price.currency,
            shop_name=shop,
            day=self._day_of(row.get("day", ""), country),
            note=row.get("note", "")[:200],
            brand=row.get("brand", "")[:80],
            last_day=self._last_day(row, country),
            country=self.cleaned_data["country"],
        )

    def _amount(self, row: Mapping[str, str], country: str) -> tuple[Pack, Price]:
        usual = COUNTRIES[country].currency if country in COUNTRIES else self.currency
        currency = row.get("currency") or usual
        if currency not in CURRENCIES:
            raise ValueError(f"“{currency[:20]}” is not a currency. Use its three letters, like EUR or USD.")
        known = country if country in COUNTRIES and COUNTRIES[country].currency == currency else ""
        price = _read_price(row.get("price", ""), currency, known)
        pack, amount = whole_price(_read_pack(row.get("pack", "")), price)
        return pack, Price(amount, price.currency)

    def _day_of(self, cell: str, country: str) -> date:
        day = self._day.clean(day_in(cell, country)) if cell else self.cleaned_data["day"]
        if day is None:
            raise ValueError("The row has no day. Say one for all rows.")
        return date.fromisoformat(str(day))

    def _last_day(self, row: Mapping[str, str], country: str) -> date | None:
        cell = row.get("last day", "")
        last = day_in(cell, country) if cell else None
        if last is not None and last < self._day_of(row.get("day", ""), country):
            raise ValueError("A sale ends on the day of the price or later.")
        return last


@lru_cache(maxsize=4096)
def _read_pack(cell: str) -> Pack | None:
    return PackField(required=False).clean(cell)


@lru_cache(maxsize=4096)
def _read_price(cell: str, currency: str, country: str) -> Price:
    field = PriceField(currency=currency)
    field.country = country
    price = field.clean(cell)
    assert price is not None
    return price


def _text_of(sent: Any) -> str:
    """Return a file's text; raises ValueError with a sentence for what is none. Records in JSON become a table."""
    if sent.size > LONGEST:
        raise ValueError("The file is larger than two megabytes. Bring it in in parts.")
    held = sent.read()
    try:
        text = "\n".join(lines([held], encoding_of(held)))
    except UnreadableFile:
        raise ValueError("This is no table of text. Save the table as CSV, then try again.") from None
    return _table_of_records(text) if text.lstrip().startswith(("{", "[")) else text


def _table_of_records(text: str) -> str:
    try:
        held = json.loads(text)
        records = held["prices"] if isinstance(held, dict) else held
        rows = [[str(record.get(column) or "") for column in COLUMNS] for record in records]
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        raise ValueError("These are no records of prices as this page writes them.") from None
    return csv_of(COLUMNS, rows)
