"""Two revisions of a recipe beside each other: rows of lines and steps, with what differs in words."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from difflib import SequenceMatcher

from kitchen.domain.aligning import align_lines, align_steps, ingredient, moved
from kitchen.domain.amounts import format_range, plain_number
from kitchen.domain.facts import LineFacts, RecipeFacts, StepFacts
from kitchen.domain.stages import STAGE_KINDS
from kitchen.domain.units import UNITS, label_of

Piece = tuple[str, bool]
"""Some words of a text, and whether the other text has others in their place."""


@dataclass(frozen=True)
class LineRow:
    """One ingredient line in both revisions; ``words`` say what differs, nothing where nothing does."""

    before: LineFacts | None
    after: LineFacts | None
    part_before: str = ""
    part_after: str = ""
    words: tuple[str, ...] = ()
    moved: bool = False
    moved_part: bool = False

    @property
    def part(self) -> str:
        """The heading that the row stands under."""
        return self.part_before if self.after is None else self.part_after

    @property
    def rewritten(self) -> bool:
        """Whether the line's text is another one."""
        return self.before is not None and self.after is not None and self.before.text != self.after.text

    @property
    def read_differently(self) -> bool:
        """Whether the same text is read, or scaled, in another way."""
        if self.before is None or self.after is None or self.before.text != self.after.text:
            return False
        return _reading(self.before) != _reading(self.after)


@dataclass(frozen=True)
class StepRow:
    """One step in both revisions, with its number in each (None where it is not there)."""

    before: StepFacts | None
    after: StepFacts | None
    number_before: int | None = None
    number_after: int | None = None
    words: tuple[str, ...] = ()
    moved: bool = False
    pieces_before: tuple[Piece, ...] = ()
    pieces_after: tuple[Piece, ...] = ()

    @property
    def reworded(self) -> bool:
        """Whether the step's text is another one."""
        return self.before is not None and self.after is not None and self.before.text != self.after.text

    @property
    def marks_before(self) -> str:
        """Stage, minutes and temperature of the older step."""
        return _marks(self.before)

    @property
    def marks_after(self) -> str:
        """Stage, minutes and temperature of the newer step."""
        return _marks(self.after)


@dataclass(frozen=True)
class Comparison:
    """Two revisions beside each other; ``head`` says what differs in servings and the weight of one."""

    head: tuple[str, ...]
    lines: tuple[LineRow, ...]
    steps: tuple[StepRow, ...]

    @property
    def same(self) -> bool:
        """Whether both say the same."""
        return not (self.head or any(row.words for row in self.lines) or any(row.words for row in self.steps))


def compare(before: RecipeFacts, after: RecipeFacts) -> Comparison:
    """Return two revisions of one recipe beside each other, the older first.

    Parameters
    ----------
    before, after : RecipeFacts
        Two revisions, in either order of time; words read from ``before`` to ``after``.

    Returns
    -------
    Comparison

    Notes
    -----
    Lines and steps are paired by ``kitchen.domain.aligning``. ``what_changed`` makes its sentences of the same pairs, so that the
    two never disagree. A corrected weight in the food table is no change of the recipe.

    Examples
    --------
    >>> from fractions import Fraction as F
    >>> from kitchen.domain.facts import PartFacts
    >>> def soup(cups):
    ...     line = LineFacts("water", low=F(cups), high=F(cups), unit="cup", name="water")
    ...     return RecipeFacts("soup", "Soup", "", 4, 1, parts=(PartFacts("", (replace(line, text=f"{cups} cups water"),)),))
    >>> compare(soup("2"), soup("7/2")).lines[0].words
    ('water 2 cups → 3½ cups',)
    >>> compare(soup("2"), soup("2")).same
    True
    """
    return Comparison(_head_words(before, after), line_rows(before, after), step_rows(before.steps, after.steps))


def line_rows(before: RecipeFacts, after: RecipeFacts) -> tuple[LineRow, ...]:
    """Return the ingredient lines of two revisions in rows."""
    old, new = (list(_lines_with_parts(facts)) for facts in (before, after))
    pairs = align_lines([line for _, line in old], [line for _, line in new])
    out_of_order = moved(pairs)
    rows = []
    for old_place, new_place in pairs:
        part_before, line_before = old[old_place] if old_place is not None else ("", None)
        part_after, line_after = new[new_place] if new_place is not None else ("", None)
        row = LineRow(line_before, line_after, part_before, part_after, moved=new_place in out_of_order)
        row = replace(row, moved_part=_in_another_part(row, [part for part, _ in old], [part for part, _ in new]))
        rows.append(replace(row, words=_line_words(row)))
    return tuple(rows)


def step_rows(old: Sequence[StepFacts], new: Sequence[StepFacts]) -> tuple[StepRow, ...]:
    """Return the steps of two revisions in rows."""
    pairs = align_steps(old, new)
    out_of_order = moved(pairs)
    rows = []
    for place, target in pairs:
        row = StepRow(
            before=None if place is None else old[place],
            after=None if target is None else new[target],
            number_before=None if place is None else place + 1,
            number_after=None if target is None else target + 1,
            moved=target in out_of_order,
        )
        rows.append(_with_pieces(replace(row, words=_step_words(row))))
    return tuple(rows)


def stage_label(key: str) -> str:
    """Return a stage in the trade's words.

    Examples
    --------
    >>> stage_label("come_up"), stage_label("")
    ('come up', 'no stage')
    """
    return STAGE_KINDS[key].label if key in STAGE_KINDS else "no stage"


