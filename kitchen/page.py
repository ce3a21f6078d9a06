"""The page: facts and a reader's circumstances in, everything a template shows out. Pure: no tables, no clock, no request."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from fractions import Fraction
from itertools import groupby
from typing import Any

from kitchen.cards import Card, CardRequest, Caution, Facts, Headline, StageMark, registered
from kitchen.domain import allergens, nutrition_plate, record
from kitchen.domain.amounts import plain_number
from kitchen.domain.facts import LineFacts, PhotoFacts, RecipeFacts, StepFacts
from kitchen.domain.portions import size_words
from kitchen.domain.show import ShownLine, show_line
from kitchen.domain.stages import STAGE_KINDS, unsaid_temperature
from kitchen.domain.systems import sizes_words
from kitchen.domain.vessel import Filling, Vessel, filling, filling_words, food_volume, least_liquid_line, unknown_words

SCHEMA = 1
MOST_HEADLINES = 4
_TIMES = ("min", "h")


@dataclass(frozen=True)
class PageFrame:
    """What surrounds a page: where it stands and which edition it is.

    ``path`` is the page's own address on this site, ``address`` the same as a whole URL (empty where the site has no name yet);
    a draft has neither an edition number nor a day of publication. ``asked_address`` is the whole address of the page as it
    was asked for, with its portions and vessel. ``superseded_by`` is the number of the edition that readers
    see now, where this page shows an older one.
    """

    site_name: str
    path: str = ""
    address: str = ""
    edition_number: int | None = None
    published_at: datetime | None = None
    first_published_at: datetime | None = None
    note: str = ""
    draft: bool = False
    revision: int | None = None
    superseded_by: int | None = None
    asked_address: str = ""

    @property
    def public(self) -> bool:
        """Whether this is the recipe's own page, to be found, printed and linked to; no draft, no older edition."""
        return not self.draft and self.superseded_by is None


@dataclass(frozen=True)
class NumberedStep:
    """One step with the number it has in the whole method."""

    number: int
    text: str
    minutes: str = ""
    temperature: str = ""
    photo: PhotoFacts | None = None


@dataclass(frozen=True)
class StageBlock:
    """Neighbouring steps of one stage kind.

    ``minutes`` is "9 min" from the mark, else from what was typed, else empty; ``heat`` is ``on``, ``cycling`` or ``off``.
    """

    kind: str
    label: str
    steps: tuple[NumberedStep, ...]
    minutes: str = ""
    heat: str = "off"
    words: tuple[str, ...] = ()
    mark: StageMark | None = None

    @property
    def first_number(self) -> int:
        """The number at which this block's list starts."""
        return self.steps[0].number


@dataclass(frozen=True)
class ShownPart:
    """A titled group of lines as the page prints them; the title is often empty."""

    title: str
    lines: tuple[ShownLine, ...]


@dataclass(frozen=True)
class CardPlate:
    """One card's templates and the context that it gets."""

    slug: str
    title: str
    template_name: str
    print_template_name: str
    context: Mapping[str, Any]


@dataclass(frozen=True)
class Page:
    """Everything that a page, a paper card or a feed shows of a recipe for some number of servings.

    ``portion`` is the size of one serving against the written one, ``why`` how it came about in words; ``filling`` says how the
    vessel is filled, where one is known, and ``batches`` how many equal potfuls that makes.
    ``standing`` is ``measured``, ``estimated``, ``typed`` or empty, ``badge`` the same in words ("measured 3 times").
    """

    recipe: RecipeFacts
    servings: int
    base_servings: int
    parts: tuple[ShownPart, ...]
    stages: tuple[StageBlock, ...]
    headlines: tuple[Headline, ...]
    cards: tuple[CardPlate, ...]
    cautions: tuple[Caution, ...]
    standing: str
    badge: str
    figures: Mapping[str, Decimal]
    portion: Fraction = Fraction(1)
    batches: int = 1
    why: str = ""
    filling: Filling | None = None
    measures: str = "written"
    rounding: str = "school"
    rounding_matters: bool = False

    @property
    def sizes_words(self) -> str:
        """How much the spoons and cups hold that its lines name ("cup 250 mL, tbsp 20 mL"); empty in the cook's own measures."""
        return sizes_words(self.measures, [f"{line.amount} {line.grams}" for part in self.parts for line in part.lines])

    @property
    def scaled(self) -> bool:
        """Whether the servings or their size differ from what was written."""
        return self.servings != self.base_servings or self.portion != 1

    @property
    def size_words(self) -> str:
        """How a serving differs from the written one ("5 % larger"); empty where it does not."""
        return size_words(self.portion)

    @property
    def batch_words(self) -> str:
        """That it takes more than one potful, and of what size; empty for one."""
        if self.batches == 1 or self.filling is None:
            return ""
        each_l = self.filling.volume.in_batch_ml(self.batches) / 1000
        least = "at least " if self.filling.volume.unknown else ""
        return f"in {self.batches} batches of {least}{each_l:.1f}\u00a0L"

    @property
    def scaled_words(self) -> str:
        """What was done to the amounts, as one sentence: the group or what there is, and the batches."""
        batches = f"{self.batch_words}, one after the other" if self.batch_words else ""
        said = "; ".join(filter(None, (self.why, batches)))
        return f"{said[:1].upper()}{said[1:]}." if said else ""

    @property
    def volume_gap(self) -> str:
        """Whose volume is not in the size of a batch, as a clause; empty where nothing is missing or no vessel is known."""
        return unknown_words(self.filling.volume) if self.filling is not None else ""

    @property
    def allergens(self) -> allergens.AllergenList | None:
        """The allergens that its foods bring and what the cook says of them; None in an edition from before they were told."""
        return allergens.of_recipe(self.recipe)

    @property
    def nutrition(self) -> nutrition_plate.NutritionPlate | None:
        """The food-energy estimate for one serving of the asked size; None in an edition from before there was one."""
        held = self.recipe.nutrition
        return None if held is None else nutrition_plate.plate(held, self.portion, self.recipe.serving_g)

    @property
    def line_count(self) -> int:
        """How many ingredient lines there are in all parts: paper sets a long list in two columns."""
        return sum(len(part.lines) for part in self.parts)

    @property
    def paper_cautions(self) -> tuple[Caution, ...]:
        """The cautions that go onto a printed card."""
        return tuple(caution for caution in self.cautions if caution.on_paper)


