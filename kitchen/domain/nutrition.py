"""The food-energy estimate: what one serving holds, from the reference foods' composition, and all that is not in it.

Nothing missing counts as zero. A line with mass that cannot be counted is named, and every figure is then "at least". What is
left out on purpose is named too: what greases a pan, what is optional, what goes away with its water.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, field, fields

from kitchen.domain.facts import FoodFacts, LineFacts, MadeFacts, NutritionFacts
from kitchen.domain.foods import line_grams
from kitchen.domain.fruit_parts import as_juice, juice_row, part_meant
from kitchen.domain.reference import ReferenceFood
from kitchen.domain.remark import Remark, Said, remark
from kitchen.domain.rules import SEASONING_AISLES, default_rule

SALT_PER_SODIUM = 2.5
# From here on a food is salty enough for its pinch to matter in the salt figure.
SALTY_MG = 400.0

_FRYING = re.compile(r"\bfor\s+(?:the\s+)?deep[- ]?(?:frying|fryer|fat)\b", re.IGNORECASE)
_WATER = re.compile(
    r"\bfor\s+(?:the\s+)?(?:(?:boiling|cooking|pasta|potato|poaching|blanching|soaking)(?:\s+water)|water|soaking|brine|brining)\b",
    re.IGNORECASE,
)
_DRAINED = re.compile(r"\bdrain(?:ed)?\b", re.IGNORECASE)
_PACKS = frozenset({"can", "jar", "tin", "packet", "pouch", "carton"})


@dataclass(frozen=True)
class Composition:
    """What 100 g of a food's edible part hold; None where the table does not tell. Carbohydrate is by difference, with fibre."""

    energy_kcal: float | None = None
    protein_g: float | None = None
    fat_g: float | None = None
    carbohydrate_g: float | None = None
    fibre_g: float | None = None
    sodium_mg: float | None = None
    saturated_fat_g: float | None = None
    sugars_g: float | None = None

    @property
    def known(self) -> bool:
        """Whether energy, protein, fat, carbohydrate and sodium are all told."""
        return None not in (self.energy_kcal, self.protein_g, self.fat_g, self.carbohydrate_g, self.sodium_mg)


Weighed = tuple[LineFacts, Composition | None]


@dataclass
class _Tally:
    """What was counted so far, in the whole recipe."""

    sums: dict[str, float] = field(default_factory=lambda: dict.fromkeys((entry.name for entry in fields(Composition)), 0.0))
    counted: int = 0
    missing: list[Remark] = field(default_factory=list)
    left_out: list[Remark] = field(default_factory=list)
    at_least: set[str] = field(default_factory=set)
    without_fibre: list[str] = field(default_factory=list)
    drained: list[str] = field(default_factory=list)


def salt_g(sodium_mg: float) -> float:
    """Return the salt that holds so much sodium.

    Parameters
    ----------
    sodium_mg : float >= 0
        Sodium. [mg]

    Returns
    -------
    float
        Salt. [g]

    References
    ----------
    Regulation (EU) No 1169/2011, annex I: salt = sodium x 2.5.

    Examples
    --------
    >>> salt_g(400)
    1.0
    """
    return sodium_mg * SALT_PER_SODIUM / 1000


def sodium_mg(salt_g: float) -> float:
    """Return the sodium in so much salt, the other way round. [mg from g]

    Examples
    --------
    >>> sodium_mg(1.0)
    400.0
    """
    return salt_g * 1000 / SALT_PER_SODIUM


def estimate(lines: Iterable[Weighed], servings: int, reference: Collection[ReferenceFood]) -> NutritionFacts:
    """Return what one serving holds, as far as the lines' foods and weights tell.

    Parameters
    ----------
    lines : iterable of (LineFacts, Composition or None)
        Every line, with the composition of its food.
    servings : int >= 1
        How many servings the lines make. [-]
    reference : collection of ReferenceFood
        The foods among which a fruit's juice is looked up.

    Returns
    -------
    NutritionFacts
        Per serving; a line with a range counts with its middle.

    Notes
    -----
    Available carbohydrate = carbohydrate by difference - fibre, as the European regulation means the word; energy is the table's
    own. A line that greases the pan, is optional, or goes away with its water is left out, and named. Seasonings that are
    measured are counted; a pinch to taste is too little for every figure but salt, which is then "at least".

    Examples
    --------
    >>> from fractions import Fraction
    >>> oats = FoodFacts("rolled oats", g_per_ml=0.4)
    >>> line = LineFacts("100 g oats", low=Fraction(100), high=Fraction(100), unit="g", food=oats)
    >>> told = estimate([(line, Composition(380, 13, 6.5, 68, 10, 6)), (LineFacts("stardust"), None)], 2, ())
    >>> told.energy_kcal, told.carbohydrate_g, told.missing
    (190.0, 29.0, (Remark(code='not_linked', values={'name': 'stardust'}),))
    """
    tally = _Tally()
    for line, composition in lines:
        _take(tally, *_juiced(tally, line, composition, reference))
    each = {name: total / servings for name, total in tally.sums.items()}
    return NutritionFacts(
        energy_kcal=each["energy_kcal"],
        protein_g=each["protein_g"],
        fat_g=each["fat_g"],
        carbohydrate_g=max(0.0, each["carbohydrate_g"] - each["fibre_g"]),
        fibre_g=each["fibre_g"],
        salt_g=salt_g(each["sodium_mg"]),
        saturated_fat_g=each["saturated_fat_g"],
        sugars_g=each["sugars_g"],
        missing=_each_once(tally.missing),
        counted=tally.counted,
        left_out=_each_once(tally.left_out),
        at_least=tuple(sorted(tally.at_least)),
        remarks=tuple(_remarks(tally)),
    )


