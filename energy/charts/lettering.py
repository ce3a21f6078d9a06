"""How wide a label will be."""

from __future__ import annotations

from energy.charts.shapes import Label

_EM = 0.56
"""The width of an average letter of the bold humanist sans in parts of its size; a little generous, so that labels never meet."""


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
