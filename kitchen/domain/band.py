"""The band beneath a picture: what a cook draws over its time. Wide is minutes, tall is watts, so the ink is the energy. Pure.

An element that is on all the time is a block as tall as its mean; one that ticks is teeth as tall as its peak, inked for its
share of the time; where nothing is drawn the line beneath is hollow. Measured is solid; estimated is an outline, and of it the
doubt alone is hatched.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil

HOUR_S = 3600.0
SHELF_W = 1000.0
_STEP_W = 500.0
_TOOTH, _LEAST_TOOTH, _GAP, _GAPS = 10.0, 1.2, 2.0, 60.0
"""How far apart teeth stand and how wide one is at least, how wide a gap between stages is, and all gaps at most. [view box]"""

_BREAK, _BREAK_AT = 6.0, 0.93
_SLANT, _BETWEEN = 0.6, 6.0
"""How far a stroke of the hatching leans for its height, and how far apart strokes are."""

_RIM = 4.0
"""How high the line beneath is."""


@dataclass(frozen=True)
class BandPart:
    """One stage: how long it takes, how much it draws while it draws, and for which share of the time; 0 where it is off.

    ``doubt`` is the share of an estimated stage that may be less or more.
    """

    span_s: float
    power_w: float = 0.0
    on: float = 1.0
    doubt: float = 0.0


@dataclass(frozen=True)
class Band:
    """A cook's stages in their order; ``title`` states the result in a sentence, ``whole`` the energy in few words."""

    title: str
    whole: str
    parts: tuple[BandPart, ...] = ()
    measured: bool = True


@dataclass(frozen=True)
class DrawnBand:
    """A band in the units of a view box: paths of what is solid, outlined and hatched, and of the line beneath.

    ``spots`` are where each stage begins, ends and how high up its ink reaches (left, right, top). ``broken`` is where a band is
    interrupted that is longer than its width stands for; None where it fits.
    """

    width: float
    ground: float
    solid: str
    outline: str
    doubt: str
    hollow: str
    spots: tuple[tuple[float, float, float], ...]
    broken: tuple[float, float] | None = None
    rim: float = _RIM

    @property
    def height(self) -> float:
        """How high it is with the line beneath."""
        return self.ground + self.rim


def shelf_top_w(bands: Iterable[Band | None]) -> float:
    """Return what the height of all bands of a shelf stands for: a round figure that the highest of them does not pass. [W]

    Examples
    --------
    >>> shelf_top_w([None]), shelf_top_w([Band("", "", (BandPart(60, 1001),))])
    (1000.0, 1500.0)
    """
    highest = max((part.power_w for band in bands if band for part in band.parts), default=0.0)
    return max(SHELF_W, ceil(highest / _STEP_W) * _STEP_W)


def draw_band(
    band: Band, top_w: float = SHELF_W, whole_s: float = HOUR_S, *, width: float = 400.0, ground: float = 40.0
) -> DrawnBand:
    """Return a band as wide as ``whole_s`` and as tall as ``top_w``; a longer one is drawn closer together and broken once.

    Gaps between stages are added, so that ink is energy to the last part.

    Examples
    --------
    >>> drawn = draw_band(Band("", "", (BandPart(1800, 500), BandPart(600, 0, 0))))
    >>> drawn.solid, drawn.hollow, drawn.broken
    ('M0 40V20H200V40z', 'M202 41H268.67V43H202z', None)
    """
    spots = _spots(band.parts, top_w, whole_s, width, ground)
    solid: list[str] = []
    outline: list[str] = []
    doubt, hollow = [], []
    for part, (left, right, top) in zip(band.parts, spots, strict=True):
        if part.on <= 0 or part.power_w <= 0:
            hollow.append(_hollow(left, right, ground))
            continue
        (solid if band.measured else outline).extend(_block(*tooth, top, ground) for tooth in _teeth(left, right, part.on))
        if not band.measured and part.doubt > 0 and part.on >= 1:
            doubt.append(_hatched(right - (right - left) * min(part.doubt, 1.0), right, top, ground))
    broken = (round(width * _BREAK_AT), round(width * _BREAK_AT + _BREAK)) if _longer(band.parts, whole_s) else None
    return DrawnBand(width, ground, "".join(solid), "".join(outline), "".join(doubt), "".join(hollow), tuple(spots), broken)


def _longer(parts: Sequence[BandPart], whole_s: float) -> bool:
    return sum(part.span_s for part in parts) > whole_s * (1 + 1e-9)


def _spots(
    parts: Sequence[BandPart], top_w: float, whole_s: float, width: float, ground: float
) -> list[tuple[float, float, float]]:
    """Return left, right and top of each stage: all on one scale, with a gap between two."""
    gap = min(_GAP, _GAPS / len(parts)) if parts else 0.0
    total_s, gaps = sum(part.span_s for part in parts), gap * max(len(parts) - 1, 0)
    scale = min(width / whole_s, (width - gaps) / total_s) if total_s else 0.0
    spots, left = [], 0.0
    for part in parts:
        right = left + part.span_s * scale
        spots.append((left, right, ground - ground * part.power_w / top_w))
        left = right + gap
    return spots


def _teeth(left: float, right: float, on: float) -> list[tuple[float, float]]:
    """Return where a stage is inked: one block, or teeth for the share of the time for which its element is on."""
    if on >= 1:
        return [(left, right)]
    width = right - left
    many = max(1, min(round(width / _TOOTH), int(width * on / _LEAST_TOOTH)))
    pitch = width / many
    return [(left + pitch * place, left + pitch * (place + on)) for place in range(many)]


def _block(left: float, right: float, top: float, ground: float) -> str:
    return f"M{left:.5g} {ground:.5g}V{top:.5g}H{right:.5g}V{ground:.5g}z"


def _hatched(left: float, right: float, top: float, ground: float) -> str:
    """Return slanting strokes that fill a block and do not leave it."""
    slant = max(_SLANT * (ground - top), 1.0)
    strokes, start = [], left - slant + _BETWEEN / 2
    while start < right:
        begin, end = max(start, left), min(start + slant, right)
        low, high = (ground - (place - start) / slant * (ground - top) for place in (begin, end))
        strokes.append(f"M{begin:.5g} {low:.5g}L{end:.5g} {high:.5g}")
        start += _BETWEEN
    return "".join(strokes)


def _hollow(left: float, right: float, ground: float) -> str:
    return f"M{left:.5g} {ground + _RIM / 4:.5g}H{right:.5g}V{ground + _RIM * 3 / 4:.5g}H{left:.5g}z"
