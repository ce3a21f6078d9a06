"""The kinds of appliance and of power source, and the places of meters: what each is called, and how it behaves.

A new one is one entry here. Frying, baking and roasting appliances have no mark to fill to. A pressure cooker and an open pot
are filled to the lower limit with what swells or foams (pressure cooker manuals); the marks of rice cookers and slow cookers
leave that room already (common practice). A kettle heats nothing but the water.
"""

from __future__ import annotations

from dataclasses import dataclass

Choices = list[tuple[str, str]]


@dataclass(frozen=True)
class ApplianceKind:
    """What is true of every appliance of a kind.

    ``vessel`` is what is filled to a mark, empty where nothing is; a ``closed`` one keeps its steam, one with ``room_to_swell``
    has a lower limit for food that swells or foams. ``flat``: the pan stands on it. ``pressed``: it holds a pressure. ``dry``:
    food gives off its water and ends at no one temperature. ``of_readers`` says whether a reader may name it as their own cooker;
    ``means`` is its key in ``means.toml``, ``heater`` that of its heater
    in ``heat/heaters.py``, ``cautions`` what it is about in ``cautions/cautions.toml``.
    """

    key: str
    label: str
    vessel: str = ""
    closed: bool = False
    room_to_swell: bool = False
    flat: bool = False
    pressed: bool = False
    dry: bool = False
    water_only: bool = False
    of_readers: bool = True
    means: str = ""
    heater: str = "untold"
    cautions: tuple[str, ...] = ()

    def where(self, capacity_l: float | None) -> str:
        """Return where something was cooked.

        Examples
        --------
        >>> appliance_kind("pressure_cooker").where(4.0).replace(chr(160), " "), appliance_kind("induction_plate").where(None)
        ('in a 4 L pressure cooker', 'on an induction plate')
        """
        if self.flat:
            return f"on {'an' if self.label[0] in 'aeiou' else 'a'} {self.label}"
        words = f"{capacity_l:g}\u00a0L {self.label}" if capacity_l else self.label
        return f"in {'an' if words[0] in 'aeiou8' else 'a'} {words}"


@dataclass(frozen=True)
class SourceKind:
    """What is true of every power source of a kind; one that ``travels`` may be what a reader elsewhere has."""

    key: str
    label: str
    has_battery: bool = False
    travels: bool = True
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True)
class MeterPlace:
    """What is true of every meter in a place: one that is not ``at_socket`` sees what the inverter takes as well."""

    key: str
    label: str
    at_socket: bool = False


_APPLIANCES = {
    kind.key: kind
    for kind in (
        ApplianceKind(
            "pressure_cooker",
            "pressure cooker",
            vessel="pressure cooker",
            closed=True,
            room_to_swell=True,
            pressed=True,
            means="insulated",
            heater="pressure",
            cautions=("pressure",),
        ),
        ApplianceKind(
            "induction_plate",
            "induction plate",
            vessel="pot",
            room_to_swell=True,
            flat=True,
            means="induction",
            heater="induction",
            cautions=("hot_surfaces",),
        ),
        ApplianceKind(
            "rice_cooker",
            "rice cooker",
            vessel="rice cooker",
            closed=True,
            means="insulated",
            heater="rice",
            cautions=("swelling",),
        ),
        ApplianceKind(
            "kettle",
            "kettle",
            vessel="kettle",
            closed=True,
            water_only=True,
            of_readers=False,
            means="kettle",
            heater="immersed",
            cautions=("spitting",),
        ),
        ApplianceKind(
            "slow_cooker",
            "slow cooker",
            vessel="slow cooker",
            closed=True,
            means="insulated",
            heater="rice",
            cautions=("swelling", "slow_heat"),
        ),
        ApplianceKind("skillet", "electric skillet", heater="plate", cautions=("hot_surfaces", "hot_fat")),
        ApplianceKind("griddle", "griddle", flat=True, dry=True, cautions=("hot_surfaces", "hot_fat")),
        ApplianceKind("air_fryer", "air fryer", dry=True, cautions=("hot_surfaces",)),
        ApplianceKind("oven", "small oven", dry=True, cautions=("hot_surfaces",)),
        ApplianceKind("other", "other electric cooker", of_readers=False),
    )
}

_SOURCES = {
    kind.key: kind
    for kind in (
        SourceKind("battery_station", "battery station", has_battery=True, cautions=("battery", "off_grid")),
        SourceKind("vehicle_inverter", "vehicle inverter", has_battery=True, cautions=("battery", "engine", "off_grid")),
        SourceKind("hook_up", "campsite hook-up", cautions=("outdoor_lead", "mains", "off_grid")),
        SourceKind("mains", "house mains", travels=False, cautions=("mains",)),
    )
}

_PLACES = {
    place.key: place
    for place in (
        MeterPlace("socket", "at the socket, between source and cooker", at_socket=True),
        MeterPlace("battery", "on the battery's own display"),
    )
}

APPLIANCE_KINDS: Choices = [(kind.key, kind.label) for kind in _APPLIANCES.values()]
COOKERS_OF_READERS: Choices = [(kind.key, kind.label) for kind in _APPLIANCES.values() if kind.of_readers]
SOURCE_KINDS: Choices = [(kind.key, kind.label) for kind in _SOURCES.values()]
TRAVELLING_SOURCES = tuple(kind.key for kind in _SOURCES.values() if kind.travels)

METER_PLACES: Choices = [(place.key, place.label) for place in _PLACES.values()]


def appliance_choices() -> Choices:
    """Return the kinds for a table's column, which asks anew, so that a new kind changes no table."""
    return APPLIANCE_KINDS


def source_choices() -> Choices:
    """Return the kinds for a table's column, as ``appliance_choices`` does."""
    return SOURCE_KINDS


def appliance_kind(key: str) -> ApplianceKind:
    """Return the kind of an appliance; one that this program does not know is called by its key and has nothing of its own."""
    return _APPLIANCES.get(key) or ApplianceKind(key, key)


def source_kind(key: str) -> SourceKind:
    """Return the kind of a source; one that this program does not know is called by its key and has nothing of its own."""
    return _SOURCES.get(key) or SourceKind(key, key)


def meter_place(key: str) -> MeterPlace:
    """Return the place of a meter; one that this program does not know is called by its key and is not at the socket."""
    return _PLACES.get(key) or MeterPlace(key, key)
