"""Where prices and yields come from, and from when."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from decimal import Decimal

from costing.domain.facts import CostFacts, QuoteFacts, every_line
from costing.words.remarks import Language, sentence, words_of
from costing.words.sums import percent_figures, price_seen_words
from energy.words.figure_words import listed
from kitchen.domain.packs import pack_words
from kitchen.domain.remark import Said

_RULES: Mapping[str, str] = {"median": "median_prices", "shop": "shop_prices", "cheapest": "cheapest_prices"}
_TO_ADD: Mapping[str, str] = {"mL": "price_needs_density", "each": "price_needs_piece_weight"}


def quote_words(quote: QuoteFacts, currency: str, language: Language) -> str:
    """Return where a price comes from, in one phrase.

    Examples
    --------
    >>> from datetime import date
    >>> from costing.words import ENGLISH
    >>> from fractions import Fraction
    >>> seen = QuoteFacts("Mill Lane", date(2026, 10, 1), Decimal("3.49"), Fraction(500), "g", 2, stale=False)
    >>> quote_words(seen, "EUR", ENGLISH)
    '€3.49 for 2 x 500 g at Mill Lane, 1 October 2026'
    """
    price, pack = (
        price_seen_words(quote.price, currency),
        pack_words(quote.pack_amount, quote.pack_unit, quote.packs, sold=quote.sold),
    )
    said = {"price": price, "pack": pack, "shop": ", ".join(filter(None, (quote.shop, quote.brand))), "day": quote.day}
    if not quote.shop:
        return sentence(language, "quote_typed", **said)
    if not quote.tax_pct:
        return sentence(language, "quote", **said)
    return sentence(language, "quote_taxed", **said, tax_pct=percent_figures(quote.tax_pct))


def yield_words(yield_pct: Decimal | None, source: Said, language: Language) -> str:
    """Return how much of a food is used and who says so, or nothing where all of it is. [yield: %]

    Examples
    --------
    >>> from costing.words import ENGLISH
    >>> from kitchen.domain.remark import remark
    >>> yield_words(Decimal("84.00"), remark("own_test"), ENGLISH), yield_words(None, "", ENGLISH)
    ('84 % of it is used (own test)', '')
    """
    if yield_pct is None or yield_pct == 100:
        return ""
    figures = {"share_pct": percent_figures(yield_pct), "source": words_of(source, language)}
    return sentence(language, "used_by" if source else "used", **figures)


def rule_words(facts: CostFacts, language: Language) -> str:
    """Return how the prices were chosen, in one sentence; nothing where none was used.

    Examples
    --------
    >>> from datetime import date
    >>> from costing.words import ENGLISH
    >>> rule_words(CostFacts(4, "EUR", date(2026, 10, 14), "median", (), rule_detail="3"), ENGLISH)
    'Each price is the median of the last 3 seen by 14 October 2026.'
    """
    if facts.day is None:
        return ""
    return sentence(language, _RULES.get(facts.rule, "newest_prices"), by=facts.day, detail=facts.rule_detail)


def places_words(facts: CostFacts, language: Language) -> str:
    """Return the shops of the prices that were used, the most used first: two of them, and how many more.

    Examples
    --------
    >>> from datetime import date
    >>> from costing.words import ENGLISH
    >>> from fractions import Fraction
    >>> from costing.domain.facts import CostLine
    >>> shops = ("Mill Lane", "Harrow", "Mill Lane", "Quarry Road")
    >>> seen = [QuoteFacts(shop, date(2026, 10, 4), Decimal(1), Fraction(500), "g", 1, stale=False) for shop in shops]
    >>> places_words(CostFacts(4, "EUR", None, "newest", tuple(CostLine("rice", quote=quote) for quote in seen)), ENGLISH)
    'Mill Lane, Harrow and 1 more'
    """
    counted = Counter(line.quote.shop for line in every_line(facts.lines) if line.quote is not None and line.quote.shop)
    shops = [shop for shop, _ in counted.most_common()]
    more = [sentence(language, "more_shops", more=len(shops) - 2)] if len(shops) > 2 else []
    return listed([*shops[:2], *more], language)


def months_words(facts: CostFacts, language: Language) -> str:
    """Return the months from the oldest to the newest price that was used; nothing where none was.

    Examples
    --------
    >>> from datetime import date
    >>> from costing.words import ENGLISH
    >>> from fractions import Fraction
    >>> from costing.domain.facts import CostLine
    >>> seen = [QuoteFacts("Mill Lane", date(2026, month, 4), Decimal(1), Fraction(500), "g", 1, stale=False) for month in (6, 9)]
    >>> lines = tuple(CostLine("rice", quote=quote) for quote in seen)
    >>> months_words(CostFacts(4, "EUR", seen[1].day, "newest", lines), ENGLISH)
    'June to September 2026'
    """
    days = [line.quote.day for line in every_line(facts.lines) if line.quote is not None]
    if not days:
        return ""
    first, last = min(days), max(days)
    if first.year != last.year:
        return sentence(language, "months_of_years", first=first, last=last)
    return sentence(language, "month" if first.month == last.month else "months", first=first, last=last)


def conversion_words(base: str, food: str, language: Language) -> str:
    """Return what a food needs before a price by this base unit counts for lines in other units.

    Examples
    --------
    >>> from costing.words import ENGLISH
    >>> conversion_words("bunch", "mint", ENGLISH)[61:]
    'converted: the weight of one bunch is not known; write the line or the price in g (mint).'
    """
    return sentence(language, _TO_ADD.get(base, "price_needs_unit_weight"), missing=base, food=food)
