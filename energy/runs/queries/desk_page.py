"""The run desk as a page and a phone need it: the stages by the method, every press that stands, what was shown last."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from energy.heat.empty_fields import AIR, TAP
from energy.kinds import APPLIANCE_KINDS, SOURCE_KINDS, source_kind
from energy.models import Appliance, DeviceToken, Meter, PowerSource, Run
from energy.runs.domain.desk import Press
from energy.runs.domain.samples import FIGURE_UNITS, figure_words
from energy.runs.queries.desk_presses import DeskPresses, press_json, rfc3339
from energy.runs.queries.recording import first_words, newest_revision
from energy.words import ENGLISH, sentence
from kitchen.domain.stages import STAGE_KINDS, STAGE_OFFERS
from kitchen.models import Recipe, Revision, Step
from kitchen.queries import the_site

_MOST_CHARACTERS = 170
_OFFERED = dict(STAGE_OFFERS)


def desk_stages(revision: Revision) -> list[dict[str, Any]]:
    """Return the stages of a revision's method with their words and minutes, as a phone keeps them. One query."""
    stages = []
    for kind, steps in _in_stages(revision.steps.order_by("position")):
        spans = [float(step.minutes) for step in steps if step.minutes is not None]
        words = [step.text for step in steps]
        stages.append({"kind": kind, "label": _OFFERED[kind], "minutes": sum(spans) or None, "steps": words})
    return stages


def _in_stages(steps: Iterable[Step]) -> list[tuple[str, list[Step]]]:
    """Return steps by their stages; one without a stage stands with the stage before it, the first ones with the first stage."""
    found: list[tuple[str, list[Step]]] = []
    waiting: list[Step] = []
    for step in steps:
        if step.stage and (not found or found[-1][0] != step.stage):
            found.append((step.stage, waiting))
            waiting = []
        (found[-1][1] if found else waiting).append(step)
    return found


def desk_state(run: Run, presses: DeskPresses, cook: str, now: datetime) -> dict[str, Any]:
    """Return a run as its desk keeps it on the phone: plain JSON. Two queries."""
    return {
        "run": str(run.pk),
        "uuid": str(run.once) if run.once else None,
        "cook": cook,
        "recipe": {"title": run.revision.recipe.title, "slug": run.revision.recipe.slug},
        "servings": run.servings,
        "started_at": rfc3339(run.started_at),
        "ended_at": rfc3339(run.typed_end),
        "gear": ", ".join((run.appliance.name, run.source.name, run.meter.name)),
        "step_wh": run.meter.resolution_wh,
        "step_pct": run.source.display_step_pct,
        "has_charge": run.source.capacity_wh is not None,
        "live": DeviceToken.objects.filter(meter_id=run.meter_id, revoked_at=None).exists(),
        "stages": desk_stages(run.revision),
        "presses": [press_json(press, presses.key(press)) for press in presses.standing],
        "now": rfc3339(now),
    }


@dataclass(frozen=True)
class DeskRow:
    """One press in words; ``key`` is empty where it was not made at a desk."""

    key: str
    kind: str
    clock: str
    words: str


@dataclass(frozen=True)
class DeskPage:
    """What the desk shows where no script runs; ``last`` holds what each display showed last."""

    clock: str
    stage: str
    since: str
    place: str
    steps: Sequence[str]
    following: dict[str, Any] | None
    paused: bool
    ended: bool
    rows: Sequence[DeskRow]
    last: dict[str, str]
    undo: str

    @property
    def is_long(self) -> bool:
        """Whether the steps of this stage would push the figures out of sight."""
        return len(self.steps) > 1 and sum(len(step) for step in self.steps) > _MOST_CHARACTERS


def desk_page(run: Run, presses: DeskPresses, stages: Sequence[dict[str, Any]], now: datetime) -> DeskPage:
    """Return the desk in words; ``stages`` are those of the method. No query."""
    begun = [press for press in presses.shown if press.kind == "stage"]
    current, place = (begun[-1] if begun else None), len(begun)
    planned = stages[place - 1] if current and place <= len(stages) else None
    method = planned if planned and current and planned["kind"] == current.said["stage"] else None
    keyed = [key for press in presses.shown if (key := presses.key(press))]
    return DeskPage(
        clock=clock((run.ended_at or now) - run.started_at),
        stage=stage_name(current.said) if current else "",
        since=clock(current.at - run.started_at) if current else "",
        place=sentence(ENGLISH, "stage_of", number=place, count=max(place, len(stages))) if current else "",
        steps=method["steps"] if method else [],
        following=stages[place] if place < len(stages) else None,
        paused=presses.paused,
        ended=run.ended_at is not None,
        rows=[desk_row(run, press, presses.key(press)) for press in reversed(presses.shown)],
        last=last_shown(presses.shown),
        undo=keyed[-1] if keyed else "",
    )


