"""Baskets in words: what a list costs at each shop, and what buying item by item saves."""

from __future__ import annotations

from dataclasses import dataclass

from costing.domain.baskets import Basket, Baskets
from costing.words.remarks import Language, sentence
from costing.words.sums import sum_words
from energy.words.figure_words import listed

_MOST = 6


@dataclass(frozen=True)
class BasketRow:
    """One shop: what it costs there and what it lacks."""

    shop: str
    cost: str
    lacks: str = ""


@dataclass(frozen=True)
class BasketWords:
    """The shops, where each thing costs least, and what that saves in a sentence."""

    rows: tuple[BasketRow, ...]
    apart: str
    places: tuple[tuple[str, str], ...]
    saves: str


def basket_words(found: Baskets, currency: str, language: Language, *, at_least: bool) -> BasketWords:
    """Return the baskets in words; ``at_least`` where the list holds things without any price."""
    apart = sum_words(found.apart.cost, currency, language, at_least=at_least)
    return BasketWords(
        tuple(_row(basket, currency, language, at_least=at_least) for basket in found.shops),
        apart,
        _places(found.apart),
        _saves(found, currency, language),
    )


def _row(basket: Basket, currency: str, language: Language, *, at_least: bool) -> BasketRow:
    cost = sum_words(basket.cost, currency, language, at_least=at_least or bool(basket.lacks))
    return BasketRow(basket.shop, cost, _some(basket.lacks, language))


def _places(apart: Basket) -> tuple[tuple[str, str], ...]:
    shops = sorted({item.quote.shop for item in apart.items})
    return tuple((shop, ", ".join(dict.fromkeys(i.food for i in apart.items if i.quote.shop == shop))) for shop in shops)


def _some(foods: tuple[str, ...], language: Language) -> str:
    more = len(foods) - _MOST
    named = list(foods) if more <= 0 else [*foods[:_MOST], sentence(language, "more_foods", more=more)]
    return sentence(language, "basket_lacks", foods=listed(named, language)) if foods else ""


def _saves(found: Baskets, currency: str, language: Language) -> str:
    if found.saves is None:
        return sentence(language, "no_whole_basket")
    if not found.saves:
        return sentence(language, "basket_saves_nothing", shop=found.shops[0].shop)
    return sentence(language, "basket_saves", saves=sum_words(found.saves, currency, language), shop=found.shops[0].shop)
