"""The page: facts and a reader's circumstances in, everything a template shows out. Pure: no tables, no clock, no request."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from decimal import Decimal
from fractions import Fraction
from functools import cached_property
from itertools import groupby, takewhile
from typing import Any

from kitchen.cards import Answer, CardPicture, CardRequest, Caution, Facts, Headline, StageMark, ranked, registered
from kitchen.dealing import Dealt, badge_of, figures_of, headlines_of, marks_of, sum_minutes
from kitchen.domain import allergens, record
from kitchen.domain.amounts import plain_number
from kitchen.domain.band import Band
from kitchen.domain.facts import LineFacts, PhotoFacts, RecipeFacts, StepFacts
from kitchen.domain.films import Film
from kitchen.domain.show import ShownLine, show_line
from kitchen.domain.stages import STAGE_KINDS, served_hot
from kitchen.domain.systems import SYSTEMS, sizes_words
from kitchen.domain.vessel import Filling, Vessel, filling, food_volume, least_liquid_line
from kitchen.words import ENGLISH, sentence
from kitchen.words.nutrition import NutritionPlate, nutrition_plate
from kitchen.words.portions import size_words
from kitchen.words.steps import temperature_words
from kitchen.words.vessel import batch_words, filling_words, unknown_words

SCHEMA = 1
MOST_OPEN = 4  # cautions: more teach people to skip them
_OVERFULL_HARM = 87


@dataclass(frozen=True)
class PageFrame:
    """What surrounds a page: where it stands and which edition it is.

    ``path`` is the page's own address on this site, ``address`` the same as a whole URL (empty where the site has no name yet);
    a draft has neither an edition number nor a day of publication. ``asked_address`` is the whole address of the page as it
    was asked for, with its portions, vessel, measures and kit. ``superseded_by`` is the number of the edition that readers
    see now, where this page shows an older one; ``headlines`` are its figures as they were published. ``blog_address`` is the
    page of the cook's own blog that is the recipe's home, if one is; ``licence`` and ``cite_as`` what the site says of its data.
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
    headlines: tuple[Headline, ...] = ()
    blog_address: str = ""
    film: Film | None = None
    licence: str = ""
    cite_as: str = ""

    @property
    def home(self) -> str:
        """Where search engines are to lead: the cook's own page of the recipe, else this one; empty where neither is known."""
        return (self.blog_address if self.public else "") or self.address

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
    strip_template_name: str
    cooked_in: str
    for_kit: str
    paper_words: str
    opening: str
    context: Mapping[str, Any]


@dataclass(frozen=True)
class ReadFacts:
    """The facts of an edition or a draft, read once: the recipe, and each known card's own record by its slug."""

    recipe: RecipeFacts
    cards: Mapping[str, Any]


