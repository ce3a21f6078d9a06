"""What the kinds of appliance and of power source say of themselves: one row for each."""

import pytest

from energy.kinds import (
    APPLIANCE_KINDS,
    COOKERS_OF_READERS,
    SOURCE_KINDS,
    TRAVELLING_SOURCES,
    appliance_kind,
    source_kind,
)

SAID = {
    "pressure_cooker": "in a 4 L pressure cooker",
    "induction_plate": "on an induction plate",
    "rice_cooker": "in a 4 L rice cooker",
    "kettle": "in a 4 L kettle",
    "slow_cooker": "in a 4 L slow cooker",
    "skillet": "in a 4 L electric skillet",
    "griddle": "on a griddle",
    "air_fryer": "in a 4 L air fryer",
    "oven": "in a 4 L small oven",
    "other": "in a 4 L other electric cooker",
}


def test_every_kind_of_appliance_is_said_with_its_article():
    assert {key: appliance_kind(key).where(4.0).replace("\u00a0", " ") for key, _ in APPLIANCE_KINDS} == SAID


@pytest.mark.parametrize(
    ("key", "size_l", "words"),
    [
        ("pressure_cooker", 8.0, "in an 8 L pressure cooker"),
        ("skillet", None, "in an electric skillet"),
        ("oven", None, "in a small oven"),
    ],
)
def test_the_article_fits_the_word_that_follows(key, size_l, words):
    assert appliance_kind(key).where(size_l).replace("\u00a0", " ") == words


@pytest.mark.parametrize(
    ("trait", "keys"),
    [
        ("closed", "pressure_cooker rice_cooker kettle slow_cooker"),
        ("room_to_swell", "pressure_cooker induction_plate"),
        ("pressed", "pressure_cooker"),
        ("dry", "griddle air_fryer oven"),
        ("water_only", "kettle"),
    ],
)
def test_traits_hold_for_just_these_kinds(trait, keys):
    assert [key for key, _ in APPLIANCE_KINDS if getattr(appliance_kind(key), trait)] == keys.split()


def test_a_reader_names_no_kettle_and_nothing_vague_as_their_own_cooker():
    assert {key for key, _ in APPLIANCE_KINDS} - {key for key, _ in COOKERS_OF_READERS} == {"kettle", "other"}


def test_batteries_and_hook_ups_travel():
    assert TRAVELLING_SOURCES == ("battery_station", "vehicle_inverter", "hook_up")
    assert [key for key, _ in SOURCE_KINDS if source_kind(key).has_battery] == ["battery_station", "vehicle_inverter"]


def test_a_kind_of_a_newer_program_is_called_by_its_key_and_has_nothing_of_its_own():
    assert appliance_kind("sun_oven").where(None) == "in a sun_oven"
    assert not appliance_kind("sun_oven").vessel
    assert (source_kind("wind").label, source_kind("wind").has_battery, source_kind("wind").cautions) == ("wind", False, ())
