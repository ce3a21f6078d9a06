"""Facts that several tests of the energy domain start from."""

import datetime
from decimal import Decimal

from energy.estimates.domain.combine import MeasuredRun
from energy.facts import ApplianceFacts, EnergyFacts, MeterFacts, SourceFacts, StageEnergy, TariffFacts
from energy.runs.domain.metering import MeterSpec, Sample, StageSpan, summarise

POT = ApplianceFacts("the pot", "pressure_cooker", 1000)
STATION = SourceFacts(
    "the ridge station",
    "battery_station",
    capacity_wh=1024,
    continuous_w=1000,
    surge_w=2000,
    inverter_efficiency=0.88,
    idle_w=9,
    charge_efficiency=0.9,
    reserve_pct=10,
)
HOOK_UP = SourceFacts("the post", "hook_up", volts=230, amps=6)
PLUG = MeterFacts("plug meter", "socket", 1, 2)
TARIFF = TariffFacts("grid", "EUR", Decimal("0.31"))


def stage(kind, energy_wh, minutes, *, attended=False, cycling=False):
    span_s = minutes * 60.0
    return StageEnergy(kind, "", energy_wh, span_s, energy_wh * 3600 / span_s, None, 3.0, attended, cycling)


def facts(**changes):
    """Six servings: brown 98 Wh in 9 min, come up 124 Wh in 11 min, hold 14 Wh in 8 min, release and rest 10 min."""
    given = {
        "servings": 6,
        "energy_wh": 236.0,
        "uncertainty_wh": 7.0,
        "next_low_wh": 222.0,
        "next_high_wh": 250.0,
        "peak_w": 690.0,
        "cooking_s": 28 * 60.0,
        "attended_s": 9 * 60.0,
        "total_s": 38 * 60.0,
        "stages": (
            stage("brown", 98, 9, attended=True),
            stage("come_up", 124, 11),
            stage("hold", 14, 8, cycling=True),
            stage("rest", 0, 10),
        ),
        "ladder": ((0, 0), (540, 98), (1200, 222), (1680, 236), (2280, 236)),
        "runs": (),
        "appliance": POT,
        "source": STATION,
        "meter": PLUG,
        "tariff": TARIFF,
    }
    return EnergyFacts(**{**given, **changes})


def measured_run(
    brown_wh, total_wh, *, day=1, servings=6, counts=True, appliance=POT, source=STATION, place="socket", brown_min=10, flat=False
):
    """A run read at its marks: browning, then coming up to minute 21, then ten minutes' rest."""
    readings = [(0, 0), (brown_min, brown_wh), (21, total_wh), (31, total_wh)]
    stages = (
        []
        if flat
        else [
            StageSpan("brown", "", 0, brown_min * 60, attended=True),
            StageSpan("come_up", "", brown_min * 60, 1260),
            StageSpan("rest", "", 1260, 1860),
        ]
    )
    summary = summarise([Sample(60 * minute, wh) for minute, wh in readings], stages, MeterSpec(1, 2, place))
    moment = datetime.datetime(2026, 10, day, 18, 0, tzinfo=datetime.UTC)
    return MeasuredRun(summary, moment, servings, counts, appliance, source, PLUG)
