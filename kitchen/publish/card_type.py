"""How large type is on a card beside its body's, and how high its lines are.

``static/css/paper.css`` sets by the same figures: what is changed there is changed here. Ems are of the face's own type.
"""

from __future__ import annotations

LEAST_PT = 8.0
BODY, SMALL, CAPTION = 1.25, 1.22, 1.18
"""Heights of a line, as parts of its type."""

SMALL_EM, CAUTION_EM, FOR_EM = 0.88, 0.96, 0.94
TITLE_EM, LONG_TITLE_EM, STAGE_EM = 1.85, 1.4, 1.75
FIGURES_EM = ((2.7, 1.55), (2.2, 1.55), (1.9, 1.55), (1.55, 1.55), (1.3, 1.3), (1.1, 1.1), (0.9, 0.9))
"""How large the leading figure and the others may be, the largest first."""


def small_pt(type_pt: float, em: float = SMALL_EM) -> float:
    """Return the size of smaller type beside type of a size, never under eight points. [pt]"""
    return max(LEAST_PT, em * type_pt)


def type_style(type_pt: float) -> str:
    """Return the rules for a face in type of a size: that of its own, and of what is set smaller or larger there."""
    name = type_class(type_pt)
    sizes = {"small": small_pt(type_pt), "caution": small_pt(type_pt, CAUTION_EM), "for": small_pt(type_pt, FOR_EM)}
    sizes["figure"] = FIGURES_EM[0][1] * type_pt
    smaller = "".join(f".{name} .size-{key}{{font-size:{size:.2f}pt}}" for key, size in sizes.items())
    head = f".{name} .when{{line-height:{STAGE_EM * type_pt:.2f}pt}}"
    return f".{name}{{font-size:{type_pt}pt}}{smaller}{head}"


def type_class(type_pt: float) -> str:
    """Return the name of a type's size."""
    return f"t{10 * type_pt:.0f}"
