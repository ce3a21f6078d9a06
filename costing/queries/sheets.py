"""What a cost sheet is made from: lines, the offers and yields of their foods, and the sides."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time
from decimal import Decimal
from fractions import Fraction
from typing import Any

from django.db.models import F, Q, QuerySet, Window, prefetch_related_objects
from django.db.models.functions import RowNumber
from django.utils import timezone

from costing.domain.electricity import Electricity
from costing.domain.facts import CostFacts, CostLine, FuelPrice
from costing.domain.lines import PriceBook, cost_line
from costing.domain.quotes import Given, Offer, QuoteRule
from costing.domain.wall import electricity_of_side
from costing.domain.yields import YieldTest, in_force
from costing.models import Item, Quote, SheetRules, Shop, Yield
from energy.cards.means import all_means
from energy.facts import EnergyFacts
from kitchen.domain import record
from kitchen.domain.facts import LineFacts
from kitchen.domain.made import with_made
from kitchen.models import Edition, Food, Pairing, Recipe, Revision
from kitchen.queries import food_facts, line_facts
from kitchen.queries.as_known import as_known


@dataclass(frozen=True)
class SideFound:
    """A published side: its portions with one serving, the cards' facts in its current edition, and the revision behind them."""

    slug: str
    title: str
    portions: Decimal
    cards: dict[str, Any]
    revision: Revision


@dataclass(frozen=True)
class Published:
    """A published recipe with the cost facts that its edition keeps."""

    slug: str
    title: str
    number: int
    cost_facts: dict[str, Any] | None
    revision: Revision


def today(at: datetime) -> date:
    """Return the day of a moment in the site's time zone."""
    return timezone.localtime(at).date()


def end_of_day(day: date) -> datetime:
    """Return the last moment of a day in the site's time zone."""
    return timezone.make_aware(datetime.combine(day, time.max))


def sheet_rules(at: datetime | None = None) -> SheetRules:
    """Return the row that says how sheets are made, as it stood at a moment, or an unsaved one with the defaults."""
    held = as_known(list(SheetRules.objects.select_related("shop")), SheetRules, at)
    return held[0] if held else SheetRules(pk=1)


def quote_rule(rules: SheetRules) -> QuoteRule:
    """Return how quotes are chosen; a shop that is gone leaves the newest price."""
    if rules.rule == "shop" and rules.shop is None:
        return QuoteRule()
    return QuoteRule(rules.rule, rules.last, "" if rules.shop is None else rules.shop.name)


@dataclass(frozen=True)
class LedgerAsk:
    """Which prices of the ledger are asked for: those of a day, as known at a moment; None: as known now.

    A price from before moments were kept was known on the day it was seen.
    ``typed`` are offers that are in no ledger yet, by the number of their food: they count alone for it.
    ``swapped`` are other foods than those of the lines, by the number of the line.
    """

    day: date
    known_at: datetime | None = None
    typed: Mapping[int, Offer] = field(default_factory=dict)
    swapped: Mapping[int, Food] = field(default_factory=dict)

    def standing(self) -> QuerySet[Quote]:
        """Return the quotes that stood then, also those whose last day is over."""
        found = Quote.objects.filter(day__lte=self.day)
        if self.known_at is None:
            return found.filter(taken_back_at=None)
        still = Q(taken_back_at=None) | Q(taken_back_at__gt=self.known_at)
        known = Q(known_at__lte=self.known_at) | Q(known_guessed=True, day__lte=today(self.known_at))
        return found.filter(still, known)

    def rows(self, found: QuerySet[Quote]) -> list[Quote]:
        """Return quotes, the newest first and of one day the one that came last, with item and shop as they were known."""
        quotes = list(found.select_related("shop", "item").order_by("-day", "-known_at", "-pk"))
        if self.known_at is not None:
            items = {item.pk: item for item in as_known([quote.item for quote in quotes], Item, self.known_at)}
            shops = {shop.pk: shop for shop in as_known([quote.shop for quote in quotes], Shop, self.known_at)}
            for quote in quotes:
                quote.item, quote.shop = items.get(quote.item_id, quote.item), shops.get(quote.shop_id, quote.shop)
        return quotes


