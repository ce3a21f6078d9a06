"""Two revisions of a recipe beside each other: rows of lines and steps, with what differs."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from difflib import SequenceMatcher

from kitchen.domain.aligning import align_lines, align_steps, ingredient, moved
from kitchen.domain.amounts import format_range, plain_number
from kitchen.domain.facts import LineFacts, RecipeFacts, StepFacts
from kitchen.domain.remark import Remark, remark
from kitchen.domain.stages import STAGE_KINDS
from kitchen.domain.units import UNITS, label_of

_Held = float | Decimal | str | None

Piece = tuple[str, bool]
"""Some words of a text, and whether the other text has others in their place."""


@dataclass(frozen=True)
class LineRow:
    """One ingredient line in both revisions; ``said`` is what differs, nothing where nothing does."""

    before: LineFacts | None
    after: LineFacts | None
    part_before: str = ""
    part_after: str = ""
    said: tuple[Remark, ...] = ()
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
    said: tuple[Remark, ...] = ()
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

    head: tuple[Remark, ...]
    lines: tuple[LineRow, ...]
    steps: tuple[StepRow, ...]

    @property
    def same(self) -> bool:
        """Whether both say the same."""
        return not (self.head or any(row.said for row in self.lines) or any(row.said for row in self.steps))


def compare(before: RecipeFacts, after: RecipeFacts) -> Comparison:
    """Return two revisions of one recipe beside each other, the older first.

    Parameters
    ----------
    before, after : RecipeFacts
        Two revisions, in either order of time; what differs reads from ``before`` to ``after``.

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
    >>> compare(soup("2"), soup("7/2")).lines[0].said
    (Remark(code='row_amount', values={'before': '2 cups', 'after': '3½ cups', 'name': 'water'}),)
    >>> compare(soup("2"), soup("2")).same
    True
    """
    return Comparison(_head(before, after), line_rows(before, after), step_rows(before.steps, after.steps))


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
        rows.append(replace(row, said=tuple(_line_differences(row))))
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
        rows.append(_with_pieces(replace(row, said=tuple(_step_differences(row)))))
    return tuple(rows)


def stage_label(key: str) -> str:
    """Return a stage in the trade's words; empty for none.

    Examples
    --------
    >>> stage_label("come_up"), stage_label("")
    ('come up', '')
    """
    return STAGE_KINDS[key].label if key in STAGE_KINDS else ""


def instead(code: str, before: _Held, after: _Held, **others: float | str) -> Remark:
    """Return that something has another value; the code ends in ``_new`` or ``_gone`` where it had, or has, none.

    Examples
    --------
    >>> instead("minutes", 9, Decimal(10)).code, instead("minutes", None, 10), instead("stage", "hold", "").code
    ('minutes', Remark(code='minutes_new', values={'after': 10.0}), 'stage_gone')
    """
    pairs = (("before", before), ("after", after))
    ends = {name: value if isinstance(value, str) else float(value) for name, value in pairs if value is not None and value != ""}
    ending = "" if len(ends) == 2 else "_new" if "after" in ends else "_gone"
    return remark(f"{code}{ending}", **ends, **others)


def _head(before: RecipeFacts, after: RecipeFacts) -> tuple[Remark, ...]:
    pairs = (("head_servings", before.servings, after.servings), ("head_serving_g", before.serving_g, after.serving_g))
    return tuple(instead(code, old, new) for code, old, new in pairs if old != new)


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


def _line_differences(row: LineRow) -> Iterator[Remark]:
    if row.before is None or row.after is None:
        yield remark("row_new" if row.before is None else "row_left_out")
        return
    said = list(_reading_differences(row.before, row.after))
    yield from said
    if not said and (row.rewritten or row.read_differently):
        yield remark("row_reworded" if row.rewritten else "row_read_differently")
    if row.moved_part:
        yield remark("row_moved_to_part", part=row.part_after) if row.part_after else remark("row_moved_to_head")
    elif row.moved:
        yield remark("row_moved")


def _reading_differences(before: LineFacts, after: LineFacts) -> Iterator[Remark]:
    old, new = _amount(before), _amount(after)
    if old != new:
        yield instead("row_amount", old, new, name=after.name or after.text)
    if before.name and after.name and ingredient(before.name) != ingredient(after.name):
        yield instead("row_words", before.name, after.name)
    if before.note != after.note:
        yield instead("row_words", before.note, after.note)
    if before.optional != after.optional:
        yield remark("row_optional_new" if after.optional else "row_optional_gone")
    if before.to_taste != after.to_taste:
        yield remark("row_to_taste_new" if after.to_taste else "row_to_taste_gone")
    if (before.rule, before.evaporated_ml) != (after.rule, after.evaporated_ml):
        yield remark("row_scaled_differently")


def _amount(line: LineFacts) -> str:
    """Return the amount of a line in the cook's own unit, with the size of one where it has one."""
    if line.low is None or line.high is None:
        return ""
    unit = label_of(line.unit, line.high) if line.unit in UNITS else line.unit
    return " ".join(filter(None, [format_range(line.low, line.high), unit, f"of {line.size}" if line.size else ""]))


def _step_differences(row: StepRow) -> Iterator[Remark]:
    if row.before is None or row.after is None:
        yield remark("row_new" if row.before is None else "row_left_out")
        return
    old, new = row.before, row.after
    if row.reworded:
        yield remark("row_reworded")
    was, stage = stage_label(old.stage), stage_label(new.stage)
    if was != stage:
        yield instead("row_stage", was, stage)
        stage = ""
    for code, before, after in (("row_minutes", old.minutes, new.minutes), ("row_temp", old.temp_c, new.temp_c)):
        if before != after:
            yield instead(code, before, after, stage=stage)
    if row.moved:
        yield remark("row_moved")


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