def _head_words(before: RecipeFacts, after: RecipeFacts) -> tuple[str, ...]:
    said = []
    if before.servings != after.servings:
        said.append(f"servings {before.servings} → {after.servings}")
    if before.serving_g != after.serving_g:
        old, new = ("not given" if grams is None else f"{grams:g} g" for grams in (before.serving_g, after.serving_g))
        said.append(f"weight of a serving {old} → {new}")
    return tuple(said)


def _lines_with_parts(facts: RecipeFacts) -> Iterator[tuple[str, LineFacts]]:
    for part in facts.parts:
        for line in part.lines:
            yield part.title, line


def _in_another_part(row: LineRow, old_parts: Sequence[str], new_parts: Sequence[str]) -> bool:
    """Whether a line went to another part; that its own part has a new heading is not that."""
    if row.before is None or row.after is None or row.part_before == row.part_after:
        return False
    return row.part_after in old_parts or row.part_before in new_parts


def _reading(line: LineFacts) -> LineFacts:
    """Return the line without the details of its food: a corrected weight in the food table is not a change of the recipe."""
    return replace(line, food=None)


def _line_words(row: LineRow) -> tuple[str, ...]:
    if row.before is None:
        return ("new",)
    if row.after is None:
        return ("left out",)
    said = _reading_words(row.before, row.after)
    if row.rewritten and not said:
        said = ["reworded"]
    elif row.read_differently and not said:
        said = ["read or scaled differently"]
    if row.moved_part:
        said.append(f"moved to “{row.part_after}”" if row.part_after else "moved to the part without a heading")
    elif row.moved:
        said.append("moved")
    return tuple(said)


def _reading_words(before: LineFacts, after: LineFacts) -> list[str]:
    said = []
    name = after.name or after.text
    old, new = _amount(before), _amount(after)
    if old != new:
        said.append(f"{name} {old or 'no amount'} → {new or 'no amount'}")
    if before.name and after.name and ingredient(before.name) != ingredient(after.name):
        said.append(f"{before.name} → {after.name}")
    if before.note != after.note:
        said.append(f"{before.note} → {after.note}" if before.note and after.note else _come_or_gone(before.note, after.note))
    if before.optional != after.optional:
        said.append("optional now" if after.optional else "no longer optional")
    if before.to_taste != after.to_taste:
        said.append("to taste now" if after.to_taste else "no longer to taste")
    if (before.rule, before.evaporated_ml) != (after.rule, after.evaporated_ml):
        said.append("scaled differently")
    return said


def _come_or_gone(before: str, after: str) -> str:
    return f"now {after}" if after else f"no longer {before}"


def _amount(line: LineFacts) -> str:
    """Return the amount of a line in the cook's own unit, with the size of one where it has one."""
    if line.low is None or line.high is None:
        return ""
    unit = label_of(line.unit, line.high) if line.unit in UNITS else line.unit
    return " ".join(filter(None, [format_range(line.low, line.high), unit, f"of {line.size}" if line.size else ""]))


def _step_words(row: StepRow) -> tuple[str, ...]:
    if row.before is None:
        return ("new",)
    if row.after is None:
        return ("left out",)
    said = ["reworded"] if row.reworded else []
    old, new = row.before, row.after
    if old.stage != new.stage:
        said.append(f"{stage_label(old.stage)} → {stage_label(new.stage)}")
    stage = f"{stage_label(new.stage)} " if new.stage and old.stage == new.stage else ""
    for before, after, unit in ((old.minutes, new.minutes, "min"), (old.temp_c, new.temp_c, "°C")):
        if before is None and after is not None:
            said.append(f"{stage}now {_measure(after, unit)}")
        elif before is not None and after is None:
            said.append(f"{stage}no longer {_measure(before, unit)}")
        elif before is not None and after is not None and before != after:
            said.append(f"{stage}{_measure(before, unit)} → {_measure(after, unit)}")
    return (*said, *(("moved",) if row.moved else ()))


def _measure(value: Decimal, unit: str) -> str:
    return f"{plain_number(value)} {unit}"


def _marks(step: StepFacts | None) -> str:
    if step is None:
        return ""
    measures = [_measure(value, unit) for value, unit in ((step.minutes, "min"), (step.temp_c, "°C")) if value is not None]
    return ", ".join([*([stage_label(step.stage)] if step.stage else []), *measures])


def _with_pieces(row: StepRow) -> StepRow:
    before, after = (row.before.text if row.before else ""), (row.after.text if row.after else "")
    if not row.reworded:
        return replace(row, pieces_before=((before, False),), pieces_after=((after, False),))
    old, new = word_pieces(before, after)
    return replace(row, pieces_before=old, pieces_after=new)


def word_pieces(before: str, after: str) -> tuple[tuple[Piece, ...], tuple[Piece, ...]]:
    """Return both texts in pieces, each marked whether the other text has other words there.

    Examples
    --------
    >>> word_pieces("Stir it well.", "Stir it gently.")
    ((('Stir it ', False), ('well.', True)), (('Stir it ', False), ('gently.', True)))
    """
    old, new = (re.findall(r"\S+\s*|\s+", text) for text in (before, after))
    left: list[Piece] = []
    right: list[Piece] = []
    matcher = SequenceMatcher(a=[word.strip() for word in old], b=[word.strip() for word in new], autojunk=False)
    for tag, old_from, old_to, new_from, new_to in matcher.get_opcodes():
        differs = tag != "equal"
        if old_to > old_from:
            left.append(("".join(old[old_from:old_to]), differs))
        if new_to > new_from:
            right.append(("".join(new[new_from:new_to]), differs))
    return tuple(left), tuple(right)