@dataclass(frozen=True)
class Page:
    """Everything that a page, a paper card or a feed shows of a recipe for some number of servings.

    ``request`` is what was asked for, with the batches and the vessel that follow from it; ``filling`` says how the vessel is
    filled, where one is known. ``standing`` is ``measured``, ``estimated`` or empty, ``badge`` the same in words ("measured 3
    times"). ``pictures`` and ``linked`` are what the cards draw of it and add to its linked data; ``clocked`` whether its minutes
    are a card's, counted from the first stage, and not those that were typed. ``briefs`` are the words beneath the large figures
    on paper, by their keys.
    """

    recipe: RecipeFacts
    request: CardRequest
    parts: tuple[ShownPart, ...]
    stages: tuple[StageBlock, ...]
    headlines: tuple[Headline, ...]
    cards: tuple[CardPlate, ...]
    cautions: tuple[Caution, ...]
    standing: str
    badge: str
    figures: Mapping[str, Decimal]
    filling: Filling | None = None
    pictures: tuple[CardPicture, ...] = ()
    linked: Mapping[str, Any] = field(default_factory=dict)
    clocked: bool = False
    briefs: Mapping[str, Sequence[str]] = field(default_factory=dict)
    band: Band | None = None
    marks: Mapping[str, str] = field(default_factory=dict)
    answer: Answer | None = None

    @property
    def steams(self) -> bool:
        """Whether it comes hot to the table."""
        return served_hot(self.recipe.steps)

    @property
    def prep_min(self) -> Decimal:
        """The typed minutes of the steps before the first stage: what is done before the clock runs."""
        before = takewhile(lambda step: not step.stage, self.recipe.steps)
        return sum_minutes(before) if any(step.stage for step in self.recipe.steps) else Decimal(0)

    @property
    def whole_min(self) -> Decimal | None:
        """Everything from the first step to the last, also what is done before the clock of a measured cook runs."""
        total = self.figures.get("total_min")
        return total if total is None or not self.clocked else total + self.prep_min

    @property
    def sizes_words(self) -> str:
        """How much the spoons and cups hold that its lines name ("cup 250 mL, tbsp 20 mL"); empty in the cook's own measures."""
        return sizes_words(self.request.measures, [f"{line.amount} {line.grams}" for part in self.parts for line in part.lines])

    @property
    def scaled(self) -> bool:
        """Whether the servings or their size differ from what was written."""
        return self.request.servings != self.request.base_servings or self.request.portion != 1

    @property
    def size_words(self) -> str:
        """How a serving differs from the written one ("5 % larger"); empty where it does not."""
        return size_words(self.request.portion, ENGLISH)

    @property
    def batch_words(self) -> str:
        """That it takes more than one potful, and of what size; empty for one."""
        return batch_words(self.filling, self.request.batches, ENGLISH) if self.filling is not None else ""

    @property
    def scaled_words(self) -> str:
        """What was done to the amounts, as one sentence: the group or what there is, and the batches."""
        batches = sentence(ENGLISH, "one_after_other", batches=self.batch_words) if self.batch_words else ""
        said = "; ".join(filter(None, (self.request.why, batches)))
        return f"{said[:1].upper()}{said[1:]}." if said else ""

    @property
    def volume_gap(self) -> str:
        """Whose volume is not in the size of a batch, as a clause; empty where nothing is missing or no vessel is known."""
        return unknown_words(self.filling.volume, ENGLISH) if self.filling is not None else ""

    @cached_property
    def allergens(self) -> allergens.AllergenList | None:
        """The allergens that its foods bring and what the cook says of them; None in an edition from before they were told."""
        return allergens.of_recipe(self.recipe)

    @cached_property
    def nutrition(self) -> NutritionPlate | None:
        """The food-energy estimate for one serving of the asked size; None in an edition from before there was one."""
        held = self.recipe.nutrition
        return None if held is None else nutrition_plate(held, ENGLISH, self.request.portion, self.recipe.serving_g)

    @cached_property
    def rounding_matters(self) -> bool:
        """Whether any amount reads otherwise in the other way of rounding; the cook's own amounts never do."""
        if self.request.factor == 1 and SYSTEMS[self.request.measures].as_written and self.request.batches == 1:
            return False
        show = _showing(self.recipe, replace(self.request, rounding="forces" if self.request.rounding == "school" else "school"))
        pairs = zip(self.parts, self.recipe.parts, strict=True)
        lines = (pair for here, part in pairs for pair in zip(here.lines, part.lines, strict=True))
        return any(_amounts(before) != _amounts(show(line)) for before, line in lines)

    @cached_property
    def open_cautions(self) -> tuple[Caution, ...]:
        """The few cautions that matter most here; they stand open."""
        return tuple(caution for caution in self.cautions if not caution.aside and not caution.settled)[:MOST_OPEN]

    @property
    def folded_cautions(self) -> tuple[Caution, ...]:
        """The other cautions, in one fold."""
        return tuple(caution for caution in self.cautions if caution not in self.open_cautions)

    @property
    def paper_cautions(self) -> tuple[Caution, ...]:
        """Those of the open ones that go onto a printed card."""
        return tuple(caution for caution in self.open_cautions if caution.on_paper)

    @property
    def cautions_off_paper(self) -> int:
        """How many a printed card leaves to its address."""
        return len(self.cautions) - len(self.paper_cautions)


def read_recipe(facts: Facts) -> RecipeFacts:
    """Return the recipe in the facts of an edition or a draft; raises UnreadableRecord for facts of a newer program."""
    schema = facts.get("schema", SCHEMA)
    if schema > SCHEMA:
        raise record.UnreadableRecord(
            f"These facts have schema {schema}; this program knows schemas up to {SCHEMA}. Update the program to read them."
        )
    return record.read(RecipeFacts, facts["recipe"])


def read_facts(facts: Facts) -> ReadFacts:
    """Return facts, ``{"schema": 1, "recipe": {...}, "cards": {slug: {...}}}`` as an edition keeps them, as records.

    Facts of a card that nobody registers are left out; raises UnreadableRecord for facts of a newer program, or for none.
    """
    held, recipe = facts.get("cards", {}), read_recipe(facts)
    read = {card.slug: card.seen(card.read(held[card.slug]) if card.slug in held else None, recipe) for card in registered()}
    return ReadFacts(recipe, {slug: record for slug, record in read.items() if record is not None})


