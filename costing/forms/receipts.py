"""A whole receipt: shop and day once, the slip's lines typed or pasted, and what each of them was."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.forms import BoundField

from costing.domain.closing import ON_BILL, ON_LINE, Closing, after_discounts, close
from costing.domain.countries import COUNTRIES
from costing.domain.prices import price_words
from costing.domain.slips import GOODS, MOST_LINES, SlipLine, read_slip
from costing.forms.fields import FoodField, PackField, PriceField, SeenOnField, country_of
from costing.forms.prices import NO_SHOP
from costing.operations import SeenPrice
from costing.queries import FoodNames
from costing.queries.receipts import Proposal
from kitchen.domain.money import round_half_up
from kitchen.domain.packs import LOOSE, Pack
from kitchen.domain.units import UNITS, convert
from kitchen.models import Food
from kitchen.publish.opening import MOST_BYTES, too_heavy

LONGEST = 20_000
_OFF = [(ON_LINE, "off the line above"), (ON_BILL, "off the whole bill")]


class SlipForm(forms.Form):
    """The shop, the day and the lines."""

    shop = forms.CharField(max_length=80, error_messages={"required": NO_SHOP})
    country = forms.ChoiceField(
        required=False, choices=[("", "as the shop’s"), *((code, one.name) for code, one in COUNTRIES.items())], label="Country"
    )
    text = forms.CharField(
        max_length=LONGEST,
        label="Lines of the slip",
        help_text="one to a line, with its price at the end; the total, deposits and discounts, too",
        widget=forms.Textarea(attrs={"rows": 12, "spellcheck": "false"}),
        error_messages={
            "required": "Type or paste the lines of the slip.",
            "max_length": "This is longer than a slip. Type its lines in two parts.",
        },
    )

    def __init__(self, data: Any = None, *, shops: Mapping[str, str], today: date, **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        self.shop_countries = shops
        self.fields["day"] = SeenOnField(today=today, initial=today)
        self.fields["shop"].widget.attrs |= {"list": "shop-names", "autocomplete": "off"}
        self.order_fields(["shop", "day", "country", "text"])

    @property
    def shop_country(self) -> str:
        """The country that was chosen, else the shop's; only after ``is_valid``."""
        return self.cleaned_data["country"] or country_of(self.cleaned_data, self.shop_countries)

    def lines(self, currency: str) -> tuple[SlipLine, ...]:
        """Return the slip's lines as they were read; only after ``is_valid``."""
        return read_slip(self.cleaned_data["text"], currency, self.shop_country)


class SlipPhotoForm(forms.Form):
    """The picture of a slip."""

    picture = forms.FileField(
        label="Photo of the slip",
        help_text="for the cooks of this kitchen alone; place, camera and every other note are taken out of it",
        error_messages={"required": "Choose a photo.", "empty": "This file is empty."},
        widget=forms.FileInput({"accept": "image/jpeg,image/png,image/webp,image/avif"}),
    )

    def clean_picture(self) -> Any:
        """Return the file, if it is not too heavy."""
        picture = self.cleaned_data["picture"]
        if picture.size > MOST_BYTES:
            raise ValidationError(too_heavy(picture.size))
        return picture


@dataclass(frozen=True)
class SlipRow:
    """One line of the slip with what it was read as, and its fields; of a discount where it comes off."""

    place: int
    line: SlipLine
    food: BoundField | None = None
    pack: BoundField | None = None
    price: BoundField | None = None
    off: BoundField | None = None


@dataclass(frozen=True)
class Till:
    """Where a slip comes from: shop, day, currency and country."""

    shop: str
    day: date
    currency: str
    country: str


