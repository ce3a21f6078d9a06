"""The numbers of the page that explains how figures are made, each worked out by the very functions that make the figures."""

from __future__ import annotations

from dataclasses import dataclass

from energy.estimates.domain.circumstances import pressure_minutes
from energy.estimates.domain.repeats import average
from energy.gear.domain.recovery import panel_wh_per_day
from energy.gear.domain.sources import draw_from_battery_wh
from energy.heat.heating import FoodMass, needed_heat_wh, steam_heat_wh
from energy.heat.specific_heat import Composition, mean_specific_heat_kj
from energy.heat.water import boiling_point_c
from energy.runs.domain.uncertainty import accuracy_wh, display_wh, expanded, together

_HEIGHTS_M = (0, 1000, 2000, 3000)


@dataclass(frozen=True)
class MethodNumbers:
    """Whole words for the page; the units stand beside them there."""

    display_u: str
    litre_wh: str
    steam_wh: str
    heights: tuple[tuple[str, str, str], ...]
    repeats_mean: str
    repeats_half: str
    repeats_next: str
    battery_wh: str
    panel_wh: str


def method_numbers() -> MethodNumbers:
    """Return the page's numbers.

    Examples
    --------
    >>> numbers = method_numbers()
    >>> numbers.display_u, numbers.litre_wh, numbers.steam_wh, numbers.battery_wh, numbers.panel_wh
    ('8.5', '93', '63', '273', '675')
    >>> numbers.heights[2]
    ('2,000', '93', '+23')
    >>> numbers.repeats_mean, numbers.repeats_half, numbers.repeats_next
    ('205', '9', '23')
    """
    water_kj = mean_specific_heat_kj(Composition(100), 20, 99.97)
    repeats = average([206, 198, 211, 203, 207], 2.0)
    drawn_wh = draw_from_battery_wh(700 / 3, 40 * 60, inverter_efficiency=0.88, idle_w=12)
    return MethodNumbers(
        display_u=f"{expanded(together(display_wh(10), accuracy_wh(1, 210))):.1f}",
        litre_wh=f"{needed_heat_wh([FoodMass(1000, water_kj, 20)], 99.97):.0f}",
        steam_wh=f"{steam_heat_wh(100, 99.97):.0f}",
        heights=tuple((f"{m:,}", f"{boiling_point_c(m):.0f}", f"+{100 * (pressure_minutes(m) - 1):.0f}") for m in _HEIGHTS_M),
        repeats_mean=f"{repeats.mean:.0f}",
        repeats_half=f"{repeats.half_interval:.0f}",
        repeats_next=f"{repeats.half_next:.0f}",
        battery_wh=f"{drawn_wh:.0f}",
        panel_wh=f"{panel_wh_per_day(200, 4.5):.0f}",
    )
