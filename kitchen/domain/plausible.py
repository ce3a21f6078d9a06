"""Whether a food's figures can be true: what 100 g hold, and what a spoon, a cup and a piece weigh."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from kitchen.domain.facts import WeightFacts
from kitchen.domain.remark import Remark, remark
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


def doubts_of_composition(food: Composition100) -> list[Remark]:
    """Return what cannot well be true of a food's composition; nothing where all is well.

    Notes
    -----
    Water, protein, fat, carbohydrate and ash make up a food, but for alcohol and acids; carbohydrate counts fibre and sugars.
    Energy follows protein, fat and carbohydrate at 4, 9 and 4 kcal/g; fibre gives less, alcohol 7 kcal/g, so that the bounds
    are taken without the fibre and with what is missing to 100 g as alcohol.

    Examples
    --------
    >>> doubts_of_composition(Composition100(water_g=60, protein_g=20, fat_g=30, carbohydrate_g=5, ash_g=1, energy_kcal=370))
    [Remark(code='parts_above_100_g', values={'sum_g': 116.0})]
    """
    return [*_sum_of_parts(food), *_parts_of_parts(food), *_energy(food)]


def _sum_of_parts(food: Composition100) -> Iterable[Remark]:
    parts = [food.water_g, food.protein_g, food.fat_g, food.carbohydrate_g, food.ash_g]
    known = sum(part for part in parts if part is not None)
    if known > _OVER_100_G:
        yield remark("parts_above_100_g", sum_g=known)
    elif None not in parts and known < _NEAR_100_G:
        yield remark("parts_below_100_g", sum_g=known)


def _parts_of_parts(food: Composition100) -> Iterable[Remark]:
    pairs = (
        ("fibre_above_carbohydrate", food.fibre_g, food.carbohydrate_g),
        ("sugars_above_carbohydrate", food.sugars_g, food.carbohydrate_g),
        ("saturates_above_fat", food.saturated_fat_g, food.fat_g),
    )
    for code, part_g, whole_g in pairs:
        if part_g is not None and whole_g is not None and part_g > whole_g + 0.5:
            yield remark(code, part_g=part_g, whole_g=whole_g)


def _energy(food: Composition100) -> Iterable[Remark]:
    if food.energy_kcal is None:
        return
    if food.energy_kcal > _FAT_KCAL:
        yield remark("energy_above_fat", energy_kcal=food.energy_kcal)
        return
    bounds = energy_bounds_kcal(food)
    if bounds is None:
        return
    low, high = bounds
    if not low - _slack(low) <= food.energy_kcal <= high + _slack(high):
        code = "energy_unlike_parts" if round(low) == round(high) else "energy_outside_parts"
        yield remark(code, energy_kcal=food.energy_kcal, low_kcal=low, high_kcal=high)


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


def doubts_of_weights(g_per_ml: float | None, weights: Iterable[WeightFacts]) -> list[Remark]:
    """Return what cannot well be true of a food's household weights.

    Examples
    --------
    >>> [doubt.code for doubt in doubts_of_weights(12.5, [])], doubts_of_weights(0.53, [WeightFacts("cup", 125.0)])
    (['heavier_than_food'], [])
    >>> [doubt.code for doubt in doubts_of_weights(None, [WeightFacts("cup", 120.0), WeightFacts("tbsp", 30.0)])]
    ['weights_differ']
    """
    found = [] if g_per_ml is None else list(_doubt_of_density(g_per_ml))
    by_volume = [weight.g / _millilitres(weight.unit) for weight in weights if _millilitres(weight.unit)]
    known = [*by_volume, *([g_per_ml] if g_per_ml else [])]
    if not found and len(known) > 1 and max(known) > _SPREAD * min(known):
        found.append(remark("weights_differ", low_g_per_ml=min(known), high_g_per_ml=max(known)))
    return found


def _doubt_of_density(g_per_ml: float) -> Iterable[Remark]:
    if not _LIGHTEST_G_PER_ML <= g_per_ml <= _HEAVIEST_G_PER_ML:
        code = "heavier_than_food" if g_per_ml > _HEAVIEST_G_PER_ML else "lighter_than_grain"
        yield remark(code, g_per_ml=g_per_ml, cup_g=g_per_ml * _millilitres("cup"))


def _millilitres(unit_key: str) -> float:
    return float(volume_ml(Fraction(1), unit_key) or 0)
