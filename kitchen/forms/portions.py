"""Other ways to scale than by servings: the size of a portion, a group, what there is, the vessel."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, cast

from django import forms
from django.core.exceptions import ValidationError

from kitchen.domain import portions
from kitchen.domain.amounts import format_decimal
from kitchen.domain.appetite import suggested_factor
from kitchen.domain.facts import RecipeFacts
from kitchen.domain.portions import CannotScale, Eaters, Wanted
from kitchen.domain.vessel import Vessel
from kitchen.forms.numbers import AmountField, NumberField
from kitchen.words import ENGLISH, refusal_words
from kitchen.words.portions import group_words, makes_words, portion_words

WAYS = ("portion", "group", "have", "vessel")
_PORTIONS = [
    ("", "as written"),
    ("1/2", "half the size"),
    ("3/4", "smaller by a quarter"),
    ("5/4", "larger by a quarter"),
    ("3/2", "larger by half"),
    ("2", "twice as large"),
]
_ML_PER_L = 1000


class _Way(forms.Form):
    """A small form whose fields have the names that stand in addresses."""

    def __init__(self, data: Mapping[str, str] | None, **kwargs: Any) -> None:
        super().__init__(data, auto_id="way-%s", **kwargs)

    @classmethod
    def is_asked(cls, query: Mapping[str, str]) -> bool:
        """Whether an address fills in any of the fields."""
        return any(query.get(name, "").strip() for name in cls.base_fields)


class PortionForm(_Way):
    """The size of one serving: in grams where the written one is known, else as a multiple of it."""

    grams = NumberField(low=1, high=10_000, unit="g", label="One serving, in grams", required=False)
    portion = AmountField(label="One serving", required=False)

    def __init__(self, data: Mapping[str, str] | None, *, serving_g: float | None, **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        self.serving_g = serving_g
        asked = (data or {}).get("portion", "").strip()
        others = [(asked, asked)] if asked not in dict(_PORTIONS) else []
        self.fields["portion"].widget = forms.Select(choices=[*_PORTIONS, *others])

    def clean(self) -> dict[str, Any]:
        """Work grams out against the written serving, and check that the size is a sensible one."""
        data = super().clean() or self.cleaned_data
        grams, field = data.get("grams"), "portion"
        if grams is not None:
            field = "grams"
            if not self.serving_g:
                raise ValidationError({field: "What a written serving weighs is not known here. Choose a size instead."})
            data["portion"] = Fraction(grams) / Fraction(self.serving_g).limit_denominator(10)
        if data.get("portion") is not None:
            try:
                portions.checked_portion(data["portion"])
            except CannotScale as error:
                raise ValidationError({field: refusal_words(error, ENGLISH)}) from None
        return data

    def wanted(self, servings: int) -> Wanted:
        """Return what a valid form asks for."""
        return Wanted(servings, self.cleaned_data.get("portion") or Fraction(1))

    def why(self, wanted: Wanted) -> str:
        """Return how that came about, in words."""
        return portion_words(wanted.portion, self.serving_g, ENGLISH)


class GroupForm(_Way):
    """Who eats, and what one of each kind eats against an adult."""

    adults = NumberField(low=0, high=500, places=0, label="Adults", required=False)
    children = NumberField(low=0, high=500, places=0, label="Children, 6 to 12", required=False)
    walkers = NumberField(low=0, high=500, places=0, label="Hungry walkers", required=False)
    child = AmountField(label="A child eats", required=False)
    walker = AmountField(label="A walker eats", required=False)

    def __init__(self, data: Mapping[str, str] | None, **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        for name, factor in self.suggested().items():
            self.fields[name].widget.attrs["placeholder"] = format_decimal(factor)

    @staticmethod
    def suggested() -> dict[str, Fraction]:
        """Return the factors that count where none are typed."""
        return {"child": portions.CHILD, "walker": suggested_factor()}

    @property
    def child_words(self) -> str:
        """The suggestion for a child."""
        return format_decimal(portions.CHILD)

    @property
    def walker_words(self) -> str:
        """The suggestion for somebody who walks much."""
        return format_decimal(suggested_factor())

    @classmethod
    def is_asked(cls, query: Mapping[str, str]) -> bool:
        """Whether anybody is counted; factors alone ask for nothing."""
        return any(query.get(name, "").strip() for name in ("adults", "children", "walkers"))

    def clean(self) -> dict[str, Any]:
        """Work the group out, so that what is wrong with it stands beside its first field."""
        data = super().clean() or self.cleaned_data
        for name in ("child", "walker"):
            factor = data.get(name)
            if factor is not None and not portions.SMALLEST_PORTION <= factor <= portions.LARGEST_PORTION:
                self.add_error(name, "Type a number from 0.1 to 10: 1 is what an adult eats.")
        if not self.errors:
            try:
                data["wanted"] = portions.for_group(self._eaters(data))
            except CannotScale as error:
                self.add_error("adults", f"{refusal_words(error, ENGLISH)} Type how many there are.")
        return data

    def _eaters(self, data: Mapping[str, Any]) -> list[Eaters]:
        counts = {name: int(data.get(name) or 0) for name in ("adults", "children", "walkers")}
        factors = {name: data.get(name) or factor for name, factor in self.suggested().items()}
        return [
            Eaters(counts["adults"], "adult"),
            Eaters(counts["children"], "child", factors["child"]),
            Eaters(counts["walkers"], "walker", factors["walker"]),
        ]

    def why(self, wanted: Wanted) -> str:
        """Return who eats, in words."""
        return group_words(self._eaters(self.cleaned_data), ENGLISH)

    def wanted(self, servings: int) -> Wanted:
        """Return what a valid form asks for; the group itself says how many eat."""
        found: Wanted = self.cleaned_data["wanted"]
        return found


class HaveForm(_Way):
    """One line of the recipe, and what there is of it."""

    have = forms.CharField(label="I have", max_length=60, required=False)
    of = forms.ChoiceField(label="of", required=False)

    def __init__(self, data: Mapping[str, str] | None, *, recipe: RecipeFacts, **kwargs: Any) -> None:
        super().__init__(data, **kwargs)
        self.recipe = recipe
        self.choices = portions.lines_to_choose(recipe.parts)
        cast(forms.ChoiceField, self.fields["of"]).choices = [
            (str(number), _short(line.name or line.text)) for number, line in self.choices
        ]
        self.fields["have"].widget.attrs |= {"placeholder": "700 g", "autocomplete": "off", "size": "8"}

    @classmethod
    def is_asked(cls, query: Mapping[str, str]) -> bool:
        """Whether an amount was typed; a line alone asks for nothing."""
        return bool(query.get("have", "").strip())

    def clean_of(self) -> int:
        """Return the number of the line; the first that can be chosen where none was."""
        chosen = self.cleaned_data["of"] or next((str(number) for number, _ in self.choices), "")
        if not chosen:
            raise ValidationError("No line of this recipe has an amount that the others could follow.")
        return int(chosen)

    def clean(self) -> dict[str, Any]:
        """Work out what the amount makes, so that what is wrong stands beside it."""
        data = super().clean() or self.cleaned_data
        if "of" in self.errors:
            self.errors["of"] = self.error_class(["Choose one of the lines that stand here: only those can set the others."])
        if self.errors:
            return data
        line = portions.all_lines(self.recipe.parts)[data["of"] - 1]
        try:
            k = portions.multiple_of(line, data["have"])
            data["wanted"] = portions.from_what_there_is(k, self.recipe.servings)
        except CannotScale as error:
            self.add_error("have", refusal_words(error, ENGLISH))
        return data

    def why(self, wanted: Wanted) -> str:
        """Return what there is and what it makes, in words."""
        line = portions.all_lines(self.recipe.parts)[self.cleaned_data["of"] - 1]
        return makes_words(self.cleaned_data["have"].strip(), line.name, wanted, ENGLISH)

    def wanted(self, servings: int) -> Wanted:
        """Return what a valid form asks for; what there is says how many it feeds."""
        found: Wanted = self.cleaned_data["wanted"]
        return found


class VesselForm(_Way):
    """The reader's own pot."""

    vessel = NumberField(low=0, high=200, unit="L", places=2, above_low=True, label="My pot holds, in litres", required=False)
    lid = forms.ChoiceField(label="It cooks", choices=[("on", "with its lid on"), ("off", "open")], required=False)

    @classmethod
    def is_asked(cls, query: Mapping[str, str]) -> bool:
        """Whether a size was typed; a lid alone asks for nothing."""
        return bool(query.get("vessel", "").strip())

    def found(self) -> Vessel:
        """Return the pot of a valid form."""
        litres = self.cleaned_data["vessel"]
        closed = self.cleaned_data["lid"] != "off"
        return Vessel(f"pot of {litres.normalize():f}\u00a0L", float(litres) * _ML_PER_L, closed=closed, own=True)


