"""A food's prices over time as a drawing: every price that was seen by the kilogram, litre or piece; pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from costing.domain.quotes import Offer, unit_price
from costing.words import Language, sentence
from costing.words.sums import larger_unit, unit_price_words
from energy.charts.frames import Frame, corners_of, value_ticks
from energy.charts.lettering import text_width
from energy.charts.shapes import Dot, Label, Plot, Tick

MOST = 200
_FEWEST = 3


@dataclass(frozen=True)
class PriceChart(Plot):
    """Prices as dots, those of a sale hollow, above a line of days; ``title`` says in a sentence what they show."""

    rungs: tuple[Tick, ...]
    minutes: tuple[Tick, ...]
    dots: tuple[Dot, ...]
    sales: tuple[Dot, ...]
    line: str
    title: str


def price_chart(offers: Sequence[Offer], currency: str, food: str, language: Language) -> PriceChart | None:
    """Return the drawing of a food's prices; None where fewer than three compare.

    Parameters
    ----------
    offers : sequence of Offer
        The newest first. Those in the currency and the measure that most of them have are drawn.

    Notes
    -----
    The line joins what was asked without a sale; a price holds until another is seen, so it goes in steps.
    """
    seen = [(offer, *unit_price(offer)) for offer in offers if offer.currency == currency]
    bases = [base for _, _, base in seen]
    base = max(bases, key=bases.count, default="")
    drawn = [(offer.day, price * larger_unit(base)[1], offer.last_day is not None) for offer, price, own in seen if own == base]
    if len(drawn) < _FEWEST or len({day for day, _, _ in drawn}) < 2:
        return None
    drawn.sort(key=lambda one: one[0])
    first, last = drawn[0][0], drawn[-1][0]
    frame = Frame.around((last - first).days, float(max(price for _, price, _ in drawn)), "share")
    dots = [(Dot(frame.x((day - first).days), frame.y(float(price))), sale) for day, price, sale in drawn]
    low, high = (price / larger_unit(base)[1] for price in (min(p for _, p, _ in drawn), max(p for _, p, _ in drawn)))
    between = {name: unit_price_words(price, base, currency, language) for name, price in (("least", low), ("most", high))}
    return PriceChart(
        **frame.edges,
        rungs=value_ticks(frame),
        minutes=_days(frame, first, last),
        dots=tuple(dot for dot, sale in dots if not sale),
        sales=tuple(dot for dot, sale in dots if sale),
        line=_steps([dot for dot, sale in dots if not sale]),
        title=sentence(language, "prices_drawn", food=food, number=len(drawn), first=first, last=last, **between),
    )


def _steps(dots: Sequence[Dot]) -> str:
    corners: list[tuple[float, float]] = []
    for dot in dots:
        corners += [(dot.x, corners[-1][1])] if corners else []
        corners.append((dot.x, dot.y))
    return corners_of(corners)


def _days(frame: Frame, first: date, last: date) -> tuple[Tick, ...]:
    """Return the first and the last day below the axis, and the beginnings of years between them where they have room."""
    ends = [_day(frame, 0, f"{first:%-d %b %Y}", "start"), _day(frame, (last - first).days, f"{last:%-d %b %Y}", "end")]
    room = [
        end.label.x + (1 if end.label.anchor == "start" else -1) * text_width(end.label.text, frame.font_size) for end in ends
    ]
    years = [_day(frame, (date(year, 1, 1) - first).days, str(year), "middle") for year in range(first.year + 1, last.year + 1)]
    free = [tick for tick in years if room[0] + 24 < tick.at < room[1] - 24]
    return (ends[0], *free[:: max(1, len(free) // 4)], ends[1])


def _day(frame: Frame, at: int, words: str, anchor: str) -> Tick:
    return Tick(frame.x(at), Label(words, frame.x(at), frame.bottom + 18, anchor))
