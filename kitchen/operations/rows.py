"""Writing a draft's rows: parts, lines and steps in a constant number of queries."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterable, Sequence

from kitchen.domain.draft import DraftPart, DraftStep
from kitchen.domain.matching import FoodIndex
from kitchen.domain.reading import read_line
from kitchen.models import Food, Line, Part, Revision, Step
from kitchen.operations.page_marks import lasting
from kitchen.operations.put_by import put_by, taken_up
from kitchen.queries import known_foods, take_reading, the_site


def write_parts(revision: Revision, parts: Sequence[DraftPart]) -> None:
    """Put these parts in the place of the revision's; a line whose text is unchanged keeps its number and how it was read.

    A corrected line that goes is put by, and taken up again when its text comes back.
    """
    kept: defaultdict[str, deque[Line]] = defaultdict(deque)
    for line in Line.objects.filter(part__revision=revision).order_by("part__position", "position"):
        kept[line.text].append(line)
    revision.parts.all().delete()
    rows = Part.objects.bulk_create(Part(revision=revision, position=place, title=part.title) for place, part in enumerate(parts))
    held = revision.typed.get("put_by", [])
    back = taken_up((text for part in parts for text in part.lines), held)
    foods: FoodIndex[Food] | None = None
    home = ""
    lines = []
    for row, part in zip(rows, parts, strict=True):
        for place, text in enumerate(part.lines):
            if kept[text]:
                line = kept[text].popleft()
            elif text in back:
                line = back.pop(text)
            else:
                if foods is None:
                    foods, home = known_foods(), the_site().measures
                line = take_reading(Line(text=text), read_line(text, foods, home))
            line.part, line.position = row, place
            lines.append(line)
    Line.objects.bulk_create(lines)
    _put_by(revision, [line for gone in kept.values() for line in gone], {line.text for line in lines})


def _put_by(revision: Revision, gone: Sequence[Line], there: set[str]) -> None:
    held = revision.typed.get("put_by", [])
    kept = put_by(gone, [one for one in held if one["text"] not in there])
    if kept != held:
        typed = {name: value for name, value in lasting(revision.typed).items() if name != "put_by"}
        revision.typed = {**typed, "put_by": kept} if kept else typed
        revision.save(update_fields=["typed"])


def write_steps(revision: Revision, steps: Iterable[DraftStep]) -> None:
    """Put these steps in the place of the revision's."""
    revision.steps.all().delete()
    Step.objects.bulk_create(
        Step(
            revision=revision,
            position=place,
            text=step.text,
            stage=step.stage,
            minutes=step.minutes,
            temp_c=step.temp_c,
            photo_id=step.photo,
        )
        for place, step in enumerate(steps)
    )


def copy_rows(source: Revision, target: Revision) -> None:
    """Copy parts, lines and steps, with how each line was read."""
    parts = list(source.parts.prefetch_related("lines"))
    lines = [list(part.lines.all()) for part in parts]
    steps = list(source.steps.all())
    for part in parts:
        part.pk, part.revision = None, target
        part._state.adding = True
    Part.objects.bulk_create(parts)
    for part, of_part in zip(parts, lines, strict=True):
        for line in of_part:
            line.pk, line.part = None, part
            line._state.adding = True
    Line.objects.bulk_create(line for of_part in lines for line in of_part)
    for step in steps:
        step.pk, step.revision = None, target
        step._state.adding = True
    Step.objects.bulk_create(steps)