def way_names() -> list[str]:
    """Return the names of all fields of all these ways, as they stand in addresses."""
    return [name for way in (PortionForm, GroupForm, HaveForm, VesselForm) for name in way.base_fields]


@dataclass(frozen=True)
class PortionsReading:
    """What an address says beyond the servings.

    ``why`` says in words how ``wanted`` came about. ``query`` is what links carry on of it, spelled exactly; ``kept`` what of it
    another number of servings leaves standing. ``sets_servings`` says that it also decides how many eat. ``forms`` draw the ways
    again, each with what was typed.
    """

    wanted: Wanted
    why: str
    vessel: Vessel | None
    forms: Mapping[str, _Way]
    query: Mapping[str, str]
    kept: Mapping[str, str]
    sets_servings: bool
    serving_g: float | None
    stated_g: bool

    @property
    def sound(self) -> bool:
        """Whether everything that was typed could be read."""
        return not any(form.is_bound and form.errors for form in self.forms.values())

    @property
    def in_use(self) -> bool:
        """Whether any way other than the servings was asked for."""
        return any(form.is_bound for form in self.forms.values())


def read_portions(query: Mapping[str, str], recipe: RecipeFacts, servings: int) -> PortionsReading:
    """Return what an address asks for: of what there is, a group and a size of portion the first that it names; and a vessel."""
    serving_g = recipe.serving_g or portions.serving_grams(recipe.parts, recipe.servings)
    chosen = next((way for way in ("have", "group", "portion") if _FORMS[way].is_asked(query)), "")
    asked = {way: query if way == chosen or (way == "vessel" and VesselForm.is_asked(query)) else None for way in WAYS}
    drawn: dict[str, Any] = {
        "portion": PortionForm(asked["portion"], serving_g=serving_g),
        "group": GroupForm(asked["group"]),
        "have": HaveForm(asked["have"], recipe=recipe),
        "vessel": VesselForm(asked["vessel"]),
    }
    vessel, valid = drawn["vessel"], chosen != "" and drawn[chosen].is_valid()
    wanted = drawn[chosen].wanted(servings) if valid else Wanted(servings)
    pot = _typed_in(vessel, query) if vessel.is_bound and vessel.is_valid() else {}
    size = {"portion": str(wanted.portion)} if valid and chosen == "portion" and wanted.portion != 1 else {}
    named = _typed_in(drawn[chosen], query) if valid and chosen in ("have", "group") else size
    return PortionsReading(
        wanted=wanted,
        why=drawn[chosen].why(wanted) if valid else "",
        vessel=vessel.found() if pot else None,
        forms=drawn,
        query={**named, **pot},
        kept={**size, **pot},
        sets_servings=valid and chosen in ("have", "group"),
        serving_g=serving_g,
        stated_g=recipe.serving_g is not None,
    )


_FORMS: dict[str, type[_Way]] = {"portion": PortionForm, "group": GroupForm, "have": HaveForm, "vessel": VesselForm}


def _typed_in(form: _Way, query: Mapping[str, str]) -> dict[str, str]:
    return {name: query[name].strip() for name in form.fields if query.get(name, "").strip()}


def _short(words: str) -> str:
    return words if len(words) <= 40 else f"{words[:39]}…"
