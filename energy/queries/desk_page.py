"""The run desk as a page and a phone need it: the stages by the method, every press that stands, what was shown last."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import groupby
from typing import Any

from energy.domain.desk import DOUBLE_TAP_S
from energy.models import Appliance, DeviceToken, Meter, PowerSource, Run
from energy.queries.recording import first_words, newest_revision
from kitchen.domain.stages import STAGE_KINDS
from kitchen.models import Recipe, Revision
from kitchen.queries import the_site

_FIGURES = ("energy_wh", "power_w", "charge_pct")
_UNITS = {"energy_wh": "Wh", "power_w": "W", "charge_pct": "%"}
_SPACE = "\u00a0"
_MOST_TYPED = 400
_MOST_CHARACTERS = 170
_KINDS = ("reading", "stage", "moment", "pause", "resume", "finish")
_PLAIN = {"pause": "paused", "resume": "went on", "finish": "finished"}


def desk_stages(revision: Revision) -> list[dict[str, Any]]:
    """Return the stages of a revision's method with their words and minutes, as a phone keeps them. One query."""
    stages = []
    for kind, group in groupby((step for step in revision.steps.order_by("position") if step.stage), key=lambda step: step.stage):
        steps = list(group)
        spans = [float(step.minutes) for step in steps if step.minutes is not None]
        words = [step.text for step in steps]
        stages.append({"kind": kind, "label": STAGE_KINDS[kind].label, "minutes": sum(spans) or None, "steps": words})
    return stages


def desk_state(run: Run, cook: str, now: datetime) -> dict[str, Any]:
    """Return a run as its desk keeps it on the phone: plain JSON. Six queries."""
    presses = standing_presses(run)
    finished = any(press["kind"] == "finish" for press in presses)
    return {
        "run": str(run.pk),
        "uuid": str(run.once) if run.once else None,
        "cook": cook,
        "recipe": {"title": run.revision.recipe.title, "slug": run.revision.recipe.slug},
        "servings": run.servings,
        "started_at": run.started_at.isoformat(),
        "ended_at": run.ended_at.isoformat() if run.ended_at and not finished else None,
        "gear": ", ".join((run.appliance.name, run.source.name, run.meter.name)),
        "step_wh": run.meter.resolution_wh,
        "step_pct": run.source.display_step_pct,
        "has_charge": run.source.capacity_wh is not None,
        "live": DeviceToken.objects.filter(meter_id=run.meter_id, revoked_at=None).exists(),
        "stages": desk_stages(run.revision),
        "presses": presses,
        "now": now.isoformat(),
    }


def standing_presses(run: Run) -> list[dict[str, Any]]:
    """Return the presses of a run that stand, in order, with what was typed elsewhere under no name of its own. Three queries."""
    events = run.events.filter(withdrawn_at=None, at__isnull=False).filter(kind__in=_KINDS)
    pressed = [_press(str(event.pk), event.kind, event.at, event.said) for event in events]
    known = {press["id"] for press in pressed}
    typed = run.readings.exclude(origin="file").order_by("-at")[:_MOST_TYPED]
    pressed += [_press("", "reading", one.at, _shown(one)) for one in typed if str(one.pk) not in known]
    marked = run.stages.filter(event=None)
    pressed += [_press("", "stage", one.starts_at, {"stage": one.kind, "label": one.label}) for one in marked]
    return _without_double_taps(sorted(pressed, key=lambda press: press["at"]))


def _without_double_taps(presses: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Leave out a stage that only begins again what has just begun, as the run's own stages do."""
    kept: list[dict[str, Any]] = []
    last: dict[str, Any] | None = None
    for press in presses:
        if press["kind"] == "stage":
            if last and last["said"] == press["said"] and (_instant(press) - _instant(last)).total_seconds() < DOUBLE_TAP_S:
                continue
            last = press
        kept.append(press)
    return kept


def _press(key: str, kind: str, at: datetime, said: dict[str, Any]) -> dict[str, Any]:
    kept = {name: value for name, value in said.items() if name not in ("at", "kind", "replaces")}
    return {"id": key, "kind": kind, "at": at.isoformat(), "said": kept}


def _shown(reading: Any) -> dict[str, Any]:
    figures = {name: getattr(reading, name) for name in _FIGURES if getattr(reading, name) is not None}
    return figures | ({"note": reading.note} if reading.note else {})


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


def desk_page(run: Run, state: dict[str, Any], now: datetime) -> DeskPage:
    """Return the desk in words, from its state. No query."""
    presses, stages = state["presses"], state["stages"]
    begun = [press for press in presses if press["kind"] == "stage"]
    current, place = (begun[-1] if begun else None), len(begun)
    method = (
        stages[place - 1] if current and place <= len(stages) and stages[place - 1]["kind"] == current["said"]["stage"] else None
    )
    rests = [press["kind"] for press in presses if press["kind"] in ("pause", "resume")]
    keyed = [press["id"] for press in presses if press["id"]]
    return DeskPage(
        clock=clock((run.ended_at or now) - run.started_at),
        stage=stage_name(current["said"]) if current else "",
        since=clock(_instant(current) - run.started_at) if current else "",
        place=f"stage {place} of {max(place, len(stages))}" if current else "",
        steps=method["steps"] if method else [],
        following=stages[place] if place < len(stages) else None,
        paused=rests[-1:] == ["pause"],
        ended=run.ended_at is not None,
        rows=[desk_row(run, press) for press in reversed(presses)],
        last=last_shown(presses),
        undo=keyed[-1] if keyed else "",
    )


def desk_row(run: Run, press: dict[str, Any]) -> DeskRow:
    """Return one press in words."""
    return DeskRow(press["id"], press["kind"], clock(_instant(press) - run.started_at), press_words(press))


def press_words(press: dict[str, Any]) -> str:
    """Return what a press says, in a few words."""
    said, kind = press["said"], press["kind"]
    if kind == "reading":
        words = [f"{said[name]:,.10g}{_SPACE}{_UNITS[name]}" for name in _FIGURES if said.get(name) is not None]
        return ", ".join([*words, said["note"]] if said.get("note") else words)
    if kind == "stage":
        return f"{stage_name(said)} begins"
    return said.get("text") or "a photo" if kind == "moment" else _PLAIN.get(kind, kind)


def stage_name(said: dict[str, Any]) -> str:
    """Return a stage's own words, else the trade's."""
    kind = STAGE_KINDS.get(said.get("stage", ""))
    return said.get("label") or (kind.label if kind else "")


def last_shown(presses: Sequence[dict[str, Any]]) -> dict[str, str]:
    """Return what each display showed last; empty where it was never read."""
    last = dict.fromkeys(_FIGURES, "")
    for press in presses:
        for name in _FIGURES if press["kind"] == "reading" else ():
            if press["said"].get(name) is not None:
                last[name] = f"{press['said'][name]:.10g}"
    return last


def press_of(state: dict[str, Any], key: str) -> dict[str, Any] | None:
    """Return one press by its name, if it stands."""
    return next((press for press in state["presses"] if key and press["id"] == key), None)


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


def _instant(press: dict[str, Any]) -> datetime:
    return datetime.fromisoformat(press["at"])


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
        "usual": {name: usual.get(name) for name in ("appliance", "source", "meter")},
    }


def _choice(gear: Any) -> dict[str, Any]:
    more = {}
    if isinstance(gear, PowerSource):
        more = {"has_charge": gear.capacity_wh is not None, "step_pct": gear.display_step_pct}
    elif isinstance(gear, Meter):
        more = {"step_wh": gear.resolution_wh}
    return {"id": gear.pk, "name": gear.name, **more}
