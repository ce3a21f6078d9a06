"""What changed between two revisions of a recipe."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

from kitchen.domain.allergens import BY_KEY
from kitchen.domain.compare import LineRow, instead, line_rows, stage_label, step_rows
from kitchen.domain.facts import LineFacts, RecipeFacts, StepFacts
from kitchen.domain.remark import Remark, remark


def what_changed(before: RecipeFacts, after: RecipeFacts) -> tuple[Remark, ...]:
    """Return each difference that a cook would notice; nothing where the two say the same.

    Parameters
    ----------
    before, after : RecipeFacts
        Two revisions (or two editions) of one recipe, the older first.

    Returns
    -------
    tuple of Remark
        About the recipe's words, its servings, its ingredient lines, its steps, its sides and its allergens, in this order.

    Notes
    -----
    Lines and steps are paired as in ``kitchen.domain.compare``, which shows the same two revisions beside each other.

    Examples
    --------
    >>> from dataclasses import replace
    >>> old = RecipeFacts("soup", "Soup", "", servings=4, revision=1)
    >>> what_changed(old, replace(old, servings=6, revision=2))
    (Remark(code='serves_instead', values={'before': 4.0, 'after': 6.0}),)
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


class PrintedFigure(Protocol):
    """A large figure at the head of a page."""

    @property
    def key(self) -> str: ...
    @property
    def value(self) -> str: ...
    @property
    def unit(self) -> str: ...
    @property
    def words(self) -> str: ...
    @property
    def standing(self) -> str: ...


def figures_moved(before: Iterable[PrintedFigure], after: Iterable[PrintedFigure]) -> tuple[Remark, ...]:
    """Return which of the large figures read otherwise than before, and which are new or gone."""
    old, new = ({one.key: _figure_words(one) for one in figures} for figures in (before, after))
    moved = [remark("figure_instead", before=old[key], after=words) for key, words in new.items() if old.get(key, words) != words]
    moved += [remark("figure_new", figure=words) for key, words in new.items() if key not in old]
    return (*moved, *(remark("figure_gone", figure=words) for key, words in old.items() if key not in new))


def estimated_otherwise(published: Iterable[PrintedFigure], now: Iterable[PrintedFigure]) -> tuple[str, ...]:
    """Return the estimates as they were published of which another one is made now."""
    made = {one.key: _figure_words(one) for one in now}
    old = {one.key: _figure_words(one) for one in published if one.standing == "estimated"}
    return tuple(words for key, words in old.items() if made.get(key, words) != words)


def _figure_words(one: PrintedFigure) -> str:
    figure = f"{one.value} {one.unit}".strip()
    return f"{figure}{', ' if one.words[:1].isdigit() else ' '}{one.words}".strip()


def _words_changes(before: RecipeFacts, after: RecipeFacts) -> list[Remark]:
    said = []
    if before.title != after.title:
        said.append(remark("title_instead", before=before.title, after=after.title))
    if before.summary != after.summary:
        said.append(remark("summary_rewritten"))
    if before.tags != after.tags:
        said.append(remark("tags_now", tags=", ".join(after.tags)) if after.tags else remark("tags_gone"))
    if before.photo != after.photo:
        said.append(remark("head_photo_other" if after.photo else "head_photo_gone"))
    return said


def _serving_changes(before: RecipeFacts, after: RecipeFacts) -> list[Remark]:
    said = []
    if before.servings != after.servings:
        said.append(remark("serves_instead", before=before.servings, after=after.servings))
    if before.serving_g != after.serving_g:
        said.append(instead("serving_weighs_instead", before.serving_g, after.serving_g))
    return said


def _line_changes(before: RecipeFacts, after: RecipeFacts) -> list[Remark]:
    rows = line_rows(before, after)
    said = [remark("line_became", before=_text_of(row.before), after=_text_of(row.after)) for row in rows if row.rewritten]
    said += [remark("line_new", line=_text_of(row.after)) for row in rows if row.before is None]
    said += [remark("line_left_out", line=_text_of(row.before)) for row in rows if row.after is None]
    said += [remark("line_read_differently", line=_text_of(row.after)) for row in rows if row.read_differently]
    return said + _part_changes(before, after) + _order_changes(rows)


def _text_of(line: LineFacts | None) -> str:
    return "" if line is None else line.text


def _part_changes(before: RecipeFacts, after: RecipeFacts) -> list[Remark]:
    old, new = ([part.title for part in facts.parts if part.title] for facts in (before, after))
    said = [remark("part_new", part=title) for title in new if title not in old]
    return said + [remark("part_gone", part=title) for title in old if title not in new]


def _order_changes(rows: tuple[LineRow, ...]) -> list[Remark]:
    said = [
        remark("line_moved_to_part", line=_text_of(row.after), part=row.part_after)
        if row.part_after
        else remark("line_moved_to_head", line=_text_of(row.after))
        for row in rows
        if row.moved_part
    ]
    return said + [remark("lines_in_other_order")] * any(row.moved and not row.moved_part for row in rows)


def _allergen_changes(before: RecipeFacts, after: RecipeFacts) -> list[Remark]:
    if not before.allergens_told or not after.allergens_told:
        return []
    said = []
    for where, one, other in (("on", after, before), ("off", before, after)):
        names = [BY_KEY[key].words for key in one.allergens if key not in other.allergens and key in BY_KEY]
        if names:
            said.append(remark(f"{'allergen' if len(names) == 1 else 'allergens'}_{where}", names=", ".join(names)))
    return said


def _step_changes(old: tuple[StepFacts, ...], new: tuple[StepFacts, ...]) -> list[Remark]:
    rows = step_rows(old, new)
    said: list[Remark] = []
    for row in rows:
        number = row.number_after or 0
        if row.before is None and row.after is not None:
            said.append(remark("step_new", number=number, step=row.after.text))
        elif row.before is not None and row.after is not None:
            said += [remark("step_reworded", number=number)] if row.reworded else []
            said += _mark_changes(row.before, row.after, number)
            said += [remark("step_was", number=number, before=row.number_before or 0)] if row.moved else []
    gone = [row for row in rows if row.after is None]
    return said + [remark("step_left_out", number=row.number_before or 0, step=row.before.text) for row in gone if row.before]


def _mark_changes(old: StepFacts, new: StepFacts, number: int) -> list[Remark]:
    stages = [stage_label(step.stage) for step in (old, new)]
    pairs = (("step_stage", *stages), ("step_minutes", old.minutes, new.minutes), ("step_temp", old.temp_c, new.temp_c))
    return [instead(code, before, after, number=number) for code, before, after in pairs if before != after]


def _side_changes(before: RecipeFacts, after: RecipeFacts) -> list[Remark]:
    old = {side.slug: side for side in before.sides}
    new = {side.slug: side for side in after.sides}
    said = [remark("side_new", title=side.title) for slug, side in new.items() if slug not in old]
    said += [remark("side_gone", title=side.title) for slug, side in old.items() if slug not in new]
    changed = [side for slug, side in new.items() if slug in old and old[slug].portions != side.portions]
    return said + [remark("side_portions", portions=float(side.portions), title=side.title) for side in changed]