def _juiced(tally: _Tally, line: LineFacts, composition: Composition | None, reference: Collection[ReferenceFood]) -> Weighed:
    """Return the line as it is eaten: of a lemon's juice a lemon's weight would be untrue, and nobody weighs the zest."""
    part = part_meant(line)
    row = juice_row(line, reference) if "juice" in part and not line.optional else None
    if row is None:
        return line, composition
    if part == "zest and juice":
        tally.left_out.append(remark("zest_beside_juice", name=line.name or row.name))
    held = Composition(**{entry.name: getattr(row, entry.name) for entry in fields(Composition)})
    return as_juice(line, row), held


def _take(tally: _Tally, line: LineFacts, composition: Composition | None) -> None:
    name, food = line.name or line.text, line.food
    reason = _why_left_out(line)
    if reason:
        tally.left_out.append(remark(reason, name=name))
        if reason == "with_its_water":
            _mark_salty(tally, composition)
    elif line.made is not None:
        _take_made(tally, name, line.made)
    elif food is None:
        tally.missing.append(remark("not_linked", name=name))
    elif composition is None or not composition.known:
        tally.missing.append(remark("holding_unknown", name=name, food=food.name))
    elif part_meant(line) == "zest":
        tally.left_out.append(remark("left_out_zest", name=name))
    elif food.aisle in SEASONING_AISLES and _is_a_pinch(line):
        tally.left_out.append(remark("left_out_to_taste" if line.to_taste else "left_out_little", name=name))
        _mark_salty(tally, composition)
    else:
        _weigh(tally, line, food, composition)


def _take_made(tally: _Tally, name: str, made: MadeFacts) -> None:
    """Count what another recipe holds, in the line's share of it; what that recipe lacks is lacking here."""
    if made.share is None or made.nutrition is None:
        tally.missing.append(remark("made_share_unknown" if made.share is None else "made_holding_unknown", name=name))
        return
    held, servings = made.nutrition, float(made.share * made.servings)
    found = {entry.name: getattr(held, entry.name, None) for entry in fields(Composition)}
    found |= {"carbohydrate_g": held.carbohydrate_g + held.fibre_g, "sodium_mg": sodium_mg(held.salt_g)}
    for entry, each in found.items():
        tally.sums[entry] += (each or 0.0) * servings
        if each is None:
            tally.at_least.add(entry)
    tally.counted += 1
    tally.at_least.update(held.at_least)
    tally.missing += [remark("gap_of_made", made=made.title, gap=_gap_name(gap)) for gap in held.missing]


def _gap_name(gap: Said) -> str:
    return str(gap.values.get("name") or gap.values.get("gap")) if isinstance(gap, Remark) else gap


def _mark_salty(tally: _Tally, composition: Composition | None) -> None:
    """What is salty and not counted makes the salt "at least"; so does what nobody knows."""
    if composition is None or composition.sodium_mg is None or composition.sodium_mg >= SALTY_MG:
        tally.at_least.add("salt_g")


def _weigh(tally: _Tally, line: LineFacts, food: FoodFacts, composition: Composition) -> None:
    mass_g, why = _eaten_grams(line, food)
    if mass_g is None:
        tally.missing.append(remark(why, name=line.name or line.text))
        return
    tally.counted += 1
    for entry in fields(Composition):
        held = getattr(composition, entry.name)
        if held is not None:
            tally.sums[entry.name] += held * mass_g / 100
        elif composition.fat_g if entry.name == "saturated_fat_g" else composition.carbohydrate_g:
            tally.at_least.add(entry.name)
    if composition.fibre_g is None and composition.carbohydrate_g:
        tally.without_fibre.append(food.name)
    if line.unit in _PACKS and _DRAINED.search(f"{line.name}, {line.note}") and "drained" not in food.name:
        tally.drained.append(food.name)


def _is_a_pinch(line: LineFacts) -> bool:
    """Say whether a seasoning's line has no amount, or one that is too small for anybody to have weighed it (a sprig, a leaf)."""
    return line.low is None or (line.rule == "seasoning" and line_grams(line) is None)


def _why_left_out(line: LineFacts) -> str:
    words = f"{line.name}, {line.note}"
    if line.rule == "fixed" and default_rule(line) == "fixed":
        return "for_greasing"
    if _WATER.search(words):
        return "with_its_water"
    return "left_out_optional" if line.optional else ""


def _eaten_grams(line: LineFacts, food: FoodFacts) -> tuple[float | None, str]:
    """Return the mass that is eaten, or None and why it is not known."""
    words = f"{line.name}, {line.note}"
    if line.low is None:
        return None, "amount_missing"
    if _FRYING.search(words):
        return None, "uptake_unknown"
    if part_meant(line):
        return None, "eaten_share_unknown"
    mass_g = line_grams(line)
    return mass_g, "" if mass_g is not None else "weight_unknown"


def _remarks(tally: _Tally) -> Iterable[Remark]:
    for code, foods in (("fibre_in_carbohydrate", tally.without_fibre), ("liquid_in_pack", tally.drained)):
        if foods:
            yield remark(code, foods=", ".join(dict.fromkeys(foods)))


def _each_once(said: Sequence[Remark]) -> tuple[Remark, ...]:
    return tuple(one for place, one in enumerate(said) if one not in said[:place])
