"""Sections further down than a look goes: asked about, or refused; never read as one log."""

from datetime import datetime, timedelta

import pytest

from energy.meters.files.any_log import open_file
from energy.meters.files.columns.shape import UnreadableFile
from energy.meters.files.looking import HEAD_BYTES
from energy.meters.files.reading import NeedsAnswer

BEGIN = datetime(2026, 10, 14, 18)


def section(name, watts, count, after=0):
    rows = ((BEGIN + timedelta(seconds=10 * (after + n))).isoformat() for n in range(count))
    return f"{name}\ntime,power W\n" + "".join(f"{row},{watts}\n" for row in rows)


def read(count, after=0):
    data = (section("Delivered", 600, count) + section("Returned", 50, count, after)).encode()
    return open_file(data[:HEAD_BYTES], [data], zone="UTC")[1]


@pytest.mark.parametrize("count", [300, 3990, 4000, 5000])
def test_a_section_within_the_look_is_asked_about(count):
    with pytest.raises(NeedsAnswer, match="several devices"):
        read(count)


def test_one_beyond_it_is_refused_with_its_row():
    with pytest.raises(UnreadableFile, match="Row 20004 names the columns again"):
        read(20_000)


@pytest.mark.parametrize("count", [300, 5000, 20_000])
def test_names_that_only_come_again_are_passed_over(count):
    log = read(count, after=count)
    assert log.count == 2 * count
    assert log.total_wh == pytest.approx(count * 650 / 360, rel=0.01)
