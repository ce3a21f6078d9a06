"""The licences that a kitchen may give its data, by their names in the SPDX licence list, and how the data are cited."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Licence:
    """A licence: its key in the SPDX list, its name, and the address of its words."""

    key: str
    name: str
    address: str


_ROOT = "https://creativecommons.org"
LICENCES: dict[str, Licence] = {
    one.key: one
    for one in (
        Licence("CC0-1.0", "Creative Commons Zero 1.0", f"{_ROOT}/publicdomain/zero/1.0/"),
        Licence("CC-BY-4.0", "Creative Commons Attribution 4.0", f"{_ROOT}/licenses/by/4.0/"),
        Licence("CC-BY-SA-4.0", "Creative Commons Attribution, share alike 4.0", f"{_ROOT}/licenses/by-sa/4.0/"),
        Licence("CC-BY-NC-4.0", "Creative Commons Attribution, non-commercial 4.0", f"{_ROOT}/licenses/by-nc/4.0/"),
    )
}


def licence_choices() -> list[tuple[str, str]]:
    """Return what a kitchen may choose, nothing first."""
    return [("", "none: whoever wants more than to quote asks"), *((one.key, one.name) for one in LICENCES.values())]
