"""The licences that a kitchen may give its data: their names in the SPDX licence list, and where their words stand.

>>> [key for key in LICENCES if "NC" in key], licence_choices()[0]
(['CC-BY-NC-4.0'], ('CC0-1.0', 'CC0-1.0'))
"""

from __future__ import annotations

_ROOT = "https://creativecommons.org"
LICENCES: dict[str, str] = {
    "CC0-1.0": f"{_ROOT}/publicdomain/zero/1.0/",
    "CC-BY-4.0": f"{_ROOT}/licenses/by/4.0/",
    "CC-BY-SA-4.0": f"{_ROOT}/licenses/by-sa/4.0/",
    "CC-BY-NC-4.0": f"{_ROOT}/licenses/by-nc/4.0/",
}


def licence_choices() -> list[tuple[str, str]]:
    """Return the licences for a table's column, which asks anew, so that a new one changes no table."""
    return [(key, key) for key in LICENCES]
