"""The band: its ink is the energy, it never leaves its place, and what is off is hollow."""

import re

import pytest

from kitchen.domain.band import Band, BandPart, draw_band, shelf_top_w


def blocks(path):
    """Return each block of a path as left, right, low and high."""
    found = re.findall(r"M([\d.e+]+) ([\d.e+]+)V([\d.e+-]+)H([\d.e+]+)V", path)
    return [(float(left), float(right), float(low), float(high)) for left, low, high, right in found]


def ink_wh(drawn, top_w):
    """What the ink stands for where the whole width is an hour. [Wh]"""
    return (
        sum((right - left) * (low - high) for left, right, low, high in blocks(drawn.solid)) * top_w / drawn.width / drawn.ground
    )


@pytest.mark.parametrize(
    "parts",
    [
        (BandPart(540, 644), BandPart(1020, 687), BandPart(480, 693, 0.159), BandPart(360, 0, 0)),
        (BandPart(1800, 1500),),
        (BandPart(60, 300, 0.5), BandPart(900, 200)),
    ],
)
def test_the_ink_is_the_energy(parts):
    top_w = shelf_top_w([Band("", "", parts)])
    drawn = draw_band(Band("", "", parts), top_w)
    energy_wh = sum(part.span_s * part.power_w * part.on for part in parts) / 3600
    assert ink_wh(drawn, top_w) == pytest.approx(energy_wh, rel=0.005)
    assert all(0 <= left < right <= drawn.width and high >= 0 for left, right, _, high in blocks(drawn.solid))


def test_a_longer_cook_is_drawn_closer_together_and_broken_never_cut_off():
    drawn = draw_band(Band("", "", (BandPart(3 * 3600, 168), BandPart(3600, 0, 0))))
    assert drawn.broken is not None
    assert max(right for _, right, _, _ in blocks(drawn.solid)) == pytest.approx(300, abs=2)
    assert drawn.hollow


def test_an_estimate_is_an_outline_and_its_doubt_alone_is_hatched():
    drawn = draw_band(Band("", "", (BandPart(1200, 700, 1.0, 0.25), BandPart(600, 700, 0.3, 0.2)), measured=False))
    assert (drawn.solid, bool(drawn.outline)) == ("", True)
    places = [(float(x), float(y)) for x, y in re.findall(r"[ML]([\d.]+) ([\d.]+)", drawn.doubt)]
    assert places
    assert all(99 <= x <= 133.4 and 12 <= y <= 40 for x, y in places)


def test_a_shelf_is_as_high_as_its_highest():
    assert shelf_top_w([Band("", "", (BandPart(60, 2200),)), None]) == 2500
    assert draw_band(Band("", "", ())).solid == ""