def read_recipe(facts: Facts) -> RecipeFacts:
    """Return the recipe in the facts of an edition or a draft; raises UnreadableRecord for facts of a newer program."""
    schema = facts.get("schema", SCHEMA)
    if schema > SCHEMA:
        raise record.UnreadableRecord(
            f"These facts have schema {schema}; this program knows schemas up to {SCHEMA}. Update the program to read them."
        )
    return record.read(RecipeFacts, facts["recipe"])


def present_page(facts: Facts, request: CardRequest) -> Page:
    """Return the page that these facts make under these circumstances.

    Parameters
    ----------
    facts : dict
        ``{"schema": 1, "recipe": {...}, "cards": {slug: {...}}}`` as an edition keeps it.
    request : CardRequest
        Servings, measures and kit; its ``facts`` and ``base_servings`` are taken from ``facts``.

    Raises
    ------
    UnreadableRecord
        If the facts were written by a newer program, or are not facts.
    """
    recipe = read_recipe(facts)
    request = replace(request, base_servings=recipe.servings, facts=facts.get("cards", {}))
    dealt = [(card, request.facts[card.slug]) for card in registered() if _is_dealt(card, request)]
    found = _filling(recipe, dealt, request)
    if found is not None:
        request = replace(request, batches=max(request.batches, found.batches or 1), vessel=found.vessel)
    headlines = _headlines(dealt, recipe, request)
    standing = standing_of(headlines)
    figures = {name: value for card, held in dealt for name, value in card.figures(held, request).items()}
    if "total_min" not in figures:
        figures |= _typed_figures(recipe.steps)
    parts = _shown_parts(recipe, request)
    return Page(
        recipe=recipe,
        servings=request.servings,
        base_servings=recipe.servings,
        parts=parts,
        stages=_stages(recipe.steps, dealt, request),
        headlines=headlines,
        cards=tuple(_plates(dealt, request)),
        cautions=_without_repeats(
            [*_overfull(found), *(caution for card, held in dealt for caution in card.cautions(held, request))]
        ),
        standing=standing,
        badge=badge_words(standing, figures),
        figures=figures,
        portion=request.portion,
        batches=request.batches,
        why=request.why,
        filling=found,
        measures=request.measures,
        rounding=request.rounding,
        rounding_matters=_rounding_matters(recipe, request, parts),
    )


def _is_dealt(card: Card, request: CardRequest) -> bool:
    return card.slug in request.facts and (card.audience == "everyone" or request.audience == "owner")


def _filling(recipe: RecipeFacts, dealt: Sequence[tuple[Card, Facts]], request: CardRequest) -> Filling | None:
    """Return how the reader's own vessel, else the first that a card knows, is filled; None where none is known."""
    known = (card.vessel(held, request) for card, held in dealt)
    vessel = request.own_vessel or next((vessel for vessel in known if vessel is not None), None)
    if vessel is None:
        return None
    return filling(vessel, food_volume(recipe.parts, request.factor, liquid_only=vessel.liquid_only))


def _overfull(found: Filling | None) -> list[Caution]:
    """Return the caution that it does not go in at once; a card has the batches at its head, and only what is open below."""
    if found is None or not found.overfull:
        return []
    on_paper = found.batches is None or bool(found.volume.unknown)
    return [Caution(filling_words(found), "the ingredients’ volumes and the vessel’s fill limit", on_paper=on_paper)]


def _shown_parts(recipe: RecipeFacts, request: CardRequest) -> tuple[ShownPart, ...]:
    raised, least_ml = least_liquid_line(recipe.parts, request.factor, request.batches, request.vessel)

    def shown(line: LineFacts) -> ShownLine:
        return show_line(
            line,
            request.factor,
            request.measures,
            batches=request.batches,
            evaporated_ml=_evaporated_ml(line, request.vessel),
            least_ml=least_ml if line is raised else Fraction(0),
            style=request.rounding,
        )

    return tuple(ShownPart(part.title, tuple(shown(line) for line in part.lines)) for part in recipe.parts)


