"""Whether a food's figures can be true: what 100 g hold, and what a spoon, a cup and a piece weigh."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from kitchen.domain.facts import WeightFacts
from kitchen.domain.units import volume_ml

# kcal per gram of protein, fat, carbohydrate and alcohol: the general Atwater factors.
ATWATER_KCAL = {"protein_g": 4.0, "fat_g": 9.0, "carbohydrate_g": 4.0}
ALCOHOL_KCAL = 7.0
_NEAR_100_G, _OVER_100_G = 95.0, 102.0
_FAR_KCAL, _FAR_SHARE = 15.0, 0.25
_FAT_KCAL = 902.0
_HEAVIEST_G_PER_ML, _LIGHTEST_G_PER_ML = 2.2, 0.02
_SPREAD = 2.0


@dataclass(frozen=True)
class Composition100:
    """What 100 g of the edible part hold; None where it is not known."""

    water_g: float | None = None
    protein_g: float | None = None
    fat_g: float | None = None
    carbohydrate_g: float | None = None
    fibre_g: float | None = None
    ash_g: float | None = None
    energy_kcal: float | None = None
    sodium_mg: float | None = None
    sugars_g: float | None = None
    saturated_fat_g: float | None = None


def doubts_of_composition(food: Composition100) -> list[str]:
    """Return what cannot well be true of a food's composition, each as a sentence for the cook; nothing where all is well.

    Notes
    -----
    Water, protein, fat, carbohydrate and ash make up a food, but for alcohol and acids; carbohydrate counts fibre and sugars.
    Energy follows protein, fat and carbohydrate at 4, 9 and 4 kcal/g; fibre gives less, alcohol 7 kcal/g, so that the bounds
    are taken without the fibre and with what is missing to 100 g as alcohol.

    Examples
    --------
    >>> doubts_of_composition(Composition100(water_g=60, protein_g=20, fat_g=30, carbohydrate_g=5, ash_g=1, energy_kcal=370))
    ['Water, protein, fat, carbohydrate and ash come to 116 g of 100 g.']
    """
    return [*_sum_of_parts(food), *_parts_of_parts(food), *_energy(food)]


def _sum_of_parts(food: Composition100) -> Iterable[str]:
    parts = [food.water_g, food.protein_g, food.fat_g, food.carbohydrate_g, food.ash_g]
    known = sum(part for part in parts if part is not None)
    if known > _OVER_100_G:
        yield f"Water, protein, fat, carbohydrate and ash come to {known:.0f} g of 100 g."
    elif None not in parts and known < _NEAR_100_G:
        yield f"Water, protein, fat, carbohydrate and ash come to {known:.0f} g of 100 g. Is the rest alcohol or acid?"


def _parts_of_parts(food: Composition100) -> Iterable[str]:
    pairs = (
        ("Fibre", food.fibre_g, "carbohydrate", food.carbohydrate_g),
        ("Sugars", food.sugars_g, "carbohydrate", food.carbohydrate_g),
        ("Saturated fat", food.saturated_fat_g, "fat", food.fat_g),
    )
    for part, of_part, whole, of_whole in pairs:
        if of_part is not None and of_whole is not None and of_part > of_whole + 0.5:
            yield f"{part} ({of_part:g} g) is part of {whole} ({of_whole:g} g), so it cannot be more."


def _energy(food: Composition100) -> Iterable[str]:
    if food.energy_kcal is None:
        return
    if food.energy_kcal > _FAT_KCAL:
        yield f"{food.energy_kcal:.0f} kcal is more than pure fat holds (about 900 kcal). Is it in kJ? Divide by 4.184."
        return
    bounds = energy_bounds_kcal(food)
    if bounds is None:
        return
    low, high = bounds
    if not low - _slack(low) <= food.energy_kcal <= high + _slack(high):
        told = f"about {low:.0f}" if round(low) == round(high) else f"{low:.0f} to {high:.0f}"
        yield f"{food.energy_kcal:.0f} kcal does not fit protein, fat and carbohydrate, which make {told} kcal."


def _slack(kcal: float) -> float:
    return max(_FAR_KCAL, _FAR_SHARE * kcal)


def energy_bounds_kcal(food: Composition100) -> tuple[float, float] | None:
    """Return the least and the most energy that protein, fat and carbohydrate of 100 g can give, or None where one is not known.

    Returns
    -------
    tuple of (float, float) or None
        The fibre taken for nothing; the fibre taken for starch and the rest to 100 g for alcohol. [kcal]

    References
    ----------
    General factors 4, 9, 4 and 7 kcal/g: Merrill and Watt, Energy Value of Foods, USDA Handbook 74 (1973).

    Examples
    --------
    >>> energy_bounds_kcal(Composition100(protein_g=10, fat_g=10, carbohydrate_g=10, fibre_g=5))
    (150.0, 170.0)
    """
    given = {name: getattr(food, name) for name in ATWATER_KCAL}
    if None in given.values():
        return None
    most = sum(factor * given[name] for name, factor in ATWATER_KCAL.items())
    least = most - 4.0 * (food.fibre_g or 0.0)
    known = None if food.water_g is None or food.ash_g is None else food.water_g + food.ash_g + sum(given.values())
    return least, most + (ALCOHOL_KCAL * max(0.0, 100.0 - known) if known is not None else 0.0)


def doubts_of_weights(g_per_ml: float | None, weights: Iterable[WeightFacts]) -> list[str]:
    """Return what cannot well be true of a food's household weights, each as a sentence for the cook.

    Examples
    --------
    >>> doubts_of_weights(12.5, []), doubts_of_weights(0.53, [WeightFacts("cup", 125.0)])
    (['12.5 g a millilitre is heavier than any food: a cup of it would weigh about 2957 g.'], [])
    >>> doubts_of_weights(None, [WeightFacts("cup", 120.0), WeightFacts("tbsp", 30.0)])
    ['The weights by volume differ much: from 0.51 to 2.03 g a millilitre. Is one of them of another measure?']
    """
    found = [] if g_per_ml is None else list(_doubt_of_density(g_per_ml))
    by_volume = [weight.g / _millilitres(weight.unit) for weight in weights if _millilitres(weight.unit)]
    known = [*by_volume, *([g_per_ml] if g_per_ml else [])]
    if not found and len(known) > 1 and max(known) > _SPREAD * min(known):
        found.append(
            f"The weights by volume differ much: from {min(known):.2f} to {max(known):.2f} g a millilitre."
            " Is one of them of another measure?"
        )
    return found


def _doubt_of_density(g_per_ml: float) -> Iterable[str]:
    cup_g = g_per_ml * _millilitres("cup")
    if g_per_ml > _HEAVIEST_G_PER_ML:
        yield f"{g_per_ml:g} g a millilitre is heavier than any food: a cup of it would weigh about {cup_g:.4g} g."
    elif g_per_ml < _LIGHTEST_G_PER_ML:
        yield f"{g_per_ml:g} g a millilitre is lighter than puffed grain: a cup of it would weigh about {cup_g:.2g} g."


def _millilitres(unit_key: str) -> float:
    return float(volume_ml(Fraction(1), unit_key) or 0)
