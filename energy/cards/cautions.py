"""From the chosen cautions to what a page, a paper card and a log sheet show."""

from __future__ import annotations

from collections.abc import Sequence

from energy.cautions.ranking import CalledFor, Situation, choose, limit_words, topics_of_appliance
from energy.facts import ApplianceFacts
from energy.words.figure_words import capitalized
from kitchen.cards import Caution
from kitchen.page import MOST_OPEN

_MOST_NAMED = 3


def shown_cautions(chosen: Sequence[CalledFor], situation: Situation) -> list[Caution]:
    """Return the cautions with their sentences filled in."""
    return [_shown(one, situation) for one in chosen]


def cautions_of_cooker(appliance: ApplianceFacts) -> list[str]:
    """Return the few short sentences about a cooker alone that matter most, for a sheet on paper."""
    situation = Situation(
        topics=topics_of_appliance(appliance.kind),
        fill=limit_words(appliance.fill_limit_pct),
        foam=limit_words(appliance.foam_fill_limit_pct),
    )
    return [caution.short for caution in shown_cautions(choose(situation)[:MOST_OPEN], situation)]


def _shown(one: CalledFor, situation: Situation) -> Caution:
    names = [line.words for line in (*one.lines, *one.answered)]
    said = {"fill": situation.fill, "foam": situation.foam, "foods": _listed(names)}
    return Caution(
        words=one.entry.words.format(**said),
        source=one.entry.source,
        on_paper=not one.elsewhere,
        short=(one.entry.short or one.entry.words).format(**said),
        harm=one.harm,
        lines=tuple(line.words for line in one.lines),
        answered=tuple((line.words, line.answer) for line in one.answered),
        newer=one.newer,
        aside=one.elsewhere,
        answerable=one.entry.answerable,
    )


def _listed(names: Sequence[str]) -> str:
    """Return the first few names as the beginning of a sentence.

    Examples
    --------
    >>> _listed(["rolled oats", "milk"]), _listed(["a", "b", "c", "d"])
    ('Rolled oats, milk', 'A, b, c and more')
    """
    return capitalized(", ".join(names[:_MOST_NAMED]) + (" and more" if len(names) > _MOST_NAMED else ""))
