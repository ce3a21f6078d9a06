"""A price book as a table: each row a price, all of them or none."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from decimal import Decimal, InvalidOperation
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from costing.domain.tables import rows_of
from costing.operations import SeenPrice
from costing.queries import FoodNames
from costing.queries.price_book import HEAD, not_here
from kitchen.domain.money import CURRENCIES, round_half_up
from kitchen.domain.packs import Pack, pack_words, parse_pack
from kitchen.models import Food

LONGEST = 4_000_000


class PriceBookForm(forms.Form):
    """The file, as this program writes it."""

    table = forms.FileField(label="Price book (CSV)", error_messages={"required": "Choose the file with the price book."})

    def __init__(self, data: Any = None, files: Any = None, *, foods: FoodNames, today: date) -> None:
        super().__init__(data, files)
        self.foods, self.today = foods, today
        self.fields["table"].widget.attrs |= {"accept": ".csv,text/csv"}

    def clean_table(self) -> list[SeenPrice]:
        """Return the prices that are not here yet, or say which row cannot be read and why."""
        sent = self.cleaned_data["table"]
        if sent.size > LONGEST:
            raise ValidationError("The file is larger than any price book. Bring it in in parts.")
        try:
            rows = rows_of(sent.read().decode("utf-8"), HEAD)
        except UnicodeDecodeError:
            raise ValidationError("The file is no text in UTF-8. Save the table as CSV in UTF-8.") from None
        except ValueError as refused:
            raise ValidationError(str(refused)) from None
        read = [self._read(place, row) for place, row in enumerate(rows, 2)]
        return [read[place][1] for place in not_here([row for row, _ in read])]

    def _read(self, line: int, row: Mapping[str, str]) -> tuple[list[str], SeenPrice]:
        food = self.foods.find(row["food"])
        if food is None:
            raise ValidationError(f"Row {line}: no food is called “{row['food'][:60]}”. Add it under Foods first.")
        try:
            pack, price = parse_pack(row["pack"]), Decimal(row["price"])
            day, last = date.fromisoformat(row["day"]), date.fromisoformat(row["last day"]) if row["last day"] else None
        except (ValueError, InvalidOperation):
            raise ValidationError(f"Row {line}: the pack, the price or the day cannot be read.") from None
        self._refuse_strange(line, row, price, (day, last))
        note, brand, exact = row["note"][:200], row["brand"][:80], round_half_up(price, 4)
        seen = SeenPrice(Food(pk=food), pack, exact, row["currency"], row["shop"], day, note, brand, last)
        return self._as_written(row, pack, price), seen

    def _refuse_strange(self, line: int, row: Mapping[str, str], price: Decimal, days: tuple[date, date | None]) -> None:
        if not price.is_finite() or not 0 <= price < 10_000_000 or row["currency"] not in CURRENCIES:
            raise ValidationError(f"Row {line}: the price or its currency cannot be saved.")
        if not 0 < len(" ".join(row["shop"].split())) <= 80:
            raise ValidationError(f"Row {line}: the shop needs a name of at most 80 letters.")
        if days[0] > self.today or days[0].year < 1990 or (days[1] is not None and days[1] < days[0]):
            raise ValidationError(f"Row {line}: this day cannot be the day of a price.")

    def _as_written(self, row: Mapping[str, str], pack: Pack, price: Decimal) -> list[str]:
        words = pack_words(pack.amount, pack.unit, pack.packs, sold=pack.sold, drained_g=pack.drained_g)
        name = next(name for name in self.foods.names if self.foods.ids.get(name.casefold()) == self.foods.find(row["food"]))
        plain = {**row, "food": name, "pack": words, "price": f"{round_half_up(price, 4):f}"}
        return [plain[column] for column in HEAD]
