"""A whole cook at the run desk without script: plain forms, by the server's clock."""

from __future__ import annotations

from playwright.sync_api import expect

from energy.models import Run
from tests.journeys.small_kitchen import bring_gear, sign_in, write_pot
from tests.journeys.waiting import follow


def test_a_cook_without_script(page_without_script, owner, live_server):
    page = page_without_script
    write_pot(owner)
    bring_gear()
    sign_in(page, owner, live_server.url)
    page.goto("/bench/recipes/lentil-pot/cook/")
    for name in ("Cooked on", "Plugged into", "Read from"):
        page.get_by_label(name).select_option(index=1)
    page.get_by_role("button", name="Switch on and start").click()
    expect(page.get_by_role("heading", name="Brown")).to_be_visible()
    page.get_by_role("textbox", name="Wh on the counter").fill("0")
    page.get_by_role("textbox", name="Wh on the counter").press("Enter")
    expect(page.get_by_role("status")).to_contain_text("0\u00a0Wh")
    page.get_by_role("textbox", name="Wh on the counter").fill("ten")
    follow(page.get_by_role("button", name="Log", exact=False).last)
    expect(page.get_by_text("“ten” is not a number")).to_be_visible()
    page.get_by_role("textbox", name="Wh on the counter").fill("104,5")
    page.get_by_role("button", name="Next stage: hold").click()
    expect(page.get_by_role("heading", name="Hold")).to_be_visible()
    follow(page.get_by_role("link", name="Correct 104.5"))
    page.get_by_role("textbox", name="Wh on the counter").fill("105")
    page.get_by_role("button", name="Save the correction").click()
    expect(page.get_by_role("link", name="Correct 105\u00a0Wh")).to_be_visible()
    page.get_by_role("textbox", name="Wh on the counter").fill("999")
    follow(page.get_by_role("button", name="Log", exact=False).last)
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_role("status")).to_contain_text("Taken back: 999\u00a0Wh")
    page.get_by_text("Pause, note, photo, another stage, finish").click()
    follow(page.get_by_role("button", name="Pause"))
    page.get_by_text("Pause, note, photo, another stage, finish").click()
    follow(page.get_by_role("button", name="Go on"))
    page.get_by_role("textbox", name="Wh on the counter").fill("213")
    page.get_by_role("button", name="Finish").last.click()
    expect(page.locator("[data-finished]")).to_contain_text("213.0")
    run = Run.objects.get()
    assert list(run.readings.order_by("at").values_list("energy_wh", flat=True)) == [0, 105, 213]
    assert [stage.kind for stage in run.stages.all()] == ["brown", "hold"]
    assert len(run.pauses) == 1
    assert run.ended_at is not None
