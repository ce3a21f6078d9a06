"""A cost sheet as a table: each line with its exact cost, what is not counted with its reason, then the sums."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from costing.domain.sheet import Sheet
from costing.words.cost_lines import sheet_lines
from costing.words.receipt import make_receipt
from costing.words.remarks import Language, sentence
from kitchen.domain.money import round_half_up

HEAD = ("line", "bought", "pack", "unit price", "shop and day", "used", "exact cost", "currency", "as printed", "not counted")
PLACES = 6


def sheet_rows(sheet: Sheet, texts: Sequence[str], language: Language) -> list[list[str]]:
    """Return the rows below ``HEAD``; ``texts`` are the lines as they stand in the recipe.

    The exact costs are rounded to a ten-thousandth of a cent, so that a spreadsheet adds them up to the printed total.
    """
    exact = {id(one.line): one.cost for one in (*sheet.lines, *sheet.options)}
    told = zip(texts, sheet.facts.lines, sheet_lines(sheet, language), strict=True)
    rows = []
    for text, line, said in told:
        why = said.gap or (said.note if said.apart else "")
        words = [text, said.bought, said.pack, said.unit_price, said.source, said.used]
        rows.append([*words, *_money(exact.get(id(line)), sheet), said.cost, why])
    return [*rows, *_sums(sheet, language)]


def _sums(sheet: Sheet, language: Language) -> Iterable[list[str]]:
    receipt = make_receipt(sheet, language)
    parts = (
        (receipt.electricity, sheet.electricity.cost),
        (receipt.allowance, sheet.allowance),
        (receipt.total, sheet.total),
    )
    for row, amount in parts:
        if row:
            yield [row.words, *[""] * 5, *_money(amount, sheet), row.cost, ""]
    yield [
        sentence(language, "row_each_serving"),
        *[""] * 5,
        *_money(sheet.per_serving, sheet),
        receipt.per_serving,
        receipt.coverage,
    ]


def _money(amount: Fraction | None, sheet: Sheet) -> list[str]:
    return ["", ""] if amount is None else [f"{round_half_up(amount, PLACES):f}", sheet.facts.currency]