def price_book(foods: Iterable[Food], ask: LedgerAsk, *, currency: str, rules: SheetRules) -> PriceBook:
    """Return the offers, yields and refuse of these foods as a sheet of a day needs them. Four queries."""
    by_pk = {food.pk: food for food in foods}
    return PriceBook(
        day=ask.day,
        currency=currency,
        offers=_offers(by_pk, ask, rules.last),
        yields=_yield_tests(by_pk, ask),
        refuse_pct={food.name: food.refuse_pct for food in by_pk.values()},
        rule=quote_rule(rules),
        given=_given(by_pk, ask),
    )


def costed_lines(
    revisions: Sequence[Revision], ask: LedgerAsk, *, currency: str, rules: SheetRules
) -> dict[int, tuple[CostLine, ...]]:
    """Return every revision's lines with their costs on a day, by revision, in a constant number of queries."""
    prefetch_related_objects(list(revisions), "parts__lines__food", "parts__lines__made_of")
    _weigh_as_known(revisions, ask.known_at)
    parts = [(revision, part, line) for revision in revisions for part in revision.parts.all() for line in part.lines.all()]
    for _, _, line in parts:
        line.food = ask.swapped.get(line.pk, line.food)
    told = [(revision.pk, part.title, line_facts(line)) for revision, part, line in parts]
    foods = [*_foods_of(revisions), *_foods_behind([facts for _, _, facts in told], ask)]
    walls = {edition.pk: edition for _, _, line in parts if (edition := line.made_of) is not None}
    book = price_book(foods, ask, currency=currency, rules=rules)
    book = replace(book, walls=dict(map(_wall, walls.values())))
    costed: dict[int, list[CostLine]] = {revision.pk: [] for revision in revisions}
    for pk, title, facts in told:
        costed[pk].append(cost_line(facts, book, title))
    return {pk: tuple(lines) for pk, lines in costed.items()}


def fuel_prices(ask: LedgerAsk, *, currency: str, rules: SheetRules) -> tuple[FuelPrice, ...]:
    """Return what fuels cost that are foods here by their names, like propane. One query where there are none."""
    fuels = {way.fuel.label: way.fuel.key for way in all_means() if way.fuel is not None}
    foods = list(Food.objects.filter(name__in=fuels))
    if not foods:
        return ()
    book = price_book(foods, ask, currency=currency, rules=rules)
    gram = LineFacts("1 g", Fraction(1), Fraction(1), "g")
    told = [(food.name, cost_line(replace(gram, food=food_facts(food)), book)) for food in foods]
    return tuple(FuelPrice(fuels[name], line.cost, line.quote) for name, line in told if line.cost and line.quote)


def _foods_behind(lines: Sequence[LineFacts], ask: LedgerAsk) -> list[Food]:
    """Return the foods of the recipes that lines are made by, under the names that those editions have. At most two queries."""
    named = {one.food.name: one.food.sr_number for line in lines if line.made for one in with_made(line.made.lines) if one.food}
    if not named:
        return []
    numbers = {number: name for name, number in named.items() if number is not None}
    found = as_known(list(Food.objects.filter(Q(name__in=named) | Q(sr_number__in=numbers))), Food, ask.known_at)
    for food in found:
        food.name = numbers.get(food.sr_number or 0, food.name)
    return [food for food in found if food.name in named]


def _wall(edition: Edition) -> tuple[tuple[str, int], Electricity]:
    """Return what all of an edition takes from the wall, with what was made before for it."""
    cards, slug = edition.facts.get("cards", {}), edition.facts["recipe"]["slug"]
    energy = record.read(EnergyFacts, cards["energy"]) if "energy" in cards else None
    cost = record.read(CostFacts, cards["cost"]) if "cost" in cards else None
    own = electricity_of_side(energy, int(edition.facts["recipe"]["servings"]), cooks=cost is None or cost.cooks)
    behind = [] if cost is None else [(line.made, Fraction(1)) for line in cost.lines if line.made is not None]
    return (slug, edition.number), own.with_made(behind)


def sides_of(recipe: Recipe) -> list[SideFound]:
    """Return the published sides of a recipe; a side that is not published is named nowhere outside the bench. One query."""
    pairings = Pairing.objects.filter(main=recipe, side__current_edition__isnull=False, side__withdrawn_at__isnull=True)
    found = pairings.select_related("side__current_edition__revision").order_by("side__title")
    return [_side(pairing, edition) for pairing in found if (edition := pairing.side.current_edition) is not None]


