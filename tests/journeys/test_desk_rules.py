"""The table of presses, by the phone's script: whatever the server holds already, and whatever waits on the phone."""

from __future__ import annotations

from typing import Any

from energy.runs.queries.desk_presses import press_json, rfc3339
from tests.energy.runs.domain.desk_table import CASES, STARTED, gone, instant, standing, uuid_of

PROJECT = """async ({ runs, startMs }) => {
    const { project } = await import("/static/js/desk-run.js");
    const seconds = (ms) => (ms === null ? null : Math.round((ms - startMs) * 1000) / 1e6);
    const idsOf = (view, kind) => view.presses.filter((one) => one.kind === kind).map((one) => one.id);
    return runs.map(({ run, entries }) => {
        const view = project(run, entries, (entry) => startMs + entry.at_s * 1000);
        return {
            stages: idsOf(view, "stage"), readings: idsOf(view, "reading"), moments: idsOf(view, "moment"),
            current: view.current && view.current.id, paused: view.pausedMs !== null,
            pauses: view.pauses.map((pause) => pause.map(seconds)), ended_at_s: seconds(view.endMs),
            last: Object.fromEntries(Object.entries(view.last).map(([name, shown]) => [name, shown.value])),
        };
    });
}"""
_BESIDE = ("id", "at_s", "withdrawn", "replaces")


def entry_of(place: int, arrival: dict[str, Any]) -> dict[str, Any]:
    """Return an arrival as it waits on the phone."""
    said = {name: value for name, value in arrival.items() if name not in _BESIDE}
    if "replaces" in arrival:
        said["replaces"] = str(uuid_of(arrival["replaces"]))
    row = {"id": str(uuid_of(arrival["id"])), "kind": "event", "run": "1", "place": place, "made": place + 1, "state": "waiting"}
    return {**row, "op": "DELETE" if arrival.get("withdrawn") else "PUT", "said": said, "at_s": arrival.get("at_s", 0)}


def split(arrivals: list[dict[str, Any]], kept: int) -> dict[str, Any]:
    """Return a run of which the server holds the first arrivals, while the others wait on the phone."""
    held = [press_json(press, str(press.id)) for press in standing(arrivals[:kept])]
    run = {"run": "1", "uuid": None, "started_at": rfc3339(STARTED), "ended_at": None, "stages": [], "presses": held}
    return {"run": run, "entries": [entry_of(place, one) for place, one in enumerate(arrivals[kept:])]}


def is_possible(arrivals: list[dict[str, Any]], kept: int) -> bool:
    """Whether a phone can be there: a press that the server knows to be gone is not kept by a phone that never heard of it."""
    return not gone(arrivals[:kept]) & {one["id"] for one in arrivals[kept:] if not one.get("withdrawn")}


def wanted_of(case: dict[str, Any]) -> dict[str, Any]:
    follows = case["follows"]
    ids = {name: [str(uuid_of(number)) for number in follows[name]] for name in ("stages", "readings", "moments")}
    return {**follows, **ids, "current": ids["stages"][-1] if ids["stages"] else None}


def test_the_script_lets_the_same_follow_as_the_server(page):
    page.goto("/healthz")
    splits = [(case, kept) for case in CASES for kept in range(len(case["arrivals"]) + 1) if is_possible(case["arrivals"], kept)]
    runs = [split(case["arrivals"], kept) for case, kept in splits]
    found = page.evaluate(PROJECT, {"runs": runs, "startMs": instant(0).timestamp() * 1000})
    apart = {
        f"{case['name']} ({kept} kept)": (shown, wanted_of(case))
        for (case, kept), shown in zip(splits, found, strict=True)
        if shown != wanted_of(case)
    }
    assert apart == {}
    assert len(splits) > 2 * len(CASES)
