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
_TOOTH_S = 90.0
_GAP_S = 16.0
_BREAK_S = 50.0
_BREAK_AT = 0.93
_SLANT_S, _BETWEEN_S = 160.0, 55.0
_RIM = 0.075
"""The line beneath, as a share of the height above it."""


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

    ``broken`` is where a band is interrupted that is longer than its width stands for; None where it fits.
    """

    width: float
    height: float
    ground: float
    solid: str
    outline: str
    doubt: str
    hollow: str
    broken: tuple[float, float] | None = None

    @property
    def rim(self) -> float:
        """How high the line beneath is."""
        return round(self.height - self.ground, 1)


def shelf_top_w(bands: Iterable[Band | None]) -> float:
    """Return what the height of all bands of a shelf stands for: a round figure that the highest of them does not pass. [W]

    Examples
    --------
    >>> shelf_top_w([None]), shelf_top_w([Band("", "", (BandPart(60, 1001),))])
    (1000.0, 1500.0)
    """
    highest = max((part.power_w for band in bands if band for part in band.parts), default=0.0)
    return max(SHELF_W, ceil(highest / _STEP_W) * _STEP_W)


def draw_band(band: Band, top_w: float = SHELF_W, whole_s: float = HOUR_S) -> DrawnBand:
    """Return a band as wide as ``whole_s`` and as tall as ``top_w``; a longer one is drawn closer together and broken once.

    Examples
    --------
    >>> drawn = draw_band(Band("", "", (BandPart(1200, 500), BandPart(600, 0, 0))))
    >>> drawn.solid, drawn.hollow, drawn.broken
    ('M0 1000V500H1192V1000z', 'M1200 1025H1792V1050H1200z', None)
    """
    total_s = sum(part.span_s for part in band.parts)
    scale = min(1.0, whole_s / total_s) if total_s else 1.0
    solid, outline, doubt, hollow = [], [], [], []
    start = 0.0
    for part in band.parts:
        end = start + part.span_s * scale
        left, right = start, max(end - _gap(band.parts, part), start + (end - start) / 2)
        if part.on <= 0 or part.power_w <= 0:
            hollow.append((left, right))
        elif band.measured:
            solid += [_block(*tooth, part.power_w, top_w) for tooth in _teeth(left, right, part)]
        else:
            outline += [_block(*tooth, part.power_w, top_w) for tooth in _teeth(left, right, part)]
            if part.doubt > 0 and part.on >= 1:
                doubt.append(_hatched(right - (right - left) * min(part.doubt, 1.0), right, part.power_w, top_w))
        start = end
    broken = (round(whole_s * _BREAK_AT), round(whole_s * _BREAK_AT + _BREAK_S)) if scale < 1 else None
    return DrawnBand(
        width=round(whole_s),
        height=round(top_w * (1 + _RIM)),
        ground=round(top_w),
        solid="".join(solid),
        outline="".join(outline),
        doubt="".join(doubt),
        hollow="".join(_hollow(left, right, top_w) for left, right in hollow),
        broken=broken,
    )


def _gap(parts: Sequence[BandPart], part: BandPart) -> float:
    return 0.0 if part is parts[-1] and part.on > 0 else _GAP_S / 2


def _teeth(left: float, right: float, part: BandPart) -> list[tuple[float, float]]:
    """Return where a stage is inked: one block, or teeth for the share of the time for which its element is on."""
    if part.on >= 1:
        return [(left, right)]
    many = max(1, round(part.span_s / _TOOTH_S))
    pitch = (right - left) / many
    return [(left + pitch * place, left + pitch * (place + part.on)) for place in range(many)]


def _block(left: float, right: float, power_w: float, top_w: float) -> str:
    return f"M{left:.5g} {top_w:.5g}V{top_w - power_w:.5g}H{right:.5g}V{top_w:.5g}z"


def _hatched(left: float, right: float, power_w: float, top_w: float) -> str:
    """Return slanting strokes that fill a block and do not leave it."""
    strokes, start = [], left - _SLANT_S + _BETWEEN_S / 2
    while start < right:
        begin, end = max(start, left), min(start + _SLANT_S, right)
        low, high = ((place - start) / _SLANT_S * power_w for place in (begin, end))
        strokes.append(f"M{begin:.5g} {top_w - low:.5g}L{end:.5g} {top_w - high:.5g}")
        start += _BETWEEN_S
    return "".join(strokes)


def _hollow(left: float, right: float, top_w: float) -> str:
    high, low = top_w * (1 + _RIM / 3), top_w * (1 + _RIM * 2 / 3)
    return f"M{left:.5g} {high:.5g}H{right:.5g}V{low:.5g}H{left:.5g}z"
