"""A till slip as it was read, in words."""

from __future__ import annotations

from fractions import Fraction

from costing.domain.closing import Closing
from costing.domain.slips import SlipLine
from costing.words.remarks import Language, sentence
from kitchen.domain.amounts import format_amount
from kitchen.domain.money import format_money


def slip_words(line: SlipLine, currency: str, language: Language) -> str:
    """Return how a line was read; nothing for a plain thing with its price.

    Examples
    --------
    >>> from costing.domain.slips import read_slip_line
    >>> from costing.words import ENGLISH
    >>> [slip_words(read_slip_line(text, "EUR", "DE"), "EUR", ENGLISH) for text in ("PFAND 0,25", "REIS 1,99", "4 EIER 1,20")]
    ['deposit, outside the cost', '', 'The number may count things: type as the pack what the price bought.']
    """
    each = "" if line.each is None else format_money(line.each, currency)
    if line.amount is not None:
        return sentence(language, "slip_weighed", amount=f"{format_amount(Fraction(line.amount))} {line.unit}", each=each)
    if line.count > 1:
        return sentence(language, "slip_several", count=line.count)
    return "" if line.kind == "item" else sentence(language, f"slip_{line.kind.replace(' ', '_')}")


def closed_words(closing: Closing, currency: str, language: Language) -> str:
    """Return whether the lines come to the total, and what they differ by.

    Examples
    --------
    >>> from decimal import Decimal
    >>> from costing.words import ENGLISH
    >>> closed_words(Closing(Decimal("2"), Decimal(0), Decimal(0), Decimal("2.5")), "EUR", ENGLISH)
    'The lines come to €2.00, the total on the slip is €2.50: €0.50 less.'
    """
    lines = format_money(closing.lines, currency)
    if closing.total is None:
        return sentence(language, "slip_no_total", lines=lines)
    if not closing.difference:
        return sentence(language, "slip_closes", lines=lines)
    code = "slip_more" if closing.difference > 0 else "slip_less"
    difference = format_money(abs(closing.difference), currency)
    return sentence(language, code, lines=lines, total=format_money(closing.total, currency), difference=difference)
