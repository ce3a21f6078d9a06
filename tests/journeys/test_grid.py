"""A sheet that was filled in by hand is typed in: by keys alone, pasted, put right where it does not fit, and never lost."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from energy.models import Run
from tests.journeys.small_kitchen import bring_gear, sign_in, write_pot
from tests.journeys.test_keyboard import tab_to
from tests.journeys.waiting import comes_to, fits, follow

SHEET = "/bench/recipes/lentil-pot/runs/new/?sheet=1"
# An invented cook of twenty rows over midnight: clock, counter, watts.
COOK = [(f"{(23 * 60 + 40 + 2 * n) // 60 % 24}:{(40 + 2 * n) % 60:02}", str(12 * n), str(690 - 30 * (n % 3))) for n in range(20)]


@pytest.fixture
def kitchen(owner):
    """A recipe that browns for ten minutes and holds for fifteen, and one of each gear."""
    bring_gear()
    return write_pot(owner)


def opened(page: Page, owner, live_server, where: str = SHEET) -> Page:
    sign_in(page, owner, live_server.url)
    page.goto(where)
    return page


def began(page: Page, time: str) -> None:
    page.locator("[name=day]").fill("2026-10-14")
    page.locator("[name=time]").fill(time)


def paste(page: Page, cell: str, text: str) -> None:
    """Paste as a spreadsheet does: its clipboard holds tabs and line ends."""
    page.locator(f"[name={cell}]").evaluate(
        """(cell, text) => {
            const held = new DataTransfer();
            held.setData("text/plain", text);
            cell.dispatchEvent(new ClipboardEvent("paste", { clipboardData: held, bubbles: true, cancelable: true }));
        }""",
        text,
    )


def told(page: Page, row: int):
    return page.locator("[data-row]").nth(row).locator(".reading__told")


def test_a_sheet_of_twenty_rows_is_typed_by_keys_alone(page, owner, kitchen, live_server):
    opened(page, owner, live_server)
    began(page, "23:40")
    tab_to(page, "[name=row0-minute]")
    keys = page.keyboard
    for n, (clock, counter, watts) in enumerate(COOK):
        keys.type(clock)
        keys.press("ArrowRight")
        keys.type(counter)
        keys.press("ArrowRight")
        keys.type(watts)
        keys.press("Enter")
        expect(page.locator(f"[name=row{n + 1}-power_w]")).to_be_focused()
        for _ in range(2):
            keys.press("ArrowLeft")
    expect(page.locator("[name=row20-minute]")).to_be_focused()
    keys.press("ArrowUp")
    expect(page.locator("[name=row19-minute]")).to_have_value("0:18")
    expect(told(page, 19)).to_have_text("Minute 38.")
    tab_to(page, "[name=keep]")
    keys.press("Enter")
    expect(page.get_by_text("The cook is saved.")).to_be_visible()
    run = Run.objects.get()
    assert [(one.at - run.started_at).total_seconds() / 60 for one in run.readings.all()] == [2 * n for n in range(20)]
    assert [one.energy_wh for one in run.readings.all()] == [12 * n for n in range(20)]
    assert [(one.kind, (one.starts_at - run.started_at).total_seconds() / 60) for one in run.stages.all()] == [
        ("brown", 0),
        ("hold", 4),
    ]


def test_a_block_from_a_spreadsheet_fills_across_and_down(page, owner, kitchen, live_server):
    opened(page, owner, live_server)
    began(page, "18:30")
    block = "\r\n".join(f"18:{30 + n}\t{10 * n}\t\t\t{'hold' if n == 15 else ''}\tnote {n}\toutside" for n in range(18)) + "\r\n"
    paste(page, "row0-minute", block)
    expect(page.locator("[name=row17-note]")).to_have_value("note 17")
    expect(page.locator("[name=row15-stage]")).to_have_value("hold")
    expect(page.locator(".readings__keys")).to_contain_text("Row 1: “outside” stood outside the grid.")
    expect(told(page, 17)).to_have_text("Minute 17.")
    paste(page, "row0-stage", "brown\nsimmer")
    expect(page.locator(".readings__keys")).to_contain_text("Row 2: “simmer” is no stage; choose one.")
    page.get_by_role("button", name="Save this cook").click()
    expect(page.get_by_text("The cook is saved.")).to_be_visible()
    run = Run.objects.get()
    assert run.readings.count() == 18
    assert [stage.kind for stage in run.stages.all()] == ["brown", "hold"]
    assert run.readings.last().note == "note 17"


def test_what_does_not_fit_is_told_beside_its_row_and_kept_when_refused(page, owner, kitchen, live_server):
    opened(page, owner, live_server)
    began(page, "18:30")
    paste(page, "row0-minute", "18:30\t0\n18:40\t105\n18:35\t90\nsoon\t120\n6:50\t130\n18:55\tmany")
    expect(told(page, 2)).to_have_text(
        "Time goes backward here: minute 5 after minute 10. The counter falls here, from 105 to 90 Wh."
    )
    expect(told(page, 3)).to_contain_text("“soon” is not a time.")
    expect(told(page, 4)).to_contain_text("more than half a day after the start")
    expect(told(page, 5)).to_contain_text("“many” is not a number")
    follow(page.get_by_role("button", name="Save this cook"))
    expect(page.get_by_text("Nothing is saved yet.")).to_be_visible()
    expect(page.locator("[name=row3-minute]")).to_have_value("soon")
    expect(page.locator("[name=row5-energy_wh]")).to_have_value("many")
    assert not Run.objects.exists()
    paste(page, "row2-minute", "18:45\t110\n18:50\t120\n18:52\t130\n18:55\t140")
    expect(page.locator(".reading__told:not(.reading__told--plain)")).to_have_count(0)
    page.get_by_role("button", name="Save this cook").click()
    expect(page.get_by_text("The cook is saved.")).to_be_visible()
    assert [one.energy_wh for one in Run.objects.get().readings.all()] == [0, 105, 110, 120, 130, 140]


def test_a_closed_tab_loses_nothing_and_what_was_kept_is_forgotten(page, owner, kitchen, live_server):
    opened(page, owner, live_server)
    began(page, "18:30")
    paste(page, "row0-minute", "\n".join(f"18:{30 + n}\t{n}" for n in range(18)))
    page.locator("[name=ambient_c]").fill("4")
    page.goto("/bench/")
    page.goto(SHEET)
    expect(page.get_by_text("You typed 18 rows here")).to_be_visible()
    expect(page.locator("[name=row1-energy_wh]")).to_have_value("")
    page.get_by_role("button", name="Bring back what you typed").click()
    expect(page.locator("[name=row17-energy_wh]")).to_have_value("17")
    expect(page.locator("[name=time]")).to_have_value("18:30")
    expect(page.locator("[name=ambient_c]")).to_have_value("4")
    page.get_by_role("button", name="Save this cook").click()
    expect(page.get_by_text("The cook is saved.")).to_be_visible()
    assert Run.objects.get().readings.count() == 18
    page.goto(SHEET)
    expect(page.locator("[name=row0-minute]")).to_have_value("0")
    expect(page.get_by_text("You typed")).to_have_count(0)
    assert page.evaluate("Object.keys(localStorage).filter((key) => key.includes('draft')).length") == 0


def test_what_was_typed_can_be_thrown_away(page, owner, kitchen, live_server):
    opened(page, owner, live_server)
    paste(page, "row0-minute", "0\t1\n5\t20")
    page.goto("/bench/")
    page.goto(SHEET)
    page.get_by_role("button", name="Delete it").click()
    page.reload()
    expect(page.locator("[name=row0-minute]")).to_have_value("0")
    expect(page.get_by_text("You typed")).to_have_count(0)


def test_rows_are_added_to_a_run_on_a_phone_and_taken_back(narrow_page, owner, kitchen, live_server):
    page = opened(narrow_page, owner, live_server)
    began(page, "18:30")
    paste(page, "row0-minute", "0\t0\n30\t200")
    follow(page.get_by_role("button", name="Save this cook"))
    follow(page.get_by_role("link", name="Type in more rows"))
    expect(page.get_by_role("button", name="Add these rows")).to_be_visible()
    fits(page)
    for cell in page.locator("[data-row]").first.locator("input:not([type=hidden]):not([type=checkbox]), select").all():
        box = cell.bounding_box()
        assert box["height"] >= 44
        assert box["width"] >= 48
    page.locator("[name=row0-minute]").fill("18:40")
    page.locator("[name=row0-energy_wh]").fill("100")
    page.locator("[name=row1-minute]").fill("18:50")
    page.locator("[name=row1-stage]").select_option("hold")
    page.get_by_role("button", name="Add these rows").click()
    expect(page.get_by_text("Added: 1 reading, 1 stage.")).to_be_visible()
    assert Run.objects.get().readings.count() == 3
    comes_to(lambda: page.evaluate("Object.keys(localStorage).filter((key) => key.includes('/rows/')).length"), 0)
    page.get_by_role("button", name="Take these rows back").click()
    expect(page.get_by_text("The rows are taken back.")).to_be_visible()
    assert Run.objects.get().readings.count() == 2


def test_without_script_the_sheet_is_a_plain_form(page_without_script, owner, kitchen, live_server):
    page = opened(page_without_script, owner, live_server)
    began(page, "18:30")
    expect(page.locator(".readings__keys")).to_be_hidden()
    before = page.locator("[data-row]").count()
    page.locator("[name=row0-energy_wh]").fill("0")
    follow(page.get_by_role("button", name="More rows"))
    expect(page.locator("[data-row]")).to_have_count(before + 8)
    page.locator(f"[name=row{before + 7}-minute]").fill("18:55")
    page.locator(f"[name=row{before + 7}-energy_wh]").fill("213")
    page.get_by_role("button", name="Save this cook").click()
    expect(page.get_by_text("The cook is saved.")).to_be_visible()
    assert [one.energy_wh for one in Run.objects.get().readings.all()] == [0, 213]


def test_a_button_stays_under_the_pointer_that_presses_it(page, owner, kitchen, live_server):
    """Leaving a cell for a button tells what does not fit only after the button has been pressed."""
    opened(page, owner, live_server)
    began(page, "18:30")
    paste(page, "row0-minute", "0\t0\n10\t105")
    page.locator("[name=row2-minute]").fill("9")
    page.get_by_role("button", name="Save this cook").scroll_into_view_if_needed()
    place = page.get_by_role("button", name="Save this cook").bounding_box()
    page.mouse.move(place["x"] + 20, place["y"] + 20)
    page.mouse.down()
    assert page.get_by_role("button", name="Save this cook").bounding_box() == place
    page.mouse.up()
    expect(page.get_by_text("Row 3 (minute 9) stands after row 2 (minute 10).")).to_be_visible()