def present_page(facts: ReadFacts, request: CardRequest) -> Page:
    """Return the page that these facts make under these circumstances.

    Parameters
    ----------
    facts : ReadFacts
        The facts of an edition or a draft.
    request : CardRequest
        Servings, measures and kit; its ``base_servings`` are taken from the recipe.
    """
    recipe = facts.recipe
    request = replace(request, base_servings=recipe.servings)
    known = [card for card in registered() if card.slug in facts.cards and card.audience in ("everyone", request.audience)]
    found = _filling(recipe, (card.vessel(facts.cards[card.slug]) for card in known), request)
    if found is not None:
        request = replace(request, batches=max(request.batches, found.batches or 1), vessel=found.vessel)
    for card in known:
        request = replace(request, prepared={**request.prepared, card.slug: card.prepare(facts.cards[card.slug], request)})
    dealt = [(card, request.prepared[card.slug]) for card in known]
    badge = badge_of(dealt, request)
    show = _showing(recipe, request)
    figures, clocked = figures_of(dealt, recipe, request)
    return Page(
        recipe=recipe,
        request=request,
        parts=tuple(ShownPart(part.title, tuple(map(show, part.lines))) for part in recipe.parts),
        stages=_stages(recipe.steps, dealt, request),
        headlines=headlines_of(dealt, recipe, request),
        cards=tuple(_plates(dealt, request)),
        cautions=ranked([*_overfull(found), *(one for card, held in dealt for one in card.cautions(held, request))], recipe),
        standing=badge.standing,
        badge=badge.words,
        figures=figures,
        filling=found,
        pictures=tuple(one for card, held in dealt for one in card.pictures(held, request)),
        linked={name: value for card, held in dealt for name, value in card.linked_data(held, request).items()},
        clocked=clocked,
        briefs={key: lines for card, held in dealt for key, lines in card.paper_briefs(held, request).items()},
        band=next((band for card, held in dealt if (band := card.band(held, request)) is not None), None),
        answer=next((answer for card, held in dealt if (answer := card.answer(held, request)) is not None), None),
        marks={group: mark for card, held in dealt for group, mark in card.shelf_marks(held, request).items()},
    )


def _filling(recipe: RecipeFacts, known: Iterable[Vessel | None], request: CardRequest) -> Filling | None:
    """Return how the reader's own vessel, else the first that a card knows, is filled; None where none is known."""
    vessel = request.own_vessel or next((vessel for vessel in known if vessel is not None), None)
    if vessel is None:
        return None
    return filling(vessel, food_volume(recipe.parts, request.factor, liquid_only=vessel.liquid_only))


def _overfull(found: Filling | None) -> list[Caution]:
    """Return the caution that it does not go in at once; a card has the batches at its head, and only what is open below."""
    if found is None or not found.overfull:
        return []
    on_paper = found.batches is None or bool(found.volume.unknown)
    return [Caution(filling_words(found, ENGLISH), sentence(ENGLISH, "room_source"), on_paper=on_paper, harm=_OVERFULL_HARM)]


def _showing(recipe: RecipeFacts, request: CardRequest) -> Callable[[LineFacts], ShownLine]:
    """Return what shows a line of the recipe under these circumstances."""
    factor = request.factor
    raised, least_ml = least_liquid_line(recipe.parts, factor, request.batches, request.vessel)

    def shown(line: LineFacts) -> ShownLine:
        return show_line(
            line,
            factor,
            request.measures,
            batches=request.batches,
            evaporated_ml=_evaporated_ml(line, request.vessel),
            least_ml=least_ml if line is raised else Fraction(0),
            style=request.rounding,
        )

    return shown


def _amounts(line: ShownLine) -> tuple[str, str]:
    return line.amount, line.per_batch


def _evaporated_ml(line: LineFacts, vessel: Vessel | None) -> Fraction:
    """Return what boils off in one batch: under a lid or pressure next to nothing."""
    return Fraction(0) if vessel is not None and vessel.closed else Fraction(line.evaporated_ml or 0)


def _plates(dealt: Dealt, request: CardRequest) -> Iterable[CardPlate]:
    for card, prepared in dealt:
        context = card.present(prepared, request)
        if context is not None:
            where, kit = card.cooked_in(prepared, request), card.kit_words(request.kit)
            said, line = card.paper_words(prepared, request), card.opening(prepared, request)
            names = (card.slug, card.title, card.template_name, card.print_template_name, card.strip_template_name)
            yield CardPlate(*names, where, kit, said, line, context)


def _stages(steps: Sequence[StepFacts], dealt: Dealt, request: CardRequest) -> tuple[StageBlock, ...]:
    groups = [(kind, list(group)) for kind, group in groupby(enumerate(steps, start=1), key=lambda pair: pair[1].stage)]
    marks = marks_of([kind for kind, _ in groups if kind], dealt, request)
    return tuple(_block(kind, group, next(marks, None) if kind else None) for kind, group in groups)


def _block(kind: str, group: Sequence[tuple[int, StepFacts]], mark: StageMark | None) -> StageBlock:
    steps = tuple(_numbered(number, step, mark) for number, step in group)
    label = STAGE_KINDS[kind].label if kind in STAGE_KINDS else kind
    if mark is not None:
        return StageBlock(kind, label, steps, mark.minutes, mark.heat, mark.words, mark)
    typed = sum_minutes(step for _, step in group)
    return StageBlock(kind, label, steps, f"{plain_number(typed)} min" if typed else "")


def _numbered(number: int, step: StepFacts, mark: StageMark | None) -> NumberedStep:
    return NumberedStep(
        number=number,
        text=step.text,
        minutes="" if step.minutes is None else f"{plain_number(step.minutes)} min",
        temperature=temperature_words(step, mark.hottest_c if mark else None, ENGLISH),
        photo=step.photo,
    )
