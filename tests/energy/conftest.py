"""One small measured kitchen: a recipe of the owner's, gear, and the well-known cook of 213 Wh."""

from __future__ import annotations

from datetime import timedelta

import pytest

from energy.models import Appliance, Meter, PowerSource
from energy.runs.domain.samples import Sample
from energy.runs.operations.recording import record_run
from energy.runs.operations.typed import RunDetails, StageStart, TypedRows
from kitchen.models import Part, Recipe, Revision, Step

# Minutes and counter readings of a cook that ends at 213 Wh; browning until minute 10 (common practice).
COUNTER = ((0, 0), (5, 56), (10, 105), (12, 118), (21, 213), (26, 213), (31, 213))
STAGES = ((0, "brown"), (10, "come_up"), (21, "release"))


@pytest.fixture
def appliance(db) -> Appliance:
    return Appliance.objects.create(name="Big pot", kind="pressure_cooker", rated_w=700, capacity_l=4)


@pytest.fixture
def source(db) -> PowerSource:
    return PowerSource.objects.create(
        name="Van battery", kind="battery_station", capacity_wh=768, continuous_w=800, inverter_efficiency=0.9, idle_w=8
    )


@pytest.fixture
def meter(db) -> Meter:
    return Meter.objects.create(name="Plug meter", resolution_wh=1, accuracy_pct=1)


@pytest.fixture
def revision(owner, noon) -> Revision:
    recipe = Recipe.objects.create(slug="lentil-pot", title="Lentil pot", owner=owner, created_at=noon, updated_at=noon)
    revision = Revision.objects.create(recipe=recipe, number=1, servings=4, created_at=noon)
    part = Part.objects.create(revision=revision, position=0)
    part.lines.create(position=0, text="300 g lentils")
    for place, (text, stage, minutes) in enumerate(
        (("Brown.", "brown", 10), ("Bring up.", "come_up", 11), ("Leave it.", "release", 10))
    ):
        Step.objects.create(revision=revision, position=place, text=text, stage=stage, minutes=minutes)
    return revision


@pytest.fixture
def details(revision, appliance, source, meter, noon) -> RunDetails:
    return RunDetails(revision, appliance, source, meter, started_at=noon, servings=4)


@pytest.fixture
def record(details, owner, noon):
    """Record a cook from (minute, Wh) pairs; ``later`` moves it by days."""

    def make(counter=COUNTER, stages=STAGES, *, later=0, running=False, **more):
        moved = RunDetails(**{**vars(details), "started_at": noon + timedelta(days=later), **more})
        return record_run(
            details=moved,
            rows=TypedRows(
                [Sample(minute * 60, wh) for minute, wh in counter], [StageStart(minute * 60, kind) for minute, kind in stages]
            ),
            operator=owner,
            running=running,
            at=noon,
        )

    return make


@pytest.fixture
def run(record):
    return record()


@pytest.fixture
def flagged_run(record):
    """A run whose counter falls."""
    return record(((0, 0), (5, 56), (10, 105), (12, 4), (21, 99), (31, 99)))
