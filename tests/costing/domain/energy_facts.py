"""Energy facts of a measured cook, for the tests."""

from __future__ import annotations

from datetime import UTC, datetime
from decimal import Decimal

from energy.facts import ApplianceFacts, EnergyFacts, MeterFacts, RunFacts, SourceFacts, StageEnergy, TariffFacts

MEADOW = TariffFacts("Club meadow", "EUR", Decimal("0.30"))


def energy_facts(*, servings=4, energy_wh=200.0, tariff=MEADOW, charge_efficiency=0.8):
    """One run of 200 Wh over 20 minutes, from a station whose inverter is perfect and whose charging is not."""
    run = RunFacts(
        datetime(2026, 10, 2, 18, tzinfo=UTC), energy_wh, 2.0, 700.0, 1200.0, True, "counter", "pot", "station", "plug"
    )
    stage = StageEnergy("come_up", "come up", energy_wh, 1200.0, 600.0, 700.0, 2.0, False)
    return EnergyFacts(
        servings=servings,
        energy_wh=energy_wh,
        uncertainty_wh=2.0,
        next_low_wh=190.0,
        next_high_wh=210.0,
        peak_w=700.0,
        cooking_s=1200.0,
        attended_s=0.0,
        total_s=1200.0,
        stages=(stage,),
        ladder=((0.0, 0.0), (1200.0, energy_wh)),
        runs=(run,),
        appliance=ApplianceFacts("pot", "pressure_cooker", 700.0),
        source=SourceFacts("station", "battery_station", capacity_wh=1024.0, charge_efficiency=charge_efficiency),
        meter=MeterFacts("plug", "socket", 1.0, 2.0),
        tariff=tariff,
    )
