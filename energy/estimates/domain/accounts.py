"""Where the energy of another cook goes at each end: into food and vessel, to the air, away as steam, or nowhere near."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from energy.estimates.domain.foretelling import Foretold, OtherCook
from energy.estimates.domain.three_ends import End, MeanCook
from energy.heat.climbing import LATENT_J_PER_KG, STEAMS_BELOW_BOIL_C, Way, climb_s


@dataclass(frozen=True)
class HeatAccount:
    """One end, up to its temperature and holding it. [-, -, Wh]

    ``number`` is its place among all ends. (``taken_wh`` + ``lost_wh`` + ``steamed_wh``) / ``reaches`` = ``heating_wh``.
    """

    number: int
    reaches: float
    taken_wh: float
    lost_wh: float
    steamed_wh: float
    heating_wh: float
    holding_wh: float


def accounts(cook: MeanCook, other: OtherCook, ends: Sequence[Foretold]) -> tuple[HeatAccount, ...]:
    """Return the account of each end that gets there; two ends that are one have one.

    Parameters
    ----------
    cook : MeanCook
    other : OtherCook
    ends : sequence of Foretold
        What each end of the measured cook says of the other one.

    Examples
    --------
    >>> from energy.estimates.domain.foretelling import foretold
    >>> pot = MeanCook(11700, 900, 15, 20, 100, 100, 372, 900, 110, 1800, 0.74, 0.92, held=True)
    >>> half = OtherCook(11700, 900, 15, 20, 100, 100, 276.3, power_share=0.5)
    >>> for one in accounts(pot, half, foretold([pot], half)):
    ...     print([round(wh, 1) for wh in (one.taken_wh, one.lost_wh, one.steamed_wh, one.heating_wh)], round(one.reaches, 4))
    [297.5, 0.0, 0.0, 372.0] 0.7997
    [297.5, 56.7, 0.0, 408.8] 0.8664
    """
    pairs, power_w = list(zip(cook.ends, ends, strict=True)), cook.power_w * other.power_share
    return tuple(
        _account(number, end, told, other.way, power_w)
        for number, (end, told) in enumerate(pairs)
        if math.isfinite(told.heat_s) and end not in cook.ends[:number]
    )


def _account(number: int, end: End, told: Foretold, way: Way, power_w: float) -> HeatAccount:
    steamed_wh = end.steam_kg_per_s * LATENT_J_PER_KG * _steaming_s(end, way, power_w) / 3600
    taken_wh = way.lossless_j / 3600
    lost_wh = end.reaches * told.heat_wh - taken_wh - steamed_wh
    return HeatAccount(number, end.reaches, taken_wh, lost_wh, steamed_wh, told.heat_wh, told.hold_wh)


def _steaming_s(end: End, way: Way, power_w: float) -> float:
    """Return how long it steams on its way. [s]"""
    if end.steam_kg_per_s <= 0 or not way.steams or way.start_c >= way.boil_c:
        return 0.0
    top, warm = replace(way, end_c=min(way.end_c, way.boil_c)), replace(way, end_c=way.boil_c - STEAMS_BELOW_BOIL_C)
    until_s, before_s = (climb_s(one, end.reaches * power_w, end.loss_w_per_k, end.steam_kg_per_s) for one in (top, warm))
    return until_s - before_s
