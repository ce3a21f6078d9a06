"""The measured runs of an edition as open data: one row each, units in the names, with where they come from. Pure."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from datetime import tzinfo

from energy.facts import EnergyFacts, RunFacts

COLUMNS = (
    *("recipe", "recipe_url", "edition", "run", "day", "revision", "servings", "counts"),
    *("energy_wh", "energy_uncertainty_wh", "peak_w", "peak_seen", "duration_s"),
    *("method", "cooker", "source", "meter", "licence", "cite_as"),
)
_FORMULA = ("=", "+", "-", "@", "\t", "\r")  # a spreadsheet would work out what begins so (OWASP, "CSV Injection")


def runs_csv(facts: EnergyFacts, about: Mapping[str, object], zone: tzinfo) -> str:
    """Return the runs of an edition as CSV (RFC 4180), those that do not count among them and marked so.

    ``about`` holds the columns that all rows share, ``zone`` is the one in which the days are counted. The uncertainty is the
    meter's, expanded (k = 2).
    """
    out = io.StringIO()
    rows = csv.DictWriter(out, COLUMNS, lineterminator="\r\n")
    rows.writeheader()
    for number, run in enumerate(facts.runs, start=1):
        held = {**about, **_row(run, zone), "run": number}
        rows.writerow({name: _cell(held[name]) for name in COLUMNS})
    return out.getvalue()


def _row(run: RunFacts, zone: tzinfo) -> dict[str, object]:
    return {
        "day": run.day.astimezone(zone).date().isoformat(),
        "revision": run.revision or "",
        "servings": run.servings or "",
        "counts": "yes" if run.counts else "no",
        "energy_wh": round(run.energy_wh, 2),
        "energy_uncertainty_wh": round(run.uncertainty_wh, 2),
        "peak_w": "" if run.peak_w is None else round(run.peak_w, 1),
        "peak_seen": "" if run.peak_w is None else "yes" if run.peak_seen else "no",
        "duration_s": round(run.total_s),
        "method": run.method,
        "cooker": run.appliance,
        "source": run.source,
        "meter": run.meter,
    }


def _cell(value: object) -> object:
    return f"'{value}" if isinstance(value, str) and value.startswith(_FORMULA) else value
