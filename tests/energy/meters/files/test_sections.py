"""Sections, also those far down: asked about and read; refused where their names are others; never read as one log."""

from dataclasses import replace
from datetime import datetime, timedelta
from io import BytesIO

import pytest

from energy.meters.files.any_log import open_file
from energy.meters.files.beginning import beginning_of
from energy.meters.files.columns.shape import UnreadableFile
from energy.meters.files.looking import look_at
from energy.meters.files.reading import NeedsAnswer

BEGIN = datetime(2026, 10, 14, 18)


def section(name, watts, count, after=0, names="time,power W"):
    rows = ((BEGIN + timedelta(seconds=10 * (after + n))).isoformat() for n in range(count))
    return f"{name}\n{names}\n" + "".join(f"{row},{watts}\n" for row in rows)


def read(data, **told):
    look = look_at(beginning_of(BytesIO(data)), zone="UTC")
    return open_file(b"", [data], zone="UTC", look=replace(look, shape=replace(look.shape, **told)))[1]


def two(count, after=0, **second):
    return (section("Delivered", 600, count) + section("Sent to the shed", 50, count, after, **second)).encode()


@pytest.mark.parametrize("count", [300, 3990, 4000, 5000, 20_000, 60_000])
def test_sections_are_asked_about_and_each_is_read(count):
    with pytest.raises(NeedsAnswer, match="several devices") as asked:
        read(two(count))
    names = [value for value, _ in asked.value.question.choices]
    assert names == ["delivered", "sent to the shed", "+"]
    for name, watts in zip(names, (600, 50, 650), strict=True):
        assert read(two(count), device=name).total_wh == pytest.approx(count * watts / 360, rel=0.01)


@pytest.mark.parametrize("encoding", ["utf-8-sig", "cp1252", "utf-16"])
def test_sections_far_down_are_found_in_every_encoding_or_refused(encoding):
    data = two(20_000).decode().replace("power W", "Leistung für alles W").encode(encoding)
    with pytest.raises(NeedsAnswer if encoding != "utf-16" else UnreadableFile, match="several"):
        read(data)


def test_a_section_far_down_under_other_names_is_refused_with_its_row():
    with pytest.raises(UnreadableFile, match="Row 20004 names the columns again"):
        read(two(20_000).replace(b"Sent to the shed\ntime,power W", b'Sent to the shed\n"time","power W"'))


@pytest.mark.parametrize("count", [300, 5000, 20_000])
def test_names_that_only_come_again_are_passed_over(count):
    log = read(two(count, after=count))
    assert log.count == 2 * count
    assert log.total_wh == pytest.approx(count * 650 / 360, rel=0.01)
