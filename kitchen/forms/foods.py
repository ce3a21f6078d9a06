"""One food: its words, its weights, what it holds."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from kitchen.domain.allergens import ALLERGENS, MAYBE, NONE, current_key
from kitchen.domain.facts import WeightFacts
from kitchen.domain.plausible import Composition100, doubts_of_composition, doubts_of_weights
from kitchen.domain.remark import Remark
from kitchen.forms.allergens import NOT_LISTED, choices_of
from kitchen.forms.household import rows_valid, weight_forms, weights_of
from kitchen.forms.numbers import NumberField
from kitchen.models import Food

MOST_ALIASES = 60
# In the order of a label: a part below its whole.
COMPOSITION = (
    "energy_kcal",
    "water_g",
    "protein_g",
    "fat_g",
    "saturated_fat_g",
    "carbohydrate_g",
    "sugars_g",
    "fibre_g",
    "ash_g",
    "sodium_mg",
)
_ALL = choices_of(entry.key for entry in ALLERGENS)


def _grams_of(label: str, help_text: str = "") -> NumberField:
    return NumberField(label=label, low=0, high=100, unit="g", places=3, required=False, help_text=help_text)


class FoodForm(forms.Form):
    """A food's name and other names, aisle, household weights, refuse, composition and allergens."""

    name = forms.CharField(
        max_length=120, error_messages={"required": "Type the food’s name."}, widget=forms.TextInput({"dir": "auto"})
    )
    aliases = forms.CharField(
        label="Other names",
        max_length=3000,
        required=False,
        help_text="Parted by commas. A line with one of them means this food. “like” in front: it stands in for that.",
        widget=forms.Textarea({"rows": 2}),
    )
    aisle = forms.CharField(
        max_length=40, required=False, help_text="Where it stands in a shop.", widget=forms.TextInput({"list": "aisles"})
    )
    g_per_ml = NumberField(
        label="Weight of a millilitre",
        low=0,
        high=25,
        unit="g/mL",
        places=4,
        above_low=True,
        required=False,
        help_text="A cup of 240 mL that weighs 125 g makes 0.52. Empty: spoons and cups of it have no weight.",
    )
    g_per_each = NumberField(
        label="Weight of one piece",
        low=0,
        high=50000,
        unit="g",
        places=2,
        above_low=True,
        required=False,
        help_text="As eaten, without what is thrown away.",
    )
    each_name = forms.CharField(label="What one piece is", max_length=80, required=False, help_text="Like “medium onion”.")
    refuse_pct = NumberField(
        label="Thrown away",
        low=0,
        high=99,
        unit="%",
        places=1,
        required=False,
        help_text="Peel, core, bone: the part of what is bought.",
    )
    allergens = forms.MultipleChoiceField(
        choices=[*_ALL, (NONE, "none of these")],
        required=False,
        help_text="What it is made of. Without a tick, recipes say that nothing is known of it.",
        widget=forms.CheckboxSelectMultiple,
        error_messages=NOT_LISTED,
    )
    some_brands = forms.MultipleChoiceField(
        label="Allergens of some brands",
        choices=_ALL,
        required=False,
        help_text="Recipes say: read the label.",
        widget=forms.CheckboxSelectMultiple,
        error_messages=NOT_LISTED,
    )

    energy_kcal = NumberField(label="Energy", low=0, high=4000, unit="kcal", places=1, required=False)
    water_g = _grams_of("Water")
    protein_g = _grams_of("Protein")
    fat_g = _grams_of("Fat")
    saturated_fat_g = _grams_of("Saturated fat", "Counted in the fat.")
    carbohydrate_g = _grams_of("Carbohydrate", "With sugars and fibre.")
    sugars_g = _grams_of("Sugars", "Counted in the carbohydrate.")
    fibre_g = _grams_of("Fibre", "Counted in the carbohydrate.")
    ash_g = _grams_of("Ash", "Salts and minerals: what burning leaves.")
    sodium_mg = NumberField(
        label="Sodium", low=0, high=100000, unit="mg", places=1, required=False, help_text="1 g salt holds 393 mg."
    )

    def __init__(self, data: Any = None, *, food: Food | None = None, name: str = "", wish: str = "") -> None:
        """``name`` fills in a new food's name; ``wish`` is the button that adds a household weight or takes one away."""
        self.food = food
        super().__init__(data, initial=_initial(food) if food is not None else {"name": name})
        self.rows = weight_forms(self.data if self.is_bound else None, food.weights if food is not None else [], wish)

    def is_valid(self) -> bool:
        """Whether the food and each of its household weights make sense."""
        return rows_valid(self.rows) & super().is_valid()

    @property
    def composition(self) -> list[tuple[forms.BoundField, str]]:
        """What 100 g hold: each field with its unit."""
        units = {"energy_kcal": "kcal", "sodium_mg": "mg"}
        return [(self[name], units.get(name, "g")) for name in COMPOSITION]

    def clean_allergens(self) -> list[str]:
        """Return what is ticked, unless that is something and nothing at once."""
        ticked = list(self.cleaned_data["allergens"])
        if NONE in ticked and len(ticked) > 1:
            raise ValidationError("You ticked “none of these” and others. Untick the one or the others.")
        return ticked

    def clean_name(self) -> str:
        """Return the name, if no other food has it."""
        name = " ".join(self.cleaned_data["name"].split())
        others = Food.objects.filter(name__iexact=name).exclude(pk__in=[self.food.pk] if self.food else [])
        if others.exists():
            raise ValidationError("There is a food of this name already. Change that one, or choose another name.")
        return name

    def clean_aliases(self) -> list[str]:
        """Return the other names, each once."""
        names = list(
            dict.fromkeys(name for piece in self.cleaned_data["aliases"].split(",") if (name := " ".join(piece.split())))
        )
        if len(names) > MOST_ALIASES:
            raise ValidationError(f"There are {len(names)} other names; {MOST_ALIASES} fit.")
        return names

    def values(self) -> dict[str, Any]:
        """Return what a valid form says, as the table keeps it; what the page did not show is left out."""
        data = dict(self.cleaned_data)
        for name in ("g_per_ml", "g_per_each", *COMPOSITION):
            data[name] = None if data[name] is None else float(data[name])
        data["refuse_pct"] = float(data["refuse_pct"] or 0)
        maybes = [key + MAYBE for key in data.pop("some_brands") if key not in data["allergens"]]
        data["allergens"] = sorted([*data["allergens"], *maybes])
        weights = {"weights": weights_of(self.rows)} if "weights" in self.data else {}
        return {name: value for name, value in data.items() if name not in COMPOSITION or name in self.data} | weights


def doubts_of(food: Food) -> list[Remark]:
    """Return what is hardly true of a food; the food is kept all the same, since the cook may know better."""
    weights = [WeightFacts(weight["unit"], weight["g"], weight["words"]) for weight in food.weights]
    holds = Composition100(**{name: getattr(food, name) for name in COMPOSITION})
    return [*doubts_of_composition(holds), *doubts_of_weights(food.g_per_ml, weights)]


def _initial(food: Food) -> dict[str, Any]:
    kept = ("name", "aisle", "g_per_ml", "g_per_each", "each_name", "refuse_pct", *COMPOSITION)
    keys = [current_key(key) for key in food.allergens]
    return {
        **{name: getattr(food, name) for name in kept},
        "aliases": ", ".join(food.aliases),
        "allergens": [key for key in keys if not key.endswith(MAYBE)],
        "some_brands": [key.removesuffix(MAYBE) for key in keys if key.endswith(MAYBE)],
    }
