"""The safety sentences that belong to an appliance and its sources, from one readable file."""

from __future__ import annotations

import tomllib
from collections.abc import Collection
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import energy.domain
from energy.domain.facts import ApplianceFacts
from kitchen.cards import Caution

_FILE = Path(energy.domain.__file__).with_name("cautions.toml")
_LIMIT_WORDS = {50: "half", 67: "two thirds", 75: "three quarters", 100: "the brim"}


@dataclass(frozen=True)
class Rule:
    """One caution and when it is shown; an empty collection asks for nothing."""

    words: str
    source: str
    on_paper: bool
    appliances: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    foods: tuple[str, ...] = ()
    but: tuple[str, ...] = ()
    key: str = ""

    def fits(self, appliance: ApplianceFacts, source_kinds: Collection[str]) -> bool:
        """Return whether the caution is about this appliance on any of these sources; one about food is not."""
        return (
            not self.foods
            and (not self.appliances or appliance.kind in self.appliances)
            and (not self.sources or any(kind in self.sources for kind in source_kinds))
        )


@cache
def rules() -> tuple[Rule, ...]:
    """Return all cautions of the file, read once."""
    held = tomllib.loads(_FILE.read_text(encoding="utf-8"))["cautions"]
    return tuple(
        Rule(
            row["words"],
            row["source"],
            row["on_paper"],
            tuple(row.get("appliances", ())),
            tuple(row.get("sources", ())),
            tuple(row.get("foods", ())),
            tuple(row.get("but", ())),
            row.get("key", ""),
        )
        for row in held
    )


def cautions_for(appliance: ApplianceFacts, source_kind: str, other_kinds: Collection[str] = ()) -> tuple[Caution, ...]:
    """Return the cautions for an appliance and its source, in the file's order.

    What is only about other sources that the card answers for stays off paper.
    """
    limits = {"fill": limit_words(appliance.fill_limit_pct), "foam": limit_words(appliance.foam_fill_limit_pct)}
    return tuple(
        Caution(rule.words.format(**limits), rule.source, rule.on_paper and rule.fits(appliance, [source_kind]))
        for rule in rules()
        if rule.fits(appliance, [source_kind, *other_kinds])
    )


def limit_words(limit_pct: float) -> str:
    """Return a fill limit in words.

    Examples
    --------
    >>> limit_words(67), limit_words(60).replace(chr(160), " ")
    ('two thirds', '60 %')
    """
    return _LIMIT_WORDS.get(round(limit_pct), f"{limit_pct:g}\u00a0%")