def _rounding_matters(recipe: RecipeFacts, request: CardRequest, shown: tuple[ShownPart, ...]) -> bool:
    """Say whether any amount reads otherwise in the other way of rounding; the cook's own amounts never do."""
    if request.factor == 1 and request.measures == "written" and request.batches == 1:
        return False
    other = replace(request, rounding="forces" if request.rounding == "school" else "school")
    return any(
        (before.amount, before.per_batch) != (after.amount, after.per_batch)
        for part, changed in zip(shown, _shown_parts(recipe, other), strict=True)
        for before, after in zip(part.lines, changed.lines, strict=True)
    )


def _evaporated_ml(line: LineFacts, vessel: Vessel | None) -> Fraction:
    """Return what boils off in one batch: under a lid or pressure next to nothing."""
    return Fraction(0) if vessel is not None and vessel.closed else Fraction(line.evaporated_ml or 0)


def _plates(dealt: Sequence[tuple[Card, Facts]], request: CardRequest) -> Iterable[CardPlate]:
    for card, held in dealt:
        context = card.present(held, request)
        if context is not None:
            yield CardPlate(card.slug, card.title, card.template_name, card.print_template_name, context)


def _headlines(dealt: Sequence[tuple[Card, Facts]], recipe: RecipeFacts, request: CardRequest) -> tuple[Headline, ...]:
    found = [headline for card, held in dealt for headline in card.headlines(held, request)]
    if not any(headline.unit in _TIMES for headline in found):
        found += [
            Headline("minutes", plain_number(total), "min", "as written", standing="typed", order=30)
            for total in [_sum_minutes(recipe.steps)]
            if total
        ]
    return tuple(sorted(found, key=lambda headline: headline.order)[:MOST_HEADLINES])


def _typed_figures(steps: Sequence[StepFacts]) -> dict[str, Decimal]:
    """Return the minutes that were typed: all of them, and those of stages that cook; nothing where none were."""
    cooking = [step for step in steps if step.stage in STAGE_KINDS and STAGE_KINDS[step.stage].cooks]
    found = {"total_min": _sum_minutes(steps), "cooking_min": _sum_minutes(cooking)}
    return {name: minutes for name, minutes in found.items() if minutes}


def _sum_minutes(steps: Iterable[StepFacts]) -> Decimal:
    return sum((step.minutes for step in steps if step.minutes is not None), Decimal(0))


def standing_of(headlines: Sequence[Headline]) -> str:
    """Return the strongest standing that an energy figure has; costs and typed minutes do not make a recipe measured."""
    found = {headline.standing for headline in headlines if headline.tone == "energy"}
    return next((standing for standing in ("estimated", "measured", "typed") if standing in found), "")


def badge_words(standing: str, figures: Mapping[str, Decimal]) -> str:
    if standing == "measured" and "runs" in figures:
        runs = int(figures["runs"])
        return {1: "measured once", 2: "measured twice"}.get(runs, f"measured {runs} times")
    return {"typed": "typed in"}.get(standing, standing)


def _without_repeats(cautions: Iterable[Caution]) -> tuple[Caution, ...]:
    return tuple({caution.words: caution for caution in cautions}.values())


def _stages(steps: Sequence[StepFacts], dealt: Sequence[tuple[Card, Facts]], request: CardRequest) -> tuple[StageBlock, ...]:
    groups = [(kind, list(group)) for kind, group in groupby(enumerate(steps, start=1), key=lambda pair: pair[1].stage)]
    marks = _marks([kind for kind, _ in groups if kind], dealt, request)
    return tuple(_block(kind, group, next(marks, None) if kind else None) for kind, group in groups)


def _marks(kinds: Sequence[str], dealt: Sequence[tuple[Card, Facts]], request: CardRequest) -> Any:
    """Return an iterator over the first card's marks, one for each stage kind; empty when no card knows the stages."""
    for card, held in dealt:
        marks = card.stage_marks(held, request, kinds) if kinds else None
        if marks is not None:
            return iter(marks)
    return iter(())


def _block(kind: str, group: Sequence[tuple[int, StepFacts]], mark: StageMark | None) -> StageBlock:
    steps = tuple(_numbered(number, step) for number, step in group)
    label = STAGE_KINDS[kind].label if kind in STAGE_KINDS else kind
    if mark is not None:
        return StageBlock(kind, label, steps, mark.minutes, mark.heat, mark.words, mark)
    typed = _sum_minutes(step for _, step in group)
    return StageBlock(kind, label, steps, f"{plain_number(typed)} min" if typed else "")


def _numbered(number: int, step: StepFacts) -> NumberedStep:
    return NumberedStep(
        number=number,
        text=step.text,
        minutes="" if step.minutes is None else f"{plain_number(step.minutes)} min",
        temperature="" if step.temp_c is None else unsaid_temperature(step.text, plain_number(step.temp_c)),
        photo=step.photo,
    )
