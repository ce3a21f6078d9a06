"""What changed between two revisions of a recipe, in words for a person."""

from __future__ import annotations

from decimal import Decimal

from kitchen.domain.allergens import BY_KEY
from kitchen.domain.amounts import plain_number
from kitchen.domain.compare import LineRow, line_rows, stage_label, step_rows
from kitchen.domain.facts import LineFacts, RecipeFacts, StepFacts

_LONGEST_QUOTE = 60


def what_changed(before: RecipeFacts, after: RecipeFacts) -> tuple[str, ...]:
    """Return one sentence for each difference that a cook would notice; nothing where the two say the same.

    Parameters
    ----------
    before, after : RecipeFacts
        Two revisions (or two editions) of one recipe, the older first.

    Returns
    -------
    tuple of str
        Sentences about the recipe's words, its servings, its ingredient lines, its steps and its sides, in this order.

    Notes
    -----
    Lines and steps are paired as in ``kitchen.domain.compare``, which shows the same two revisions beside each other.

    Examples
    --------
    >>> from dataclasses import replace
    >>> old = RecipeFacts("soup", "Soup", "", servings=4, revision=1)
    >>> what_changed(old, replace(old, servings=6, revision=2))
    ('Serves 6 instead of 4.',)
    >>> what_changed(old, old)
    ()
    """
    return (
        *_words_changes(before, after),
        *_serving_changes(before, after),
        *_line_changes(before, after),
        *_step_changes(before.steps, after.steps),
        *_side_changes(before, after),
        *_allergen_changes(before, after),
    )


def _words_changes(before: RecipeFacts, after: RecipeFacts) -> list[str]:
    said = []
    if before.title != after.title:
        said.append(f"The title was “{before.title}”; it is “{after.title}” now.")
    if before.summary != after.summary:
        said.append("The one-line summary was rewritten.")
    if before.tags != after.tags:
        said.append(f"The tags are {', '.join(after.tags)} now." if after.tags else "The tags were taken off.")
    if before.photo != after.photo:
        said.append("The photo at the head is another one." if after.photo else "The photo at the head was taken off.")
    return said


def _serving_changes(before: RecipeFacts, after: RecipeFacts) -> list[str]:
    said = []
    if before.servings != after.servings:
        said.append(f"Serves {after.servings} instead of {before.servings}.")
    if before.serving_g != after.serving_g:
        old, new = (_grams(facts.serving_g) for facts in (before, after))
        said.append(f"The weight of a serving is {new} instead of {old}.")
    return said


def _grams(mass_g: float | None) -> str:
    return "not given" if mass_g is None else f"{mass_g:g} g"


def _line_changes(before: RecipeFacts, after: RecipeFacts) -> list[str]:
    rows = line_rows(before, after)
    said = [f"{_text(row.before)} became {_text(row.after)}." for row in rows if row.rewritten]
    said += [f"New: {_text(row.after)}." for row in rows if row.before is None]
    said += [f"Left out: {_text(row.before)}." for row in rows if row.after is None]
    said += [f"{_text(row.after)} is read or scaled differently." for row in rows if row.read_differently]
    return said + _part_changes(before, after) + _order_changes(rows)


def _text(line: LineFacts | None) -> str:
    return "" if line is None else _quote(line.text)


def _part_changes(before: RecipeFacts, after: RecipeFacts) -> list[str]:
    old, new = ([part.title for part in facts.parts if part.title] for facts in (before, after))
    said = [f"New part: {_quote(title)}." for title in new if title not in old]
    return said + [f"The part {_quote(title)} is gone." for title in old if title not in new]


def _order_changes(rows: tuple[LineRow, ...]) -> list[str]:
    said = [
        f"{_text(row.after)} moved to {_quote(row.part_after) if row.part_after else 'the part without a heading'}."
        for row in rows
        if row.moved_part
    ]
    return said + ["The ingredients stand in another order."] * any(row.moved and not row.moved_part for row in rows)


def _allergen_changes(before: RecipeFacts, after: RecipeFacts) -> list[str]:
    if not before.allergens_told or not after.allergens_told:
        return []
    new, gone = (
        ", ".join(BY_KEY[key].words for key in one.allergens if key not in other.allergens and key in BY_KEY)
        for one, other in ((after, before), (before, after))
    )
    said = [f"{words} {'is' if ',' not in words else 'are'} {what}" for words, what in ((new, "on"), (gone, "off")) if words]
    return [f"Allergens: {sentence} the list now." for sentence in said]


def _step_changes(old: tuple[StepFacts, ...], new: tuple[StepFacts, ...]) -> list[str]:
    rows = step_rows(old, new)
    said: list[str] = []
    for row in rows:
        if row.before is None and row.after is not None:
            said.append(f"New step {row.number_after}: {_quote(row.after.text)}.")
        elif row.before is not None and row.after is not None:
            said += [f"Step {row.number_after} was reworded."] if row.reworded else []
            said += _mark_changes(row.before, row.after, row.number_after or 0)
            said += [f"Step {row.number_after} was step {row.number_before}."] if row.moved else []
    gone = [row for row in rows if row.after is None]
    return said + [f"Step {row.number_before} was left out: {_quote(row.before.text)}." for row in gone if row.before]


def _mark_changes(old: StepFacts, new: StepFacts, number: int) -> list[str]:
    said = []
    if old.stage != new.stage:
        said.append(f"Step {number}: {stage_label(new.stage)} instead of {stage_label(old.stage)}.")
    if old.minutes != new.minutes:
        said.append(f"Step {number}: {_measure(new.minutes, 'min')} instead of {_measure(old.minutes, 'min')}.")
    if old.temp_c != new.temp_c:
        said.append(f"Step {number}: {_measure(new.temp_c, '°C')} instead of {_measure(old.temp_c, '°C')}.")
    return said


def _measure(value: Decimal | None, unit: str) -> str:
    return f"no {unit}" if value is None else f"{plain_number(value)} {unit}"


def _side_changes(before: RecipeFacts, after: RecipeFacts) -> list[str]:
    old = {side.slug: side for side in before.sides}
    new = {side.slug: side for side in after.sides}
    said = [f"Served with {side.title} now." for slug, side in new.items() if slug not in old]
    said += [f"No longer served with {side.title}." for slug, side in old.items() if slug not in new]
    for slug in old.keys() & new.keys():
        if old[slug].portions != new[slug].portions:
            said.append(f"{plain_number(new[slug].portions)} portions of {new[slug].title} go with a serving.")
    return said


def _quote(text: str) -> str:
    """Return words in quotes, without the full stop of their own: the sentence around them has one."""
    text = text.rstrip(". ")
    short = text if len(text) <= _LONGEST_QUOTE else f"{text[: _LONGEST_QUOTE - 1].rstrip()}…"
    return f"“{short}”"
