"""What changed between two revisions of a recipe, in words for a person."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from decimal import Decimal
from difflib import SequenceMatcher

from kitchen.domain.facts import LineFacts, RecipeFacts, StepFacts
from kitchen.domain.stages import STAGE_KINDS

_LONGEST_QUOTE = 60
_ALIKE = 0.5


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
    Lines are told apart by their text. A line that went and a line that came with the same ingredient name are one changed
    line. Steps are aligned by their text with ``difflib.SequenceMatcher``; of two aligned steps that differ, those at least half
    alike are one reworded step.

    Examples
    --------
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
    old, new = _lines(before), _lines(after)
    gone = _missing(old, new)
    come = _missing(new, old)
    said = []
    for line in list(gone):
        partner = next((other for other in come if _same_ingredient(line, other)), None)
        if partner is not None:
            gone.remove(line)
            come.remove(partner)
            said.append(f"{_quote(line.text)} became {_quote(partner.text)}.")
    said += [f"New: {_quote(line.text)}." for line in come]
    said += [f"Left out: {_quote(line.text)}." for line in gone]
    said += _reading_changes(old, new)
    return said + _arrangement_changes(before, after, same_lines=Counter(_texts(old)) == Counter(_texts(new)))


def _lines(facts: RecipeFacts) -> list[LineFacts]:
    return [line for part in facts.parts for line in part.lines]


def _texts(lines: list[LineFacts]) -> list[str]:
    return [line.text for line in lines]


def _missing(lines: list[LineFacts], others: list[LineFacts]) -> list[LineFacts]:
    """Return the lines whose text the others do not hold, counting doubles."""
    left = Counter(_texts(others))
    missing = []
    for line in lines:
        if left[line.text]:
            left[line.text] -= 1
        else:
            missing.append(line)
    return missing


def _same_ingredient(one: LineFacts, other: LineFacts) -> bool:
    return bool(one.name) and one.name.casefold() == other.name.casefold()


def _reading_changes(old: list[LineFacts], new: list[LineFacts]) -> list[str]:
    readings = {line.text: line for line in old}
    return [
        f"{_quote(line.text)} is read or scaled differently."
        for line in new
        if line.text in readings and _reading(readings[line.text]) != _reading(line)
    ]


def _reading(line: LineFacts) -> LineFacts:
    """Return the line without the details of its food: a corrected weight in the food table is not a change of the recipe."""
    return replace(line, food=None)


def _arrangement_changes(before: RecipeFacts, after: RecipeFacts, *, same_lines: bool) -> list[str]:
    old, new = ([part.title for part in facts.parts if part.title] for facts in (before, after))
    said = [f"New part: {_quote(title)}." for title in new if title not in old]
    said += [f"The part {_quote(title)} is gone." for title in old if title not in new]
    if same_lines and not said and _texts(_lines(before)) != _texts(_lines(after)):
        said.append("The ingredients stand in another order.")
    return said


def _step_changes(old: tuple[StepFacts, ...], new: tuple[StepFacts, ...]) -> list[str]:
    matcher = SequenceMatcher(a=[step.text for step in old], b=[step.text for step in new], autojunk=False)
    said = []
    for tag, old_from, old_to, new_from, new_to in matcher.get_opcodes():
        if tag == "equal":
            for offset in range(old_to - old_from):
                said += _mark_changes(old[old_from + offset], new[new_from + offset], new_from + offset + 1)
        else:
            said += _rewritten(old[old_from:old_to], new[new_from:new_to], old_from + 1, new_from + 1)
    return said


def _rewritten(old: tuple[StepFacts, ...], new: tuple[StepFacts, ...], old_first: int, new_first: int) -> list[str]:
    said = []
    waiting = list(enumerate(old, old_first))
    for number, step in enumerate(new, new_first):
        partner = next((pair for pair in waiting if _alike(pair[1].text, step.text)), None)
        if partner is None:
            said.append(f"New step {number}: {_quote(step.text)}.")
        else:
            waiting.remove(partner)
            said.append(f"Step {number} was reworded.")
            said += _mark_changes(partner[1], step, number)
    return said + [f"Step {number} was left out: {_quote(step.text)}." for number, step in waiting]


def _alike(one: str, other: str) -> bool:
    return SequenceMatcher(a=one, b=other, autojunk=False).ratio() >= _ALIKE


def _mark_changes(old: StepFacts, new: StepFacts, number: int) -> list[str]:
    said = []
    if old.stage != new.stage:
        said.append(f"Step {number}: {_stage(new.stage)} instead of {_stage(old.stage)}.")
    if old.minutes != new.minutes:
        said.append(f"Step {number}: {_measure(new.minutes, 'min')} instead of {_measure(old.minutes, 'min')}.")
    if old.temp_c != new.temp_c:
        said.append(f"Step {number}: {_measure(new.temp_c, '°C')} instead of {_measure(old.temp_c, '°C')}.")
    return said


def _stage(key: str) -> str:
    return STAGE_KINDS[key].label if key in STAGE_KINDS else "no stage"


def _measure(value: Decimal | None, unit: str) -> str:
    return f"no {unit}" if value is None else f"{value.normalize():f} {unit}"


def _side_changes(before: RecipeFacts, after: RecipeFacts) -> list[str]:
    old = {side.slug: side for side in before.sides}
    new = {side.slug: side for side in after.sides}
    said = [f"Served with {side.title} now." for slug, side in new.items() if slug not in old]
    said += [f"No longer served with {side.title}." for slug, side in old.items() if slug not in new]
    for slug in old.keys() & new.keys():
        if old[slug].portions != new[slug].portions:
            said.append(f"{new[slug].portions.normalize():f} portions of {new[slug].title} go with a serving.")
    return said


def _quote(text: str) -> str:
    """Return words in quotes, without the full stop of their own: the sentence around them has one."""
    text = text.rstrip(". ")
    short = text if len(text) <= _LONGEST_QUOTE else f"{text[: _LONGEST_QUOTE - 1].rstrip()}…"
    return f"“{short}”"
