"""The editor's page as typed, read as far as it can be read, so that two pages can stand beside each other."""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal

from kitchen.domain.facts import LineFacts, PartFacts, RecipeFacts, StepFacts
from kitchen.domain.reading import read_line
from kitchen.domain.stages import STAGE_KINDS
from kitchen.domain.typed import Row, TypedDraft

_NUMBER = re.compile(r"-?[0-9]{1,6}(?:[.,][0-9]{1,4})?\Z")


def facts_as_typed(typed: TypedDraft) -> RecipeFacts:
    """Return what a page says, however unfinished; a number that is none is left out here, the page itself says so.

    Examples
    --------
    >>> page = TypedDraft({"title": "Soup", "servings": "six"}, ({"title": "", "lines": "2 eggs"},), ({"text": "Stir."},))
    >>> facts = facts_as_typed(page)
    >>> facts.title, facts.servings, facts.parts[0].lines[0].name
    ('Soup', 0, 'eggs')
    """
    head = typed.head
    servings = _number(head.get("servings", ""))
    weight = _number(head.get("serving_g", ""))
    return RecipeFacts(
        slug="",
        title=head.get("title", "").strip(),
        summary=head.get("summary", "").strip(),
        servings=0 if servings is None else int(servings),
        revision=0,
        tags=tuple(filter(None, (" ".join(tag.split()) for tag in head.get("tags", "").split(",")))),
        parts=tuple(PartFacts(part.get("title", ""), tuple(_lines(part))) for part in typed.parts),
        steps=tuple(_step(step) for step in typed.steps if step.get("text", "").strip()),
        serving_g=None if weight is None else float(weight),
    )


def _lines(part: Row) -> Iterator[LineFacts]:
    for text in filter(None, (line.strip() for line in part.get("lines", "").split("\n"))):
        read = read_line(text, ())
        yield LineFacts(
            text=text,
            low=read.low,
            high=read.high,
            unit=read.unit,
            name=read.name,
            note=read.note,
            size=read.size,
            rule=read.rule,
        )


def _step(step: Row) -> StepFacts:
    stage = step.get("stage", "")
    minutes, temp_c = (_number(step.get(name, "")) for name in ("minutes", "temp_c"))
    return StepFacts(step.get("text", "").strip(), stage if stage in STAGE_KINDS else "", minutes, temp_c)


def _number(text: str) -> Decimal | None:
    text = text.strip()
    return Decimal(text.replace(",", ".")) if _NUMBER.match(text) else None
