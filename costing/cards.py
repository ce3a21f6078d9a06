"""The cost card: what a recipe's ingredients and electricity cost, alone and with its sides."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from django.urls import reverse
from django.utils.http import urlencode

from costing import queries
from costing.domain.causes import causes
from costing.domain.facts import CostFacts
from costing.domain.fuels import burnt
from costing.domain.sheet import Sheet, make_sheet
from costing.domain.wall import electricity_for
from costing.words import ENGLISH, sentence
from costing.words.receipt import fuel_row, make_receipt, paper_words
from costing.words.together import added, cost_together_words, lacking_words, total_of
from costing.words.waiting import (
    brief_words,
    cause_words,
    changed_words,
    headline_sum,
    headline_words,
    opening_words,
    priced_words,
    stale_words,
    unpriced_words,
    unpriced_yet_words,
)
from energy.cards.means import spent_otherwise
from energy.estimates.domain.meal import MealEnergy
from energy.words import words_of
from kitchen.cards import (
    Attention,
    BenchLink,
    BenchSection,
    Card,
    CardRequest,
    Dish,
    Facts,
    FirstThing,
    Headline,
    ShelfFigure,
    Together,
    WorkbenchPart,
)
from kitchen.domain import record
from kitchen.domain.money import places_of, round_bound, round_half_up

if TYPE_CHECKING:
    from kitchen.models import Recipe, Revision


class CostCard(Card):
    """Deals the cost card. Its facts are ``CostFacts``; prices come from the quotes of the day they were collected."""

    slug = "cost"
    title = "Cost"
    order = 20
    template_name = "costing/card.html"
    shelf_figures = (ShelfFigure("cost_per_serving", "cheapest", "Cost a serving, at most", "cost", order=40, sort_order=30),)

    def collect(self, revision: Revision, *, at: datetime) -> Facts | None:
        """Return the cost facts of a revision, or None for one without ingredients. Constant in lines and in sides."""
        facts = queries.cost_facts(revision, at=at)
        return None if facts is None else record.write(facts)

    def read(self, facts: Facts) -> CostFacts:
        """Return lines, prices and sides as they were collected."""
        return record.read(CostFacts, facts)

    def prepare(self, held: CostFacts, request: CardRequest) -> Sheet:
        """Return the sheet for what was asked, with the electricity of the meal that the energy card prepared."""
        meal: MealEnergy | None = request.prepared.get("energy")
        electricity = electricity_for(
            meal,
            kit=request.kit,
            currency=held.currency,
            own_currency=request.currency,
            cooks=held.cooks,
            no_tariff="" if meal is None else words_of(meal.facts.no_price, ENGLISH),
        )
        closed = request.vessel is not None and request.vessel.closed
        return make_sheet(held, request.servings, electricity, portion=request.portion, batches=request.batches, closed=closed)

    def present(self, prepared: Sheet, request: CardRequest) -> dict[str, Any] | None:
        """Return the receipt; a reader gets none while nothing at all has a price, the owner sees what is missing."""
        if not prepared.lines and request.audience != "owner":
            return None
        meal: MealEnergy | None = request.prepared.get("energy")
        ways = () if meal is None or not prepared.facts.fuels else burnt(spent_otherwise(meal), prepared.facts.fuels)
        fuels = [fuel_row(one, prepared.facts.currency, ENGLISH) for one in ways]
        receipt = make_receipt(prepared, ENGLISH)
        return {"receipt": receipt, "servings": prepared.servings, "priced": bool(prepared.lines), "fuels": fuels}

    def paper_words(self, prepared: Sheet, request: CardRequest) -> str:
        """Return what all servings cost, alone and with the sides, and when the prices were seen."""
        return paper_words(make_receipt(prepared, ENGLISH), ENGLISH) if prepared.lines else ""

    def figures(self, prepared: Sheet, request: CardRequest) -> dict[str, Decimal | None]:
        """Return the most that one serving costs, alone; nothing while no line has a price, None while it may be more."""
        if not prepared.lines:
            return {}
        places = places_of(prepared.facts.currency)
        return {"cost_per_serving": None if prepared.at_least else round_half_up(prepared.most_per_serving, places)}

    def together(self, dishes: Sequence[Dish], request: CardRequest) -> Together:
        """Return what several recipes cost, each by itself; of other currencies than the first that has a price, nothing."""
        sheets: list[tuple[str, Sheet | None]] = [(dish.title, dish.prepared) for dish in dishes]
        currency = next((sheet.facts.currency for _, sheet in sheets if sheet is not None and sheet.lines), "")
        lacks = tuple(lacking_words(sheets, currency, ENGLISH)) if currency else ()
        if not currency:
            return Together()
        value = cost_together_words(sheets, currency, ENGLISH, at_least=bool(lacks))
        headline = Headline("cost", value, "", sentence(ENGLISH, "cost_together"), tone="cost", order=40)
        total, (less, more) = total_of(added(sheets, currency))
        places = places_of(currency)
        low = round_bound(total - less, places, "least" if lacks else "")
        high = None if lacks else str(round_half_up(total + more, places))
        figures = {"low": str(low), "high": high, "at_least": bool(lacks), "currency": currency}
        return Together((headline,), lacks, figures={"cost": figures})

    def buying(self, dishes: Sequence[tuple[str, int]]) -> Sequence[BenchLink]:
        """Return the shopping list for all of them."""
        together: dict[str, int] = {}
        for slug, servings in dishes:
            together[slug] = together.get(slug, 0) + servings
        asked = f"{reverse('costing:shopping')}?{urlencode(together)}"
        return (BenchLink(sentence(ENGLISH, "shop_for_all"), asked),)

    def moved(self, before: CostFacts, now: CostFacts) -> Sequence[str]:
        """Return which prices, yields and amounts moved the ingredients' cost since an edition, in sums that add up."""
        return () if before.currency != now.currency else cause_words(causes(before, now), now.currency, ENGLISH)

    def linked_data(self, prepared: Sheet, request: CardRequest) -> Mapping[str, Any]:
        """Return the estimated cost of the main dish, only where nothing of it is missing."""
        if not prepared.lines or prepared.at_least:
            return {}
        currency, (less, more) = prepared.facts.currency, prepared.electricity.off
        least, most = (str(round_half_up(one, places_of(currency))) for one in (prepared.total - less, prepared.total + more))
        amount = {"value": most} if least == most else {"minValue": least, "maxValue": most}
        return {"estimatedCost": {"@type": "MonetaryAmount", "currency": currency, **amount}}

    def headlines(self, prepared: Sheet, request: CardRequest) -> Sequence[Headline]:
        """Return the cost of one serving with its currency and the months of its prices."""
        if not prepared.lines:
            return ()
        value, words = headline_sum(prepared, ENGLISH), headline_words(prepared, ENGLISH)
        brief = brief_words(prepared, ENGLISH)
        return (Headline("cost_per_serving", value, "", words, tone="cost", anchor=self.slug, order=40, brief=brief),)

    def opening(self, prepared: Sheet, request: CardRequest) -> str:
        """Return the cost in all."""
        return opening_words(prepared, ENGLISH)

    def bench_sections(self) -> Sequence[BenchSection]:
        """Return prices, the shopping list, shops and yields."""
        pages = (
            ("All prices", "costing:prices"),
            ("Receipts", "costing:receipt"),
            ("Shopping list", "costing:shopping"),
            ("Shops", "costing:shops"),
            ("Yields", "costing:yields"),
        )
        return [BenchSection("Prices", tuple(BenchLink(label, reverse(address)) for label, address in pages))]

    def workbench(self, recipe: Recipe, revision: Revision, *, at: datetime) -> WorkbenchPart:
        """Return how many of the recipe's lines have a price, and the way to the others."""
        unpriced, lines = queries.unpriced_count(revision, at=at)
        address = reverse("costing:recipe-prices", args=[recipe.slug])
        return WorkbenchPart(
            title="Prices",
            state=priced_words(lines - unpriced, lines, ENGLISH),
            next=BenchLink("Type the prices", address) if unpriced else None,
            links=(BenchLink("Prices and costs of this recipe", address, unpriced_yet_words(unpriced, ENGLISH)),),
        )

    def first_things(self, recipe: Recipe | None) -> Sequence[FirstThing]:
        """Return the first prices. One query."""
        address = reverse("costing:recipe-prices", args=[recipe.slug]) if recipe else ""
        words = "What you paid for which pack: the cost of a serving follows."
        return (FirstThing("Type the prices", words, address, queries.prices_exist(), order=40),)

    def attention(self, user: Any, *, at: datetime) -> Sequence[Attention]:
        """Return the cook's published recipes with unpriced lines or with other prices by now, and prices that are too old."""
        waiting = queries.what_waits(user, at=at)
        found = [_unpriced(item) for item in waiting.recipes if item.unpriced]
        found += [_changed(item) for item in waiting.recipes if item.changed]
        if waiting.stale_foods:
            words = stale_words(waiting.stale_foods, ENGLISH)
            found.append(Attention(words, f"{reverse('costing:prices')}?stale=on", "stale quotes"))
        return found


def _unpriced(item: queries.Waiting) -> Attention:
    words = unpriced_words(item.title, item.unpriced, ENGLISH)
    return Attention(words, reverse("costing:recipe-prices", args=[item.slug]), "unpriced lines")


def _changed(item: queries.Waiting) -> Attention:
    words = changed_words(item.title, item.edition, (item.then, item.now), item.why, ENGLISH)
    return Attention(words, reverse("kitchen:recipe-bench", args=[item.slug]), "changed prices")