class ReceiptForm(forms.Form):
    """What each line of the slip was: its food and pack. Lines without a food are left alone."""

    difference = forms.CharField(
        max_length=80, required=False, label="What the difference is", help_text="a line that cannot be read"
    )

    def __init__(
        self, data: Any = None, *, lines: Sequence[SlipLine], proposals: Mapping[int, Proposal], foods: FoodNames, till: Till
    ) -> None:
        super().__init__(data)
        self.lines, self.food_names = lines[:MOST_LINES], foods.names
        self.currency, self.country = till.currency, till.country
        for place, line in enumerate(self.lines):
            if line.kind in GOODS:
                self._add_goods(place, line, proposals.get(place, Proposal()), foods)
            elif line.kind == "discount":
                above = bool(place) and self.lines[place - 1].kind in GOODS
                chosen = ON_LINE if above else ON_BILL
                self.fields[f"off_{place}"] = forms.ChoiceField(choices=_OFF, initial=chosen, label=f"Discount, line {place + 1}")

    def _add_goods(self, place: int, line: SlipLine, proposal: Proposal, foods: FoodNames) -> None:
        self.fields[f"food_{place}"] = FoodField(
            foods=foods, required=False, initial=proposal.food, label=f"Food, line {place + 1}"
        )
        self.fields[f"pack_{place}"] = PackField(required=False, initial=proposal.pack, label=f"One pack, line {place + 1}")
        initial = "" if line.price is None else price_words(line.price, "", "")
        price = PriceField(currency=self.currency, initial=initial, label=f"Price, line {place + 1}")
        price.country = self.country
        self.fields[f"price_{place}"] = price

    def rows(self) -> list[SlipRow]:
        """Return the slip line by line, as the page draws it."""
        names = ("food", "pack", "price", "off")
        return [
            SlipRow(place, line, **{name: self[f"{name}_{place}"] for name in names if f"{name}_{place}" in self.fields})
            for place, line in enumerate(self.lines)
        ]

    def closing(self) -> Closing:
        """Return the sums of the lines, with the prices as they stand in the form."""
        held = getattr(self, "cleaned_data", {})
        typed = ((line, held.get(f"price_{place}")) for place, line in enumerate(self.lines))
        return close([line if price is None else replace(line, price=price.price) for line, price in typed])

    def clean(self) -> dict[str, Any]:
        """Ask for the food and the pack of every line that is taken, and for a name of what is missing."""
        values = super().clean() or {}
        for place in self._taken():
            if not values.get(f"pack_{place}") and f"pack_{place}" not in self.errors:
                self.add_error(f"pack_{place}", "Say what one pack holds.")
            self._refuse_other_measure(place)
        if not self.errors and not self._taken():
            raise ValidationError("No line has a food yet: say what those are whose prices are to be saved.")
        if not self.errors and self.closing().difference and not values.get("difference"):
            self.add_error("difference", "The lines and the total differ: mend a price, or say what the difference is.")
        return values

    def _refuse_other_measure(self, place: int) -> None:
        line, pack = self.lines[place], self.cleaned_data.get(f"pack_{place}")
        if pack is not None and line.amount and UNITS[pack.unit or "each"].dimension != UNITS[line.unit].dimension:
            self.add_error(f"pack_{place}", f"It was weighed: type “per {line.unit}”.")

    def seen(self, till: Till) -> list[tuple[str, list[SeenPrice]]]:
        """Return by the till's words the prices to keep: the usual one, and for that day what was paid less than it."""
        paid, found = self._paid(), []
        for place in self._taken():
            line, food, pack = self.lines[place], Food(pk=self.cleaned_data[f"food_{place}"]), self.cleaned_data[f"pack_{place}"]
            usual = self.cleaned_data[f"price_{place}"].price
            sums = [(usual, None)] if paid[place] == usual else [(usual, None), (paid[place], till.day)]
            prices = [
                SeenPrice(
                    food, *_each(line, pack, price), till.currency, till.shop, till.day, last_day=last, country=till.country
                )
                for price, last in sums
            ]
            found.append((line.name, prices))
        return found

    def _taken(self) -> list[int]:
        return [place for place, line in enumerate(self.lines) if line.kind in GOODS and self.cleaned_data.get(f"food_{place}")]

    def _paid(self) -> dict[int, Decimal]:
        """Return what every line of goods cost after discounts."""
        goods = [place for place, line in enumerate(self.lines) if line.kind in GOODS]
        off_lines, off_bill = dict.fromkeys(goods, Decimal(0)), Decimal(0)
        for place, line in enumerate(self.lines):
            if line.kind == "discount" and line.price is not None:
                above = max((one for one in goods if one < place), default=None)
                if self.cleaned_data.get(f"off_{place}") == ON_LINE and above is not None:
                    off_lines[above] += line.price
                else:
                    off_bill += line.price
        prices = [self.cleaned_data[f"price_{place}"].price for place in goods]
        return dict(zip(goods, after_discounts(prices, list(off_lines.values()), off_bill), strict=True))


def _each(line: SlipLine, pack: Pack, price: Decimal) -> tuple[Pack, Decimal]:
    """Return a pack and what one of it cost: of several the price of one, of what was weighed the price by its unit."""
    if line.amount:
        loose = replace(pack, amount=pack.amount * pack.packs, packs=1, sold=LOOSE)
        share = loose.amount / convert(line.amount, line.unit, pack.unit)
        printed = line.each is not None and price == line.price and loose.amount == 1
        return loose, round_half_up(line.each if printed and line.each is not None else Fraction(price) * share, 4)
    exact = round_half_up(Fraction(price) / line.count, 4)
    return (pack, exact) if exact * line.count == price else (replace(pack, packs=pack.packs * line.count), price)
