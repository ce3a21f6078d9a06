"""Marks on a curve are dragged with a pointer, with a thumb, or moved by key; what is typed moves them too, and all is kept."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from energy.models import Appliance, Meter, PowerSource, Run
from energy.runs.domain.samples import Sample
from energy.runs.operations.recording import record_run
from energy.runs.operations.typed import RunDetails, StageStart, TypedRows
from tests.journeys.small_kitchen import NOON, bring_gear, sign_in, write_pot
from tests.journeys.test_keyboard import tab_to
from tests.journeys.waiting import comes_to, follow


@pytest.fixture
def run(owner) -> Run:
    """An invented log of an hour: idle for five minutes, on for ten, ticking for thirty, off; two stages marked wrongly."""
    recipe = write_pot(owner)
    bring_gear()
    gear = [model.objects.get() for model in (Appliance, PowerSource, Meter)]

    def watts(at_s):
        if at_s < 300 or at_s >= 2700:
            return 0.0
        return 690.0 if at_s < 900 or at_s // 30 % 2 else 1.0

    return record_run(
        details=RunDetails(recipe.revisions.get(), *gear, started_at=NOON, servings=4),
        rows=TypedRows(
            [Sample(at_s, None, watts(at_s), origin="file") for at_s in range(0, 3601, 10)],
            [StageStart(0, "brown"), StageStart(1800, "hold")],
        ),
        operator=owner,
        at=NOON,
    )


def handle(page: Page, name: str):
    return page.get_by_role("slider", name=name)


def drag(page: Page, name: str, share: float) -> None:
    """Drag a handle to a share of the plot's width."""
    plot = page.locator(".marking__chart svg:visible polyline").bounding_box()
    grip = handle(page, name).bounding_box()
    page.mouse.move(grip["x"] + grip["width"] / 2, grip["y"] + grip["height"] / 2)
    page.mouse.down()
    page.mouse.move(plot["x"] + plot["width"] * share / 2, grip["y"])
    page.mouse.move(plot["x"] + plot["width"] * share, grip["y"] + 4, steps=5)
    page.mouse.up()


def minutes_of(run: Run) -> list[tuple[float, str]]:
    run.refresh_from_db()
    return [(round((one.starts_at - NOON).total_seconds() / 60, 2), one.kind) for one in run.stages.all()]


def test_a_mark_is_dragged_and_kept(page, owner, run, live_server):
    sign_in(page, owner, live_server.url)
    page.goto(f"/bench/runs/{run.pk}/marks/")
    drag(page, "Stage 2, hold", 0.25)
    typed = page.locator("[name=stage1-minute]")
    comes_to(lambda: float(typed.input_value()), pytest.approx(15, abs=0.5))
    expect(handle(page, "Stage 2, hold")).to_have_attribute("aria-valuenow", typed.input_value())
    drag(page, "The cook ends", 0.75)
    ends = page.locator("[name=ends]")
    comes_to(lambda: float(ends.input_value()), pytest.approx(45, abs=1))
    shown = float(ends.input_value())
    page.get_by_role("button", name="Save the marks").click()
    expect(page.get_by_role("status").first).to_contain_text("The marks are saved.")
    assert minutes_of(run)[1] == (pytest.approx(15, abs=0.5), "hold")
    assert (run.ended_at - NOON).total_seconds() / 60 == pytest.approx(shown)
    assert run.readings.count() == 361
    page.get_by_role("button", name="Take the marks back").click()
    expect(page.get_by_text("The marks are as they were before.")).to_be_visible()
    assert minutes_of(run) == [(0, "brown"), (30, "hold")]


def test_marks_are_moved_by_key(page, owner, run, live_server):
    sign_in(page, owner, live_server.url)
    page.goto(f"/bench/runs/{run.pk}/marks/")
    tab_to(page, "[role=slider][aria-label='Stage 2, hold']")
    for key in ("Shift+ArrowLeft", "Shift+ArrowLeft", "ArrowRight", "ArrowDown", "ArrowRight"):
        page.keyboard.press(key)
    expect(page.locator("[name=stage1-minute]")).to_have_value("28.1")
    expect(handle(page, "Stage 2, hold")).to_have_attribute("aria-valuetext", "minute 28.1, 12:28:06")
    page.keyboard.press("Home")
    expect(page.locator("[name=stage1-minute]")).to_have_value("0")
    page.keyboard.press("End")
    expect(page.locator("[name=stage1-minute]")).to_have_value("60")
    page.keyboard.press("PageDown")
    page.locator("[name=stage1-minute]").press("Enter")
    expect(page.get_by_text("The marks are saved.").first).to_be_visible()
    assert minutes_of(run) == [(0, "brown"), (55, "hold")]


def test_a_typed_minute_moves_its_mark_and_a_new_stage_gets_one(narrow_page, owner, run, live_server):
    page = narrow_page
    sign_in(page, owner, live_server.url)
    page.goto(f"/bench/runs/{run.pk}/marks/")
    page.locator("[name=stage1-minute]").fill("0:20")
    expect(handle(page, "Stage 2, hold")).to_have_attribute("aria-valuenow", "20")
    page.locator("[name=stage2-kind]").select_option("rest")
    expect(page.locator("[name=stage2-minute]")).to_have_value("30")
    expect(handle(page, "Stage 3, rest")).to_be_visible()
    for one in page.get_by_role("slider").all():
        box = one.bounding_box()
        assert (box["width"], box["height"]) >= (44, 44)
        assert box["x"] >= 0
        assert box["x"] + box["width"] <= 360
    drag(page, "Stage 3, rest", 0.5)
    page.get_by_role("button", name="Save the marks").click()
    expect(page.get_by_text("The marks are saved.").first).to_be_visible()
    assert [kind for _, kind in minutes_of(run)] == ["brown", "hold", "rest"]


def test_marks_are_typed_without_script(page_without_script, owner, run, live_server):
    page = page_without_script
    sign_in(page, owner, live_server.url)
    page.goto(f"/bench/runs/{run.pk}/marks/")
    expect(page.get_by_role("slider")).to_have_count(0)
    follow(page.get_by_role("link", name="See what the curve suggests"))
    page.get_by_role("button", name="Save the marks").click()
    expect(page.get_by_text("The marks are saved.").first).to_be_visible()
    assert [kind for _, kind in minutes_of(run)] == ["brown", "hold", "rest"]
    assert (run.started_at - NOON).total_seconds() == 300
