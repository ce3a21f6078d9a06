"""A kitchen whose disk is nearly full: the desk says so by name, photos wait on the phone, readings still arrive."""

from __future__ import annotations

import shutil

from playwright.sync_api import expect

from kitchen.operations import room
from tests.journeys.test_desk import desk, kept, log, run, state_is
from tests.kitchen.pictures import picture

__all__ = ["desk", "run"]  # the cook of those tests, and its desk


def test_a_photo_waits_for_room_and_readings_behind_it_arrive(desk, run, settings, tmp_path, monkeypatch):
    settings.MEDIA_ROOT = tmp_path
    there = shutil.disk_usage(tmp_path)
    monkeypatch.setattr(room.shutil, "disk_usage", lambda _: there._replace(free=1 << 20))
    desk.locator("[data-more-presses] summary").click()
    desk.get_by_label("Note").fill("the lid rattles")
    desk.get_by_label("Photo").set_input_files({"name": "pot.jpg", "mimeType": "image/jpeg", "buffer": picture((80, 60))})
    desk.get_by_role("button", name="Save the note").click()
    expect(desk.get_by_text("What was not taken waits on this phone and is sent again.")).to_be_visible()
    expect(desk.get_by_text("The kitchen’s disk is full.")).to_be_visible()
    log(desk, 20)
    state_is(desk, "1 waiting")
    assert kept(run) == [0, 20]
    assert run.moments.get().photo is None
    monkeypatch.setattr(room.shutil, "disk_usage", lambda _: there)
    desk.reload()
    state_is(desk, "all saved")
    assert run.moments.get().photo is not None
    expect(desk.get_by_text("What was not taken waits")).to_have_count(0)
