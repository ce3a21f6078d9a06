"""How wide a label will be, and what a stage is called on a drawing."""

from __future__ import annotations

from energy.charts.shapes import Label
from energy.domain.facts import StageEnergy
from kitchen.domain.stages import STAGE_KINDS

_EM = 0.56
"""The width of an average letter of the bold humanist sans in parts of its size; a little generous, so that labels never meet."""

_LONGEST_NAME = 16


def stage_name(stage: StageEnergy) -> str:
    """Return the stage's own label where it is short, else its kind's."""
    kind = STAGE_KINDS[stage.kind].label if stage.kind in STAGE_KINDS else stage.kind
    return stage.label if 0 < len(stage.label) <= _LONGEST_NAME else kind


def text_width(text: str, font_size: float) -> float:
    """Return about how wide a text is, rather too wide than too narrow."""
    return len(text) * font_size * _EM


def span_of(label: Label, font_size: float) -> tuple[float, float]:
    """Return from where to where a label reaches.

    Examples
    --------
    >>> span_of(Label("hold", 100, 20, "middle"), 10)
    (88.8, 111.2)
    """
    width = text_width(label.text, font_size)
    left = label.x - {"start": 0.0, "middle": width / 2, "end": width}[label.anchor]
    return round(left, 2), round(left + width, 2)


def spelled(span_s: float) -> str:
    """Return a span in whole minutes, for a sentence.

    Examples
    --------
    >>> spelled(61), spelled(1680)
    ('1 minute', '28 minutes')
    """
    minutes = max(round(span_s / 60), 1)
    return "1 minute" if minutes == 1 else f"{minutes:,} minutes"


def grouped(energy_wh: float, step_wh: float = 1.0) -> str:
    """Return watt-hours rounded to a step, their thousands grouped.

    Examples
    --------
    >>> grouped(23820, 1000), grouped(236.4)
    ('24,000', '236')
    """
    return f"{round(energy_wh / step_wh) * step_wh:,.0f}"
