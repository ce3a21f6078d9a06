"""A yield: typed as a percentage, or as what was bought and what was left."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms

from costing.domain.yields import yield_percent
from costing.forms.fields import FoodField, PackField
from costing.models import YIELD_KINDS, Yield
from costing.queries import FoodNames
from kitchen.domain.money import round_half_up
from kitchen.domain.units import CannotConvert, convert

_RANGE = "A yield is above 0 and at most 100 %%; what swells in cooking, like rice, at most 999 %%."
_TRIM_RANGE = "Trimming leaves at most 100 %. What weighs more cooked, like rice, is a cooking test."


class YieldForm(forms.Form):
    """A yield of one food after one preparation."""

    process = forms.ChoiceField(
        required=False, choices=YIELD_KINDS, initial="trim", widget=forms.RadioSelect, label="What was tested"
    )
    preparation = forms.CharField(
        max_length=60, required=False, help_text="“peeled”, “boned”; counts for lines that say so. Empty: for all others."
    )
    percent = forms.DecimalField(
        required=False,
        max_digits=5,
        decimal_places=2,
        min_value=Decimal("0.01"),
        max_value=Decimal(999),
        error_messages={"min_value": _RANGE, "max_value": _RANGE, "invalid": "Type the yield in figures, like 84 or 64.5."},
        label="Used",
        help_text="or weigh it: fill in bought and left",
    )
    from_day = forms.DateField(
        required=False,
        label="Counts from",
        help_text="empty: on any day",
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages={"invalid": "This is not a day. Write it like 2026-10-14."},
    )
    source = forms.CharField(max_length=160, required=False, help_text="“our test, 3 kg, 2 October”; left empty: own test")

    def __init__(self, data: Any = None, *, foods: FoodNames, tested: Yield | None = None, **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        self.tested, self.food_names = tested, foods.names
        if tested is None:
            self.fields["food"] = FoodField(foods=foods, error_messages={"required": "Say which food the yield is of."})
        self.fields["bought"] = PackField(required=False, label="Weighed: bought", help_text="2.5 kg, as it came from the shop")
        self.fields["left"] = PackField(required=False, label="Weighed: left", help_text="1.75 kg, ready for the pot")
        self.order_fields(["food", "process", "preparation", "percent", "bought", "left", "from_day", "source"])

    def kept(self) -> dict[str, Any]:
        """Return what is to be kept; only after ``is_valid``."""
        values = {name: self.cleaned_data[name] for name in ("process", "preparation", "percent", "from_day", "source")}
        return values | {"source": values["source"] or "own test"}

    def clean_process(self) -> str:
        """Take a yield of which nothing was said for trimming."""
        return self.cleaned_data["process"] or "trim"

    def clean(self) -> dict[str, Any]:
        """Work the percentage out from the test where it was not typed; refuse what another yield of the food is for."""
        values = super().clean() or {}
        if self.tested is not None and not {"from_day", "preparation"} & set(self.errors):
            own = {name: values.get(name) for name in ("process", "preparation", "from_day")}
            if Yield.objects.filter(food=self.tested.food_id, **own).exclude(pk=self.tested.pk).exists():
                self.add_error("preparation", "There is a yield for this preparation already; change that one.")
        if values.get("percent") is None and not self.errors:
            values["percent"] = self._percent_of_test(values.get("bought"), values.get("left"))
        percent = values.get("percent")
        if percent is not None and percent > 100 and values.get("process") != "cook" and "left" not in self.errors:
            self.add_error("percent", _TRIM_RANGE)
        return values

    def _percent_of_test(self, bought: Any, left: Any) -> Decimal | None:
        if bought is None or left is None:
            self.add_error("percent", "Type the yield, or what was bought and what was left.")
            return None
        try:
            eaten = convert(left.amount * left.packs, left.unit, bought.unit)
            weighed = bought.amount * bought.packs
            exact = 100 * eaten / weighed if self.cleaned_data.get("process") == "cook" else yield_percent(eaten, weighed)
        except CannotConvert:
            self.add_error("left", "Weigh both in the same way, like kg and g.")
        except ValueError as error:
            self.add_error("left", str(error))
        else:
            return max(Decimal("0.01"), round_half_up(exact, 2))
        return None


def typed_yield(tested: Yield) -> dict[str, Any]:
    """Return what a person would have typed for this yield."""
    percent = f"{tested.percent.normalize():f}"
    kept = {name: getattr(tested, name) for name in ("process", "preparation", "from_day", "source")}
    return kept | {"percent": percent}
