"""The stages that a log names: each from the first row that names it to the first row of the next."""

from __future__ import annotations

from collections.abc import Sequence

from energy.meters.files.columns.shape import UnreadableFile
from energy.runs.domain.samples import StageSpan
from kitchen.domain.stages import STAGE_KINDS


def stages_of(named: Sequence[tuple[float, int, str]], last_s: float) -> tuple[StageSpan, ...]:
    """Return the stages of a log; the last one lasts to the last row.

    Parameters
    ----------
    named : sequence of (float, int, str)
        Moment, row and text of each cell that names one. [s]
    last_s : float
        The last row's moment. [s]

    Raises
    ------
    UnreadableFile
        If a cell names no kind of stage.

    Examples
    --------
    >>> [(one.kind, one.label, one.end_s) for one in stages_of([(0, 2, "brown"), (600, 4, "Come up: to pressure")], 1260)]
    [('brown', '', 600), ('come_up', 'to pressure', 1260)]
    """
    starts: list[tuple[float, str, str]] = []
    for at_s, row, cell in sorted(named):
        stage = _stage(row, cell)
        if not starts or starts[-1][1:] != stage:
            starts.append((at_s, *stage))
    ends = [*(at_s for at_s, _, _ in starts[1:]), last_s]
    return tuple(
        StageSpan(kind, label, start_s, end_s, STAGE_KINDS[kind].attended)
        for (start_s, kind, label), end_s in zip(starts, ends, strict=False)
    )


def _stage(row: int, cell: str) -> tuple[str, str]:
    """Return the kind and the label of a stage."""
    word, _, label = cell.partition(":")
    key = "_".join(word.strip().lower().replace("-", " ").replace("_", " ").split())
    if key not in STAGE_KINDS:
        kinds = ", ".join(kind.label for kind in STAGE_KINDS.values())
        raise UnreadableFile(f"Row {row}: “{cell[:60]}” is not a kind of stage. Use one of {kinds}.")
    return key, label.strip()[:60]