def desk_row(run: Run, press: Press, key: str) -> DeskRow:
    """Return one press in words."""
    return DeskRow(key, press.kind, clock(press.at - run.started_at), press_words(press.kind, press.said))


def press_words(kind: str, said: Mapping[str, Any]) -> str:
    """Return what a press says, in a few words."""
    if kind == "reading":
        figures = [figure_words(said[name], unit) for name, unit in FIGURE_UNITS.items() if said.get(name) is not None]
        return ", ".join([*figures, *filter(None, [said.get("note")])])
    if kind == "stage":
        return sentence(ENGLISH, "stage_begins", stage=stage_name(said))
    if kind == "moment":
        return said.get("text") or sentence(ENGLISH, "pressed_photo")
    return sentence(ENGLISH, f"pressed_{kind}")


def stage_name(said: Mapping[str, Any]) -> str:
    """Return a stage's own words, else the trade's."""
    kind = STAGE_KINDS.get(said.get("stage", ""))
    return said.get("label") or (kind.label if kind else "")


def last_shown(presses: Sequence[Press]) -> dict[str, str]:
    """Return what each display showed last; empty where it was never read."""
    last = dict.fromkeys(FIGURE_UNITS, "")
    for press in presses:
        for name in FIGURE_UNITS if press.kind == "reading" else ():
            if press.said.get(name) is not None:
                last[name] = f"{press.said[name]:.10g}"
    return last


def clock(span: timedelta) -> str:
    """Return a time since the start as a clock shows it.

    Examples
    --------
    >>> clock(timedelta(minutes=14, seconds=37)), clock(timedelta(hours=1, minutes=5))
    ('14:37', '1:05:00')
    """
    seconds = max(0, int(span.total_seconds()))
    hours, minutes = divmod(seconds // 60, 60)
    return f"{hours}:{minutes:02}:{seconds % 60:02}" if hours else f"{minutes:02}:{seconds % 60:02}"


def assumed_words() -> dict[str, str]:
    """Return what is assumed of the two temperatures while nobody says them, like "10 to 26"."""
    known = {"ambient_c": AIR, "food_start_c": TAP}
    return {name: f"{one.value - one.half:g} to {one.value + one.half:g}" for name, one in known.items()}


def start_words(recipe: Recipe, cook: Any, now: datetime) -> dict[str, Any] | None:
    """Return what a phone needs to start this recipe without a signal; None while nothing is written. About ten queries."""
    revision = newest_revision(recipe)
    if revision is None:
        return None
    usual = first_words(recipe, revision, cook, now)
    return {
        "slug": recipe.slug,
        "title": recipe.title,
        "cook": cook.get_username(),
        "revision": revision.number,
        "servings": revision.servings,
        "altitude_m": the_site().altitude_m,
        "stages": desk_stages(revision),
        "gear": {
            name: [_choice(one) for one in model._default_manager.all()]
            for name, model in (("appliance", Appliance), ("source", PowerSource), ("meter", Meter))
        },
        "assumed": assumed_words(),
        "kinds": {
            "appliance": [(key, label, ["rated_w"]) for key, label in APPLIANCE_KINDS],
            "source": [(key, label, ["capacity_wh"] if source_kind(key).has_battery else []) for key, label in SOURCE_KINDS],
        },
        "usual": {name: usual.get(name) for name in ("appliance", "source", "meter")},
    }


def _choice(gear: Any) -> dict[str, Any]:
    more = {}
    if isinstance(gear, PowerSource):
        more = {"has_charge": gear.capacity_wh is not None, "step_pct": gear.display_step_pct}
    elif isinstance(gear, Meter):
        more = {"step_wh": gear.resolution_wh}
    return {"id": gear.pk, "name": gear.name, **more}