def published_by(person: Any) -> list[Published]:
    """Return the published recipes that this person may edit, each with its edition's cost facts. One query."""
    mine = Recipe.objects.all() if person.is_superuser else Recipe.objects.filter(owner=person)
    recipes = mine.filter(current_edition__isnull=False, withdrawn_at__isnull=True)
    found = recipes.annotate(cost_facts=F("current_edition__facts__cards__cost")).select_related("current_edition__revision")
    found = found.defer("current_edition__facts", "current_edition__headlines", "current_edition__plate")
    return [_published(recipe) for recipe in found.order_by("title")]


def _offers(foods: dict[int, Food], ask: LedgerAsk, last: int) -> dict[str, list[Offer]]:
    """The newest few of each food's items at each shop; which one a sheet uses is the domain's business."""
    newest = [F("day").desc(), F("known_at").desc(), F("pk").desc()]
    place = Window(RowNumber(), partition_by=[F("item"), F("shop"), F("currency"), F("last_day")], order_by=newest)
    seen = ask.standing().filter(item__food__in=foods).annotate(place=place).filter(place__lte=max(last, 1))
    offers: dict[str, list[Offer]] = defaultdict(list)
    for number, offer in ask.typed.items():
        if number in foods:
            offers[foods[number].name].append(offer)
    for quote in ask.rows(seen.exclude(item__food__in=ask.typed)):
        offers[foods[quote.item.food_id].name].append(offer_of(quote))
    return dict(offers)


def _given(foods: dict[int, Food], ask: LedgerAsk) -> dict[str, list[Given]]:
    """What gives some of these foods beside others, by what it costs. At most two queries."""
    known = as_known(list(Item.objects.exclude(gives=[]).select_related("food")), Item, ask.known_at)
    giving = {item.pk: item for item in known}
    wanted = {pk: item for pk, item in giving.items() if any(part.get("food_id") in foods for part in item.gives)}
    found: dict[str, list[Given]] = defaultdict(list)
    quotes = ask.rows(ask.standing().filter(item__in=wanted)) if wanted else ()
    for quote in quotes:
        for part in wanted[quote.item_id].gives:
            if part["food_id"] in foods:
                share = None if part.get("share") in (None, "") else Decimal(part["share"])
                given = Given(offer_of(quote), wanted[quote.item_id].food.name, Fraction(part["amount"]), part["unit"], share)
                found[foods[part["food_id"]].name].append(given)
    return dict(found)


def offer_of(quote: Quote) -> Offer:
    """Return a quote as the domain knows it."""
    item = quote.item
    return Offer(
        quote.shop.name,
        quote.day,
        quote.price,
        item.pack_amount,
        item.pack_unit,
        item.packs,
        quote.currency,
        quote.last_day,
        item.brand,
        item.sold,
        item.state,
        item.container,
        item.drained_g,
        item.pieces,
        item.tax_pct or Decimal(0),
    )


def _yield_tests(foods: dict[int, Food], ask: LedgerAsk) -> dict[str, list[YieldTest]]:
    tests: dict[str, list[YieldTest]] = defaultdict(list)
    for tested in as_known(list(Yield.objects.filter(food__in=foods)), Yield, ask.known_at):
        if tested.food_id in foods:
            tests[foods[tested.food_id].name].append(record.taken(YieldTest, tested))
    return {name: in_force(own, ask.day) for name, own in tests.items()}


def _weigh_as_known(revisions: Sequence[Revision], at: datetime | None) -> None:
    """Let every line have its food with the weights and the refuse that were known then. At most one query."""
    if at is None:
        return
    known = {food.pk: food for food in as_known(_foods_of(revisions), Food, at)}
    for revision in revisions:
        for part in revision.parts.all():
            for line in part.lines.all():
                if line.food is not None and line.food.pk in known:
                    name, line.food = line.food.name, known[line.food.pk]
                    line.food.name = name


def _foods_of(revisions: Sequence[Revision]) -> list[Food]:
    lines = (line for revision in revisions for part in revision.parts.all() for line in part.lines.all())
    return [line.food for line in lines if line.food is not None]


def _side(pairing: Pairing, edition: Edition) -> SideFound:
    return SideFound(pairing.side.slug, pairing.side.title, pairing.portions, edition.facts.get("cards", {}), edition.revision)


def _published(recipe: Any) -> Published:
    edition = recipe.current_edition
    return Published(recipe.slug, recipe.title, edition.number, recipe.cost_facts, edition.revision)
