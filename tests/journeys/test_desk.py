"""The run desk in a browser: by thumb, by key, without a signal, signed out, in two tabs, with a wrong clock."""

from __future__ import annotations

import json
import re
import time
from datetime import timedelta

import pytest
from django.contrib.sessions.models import Session
from django.utils import timezone
from playwright.sync_api import Page, expect

from energy.models import Appliance, DeskEvent, DeviceToken, Meter, PowerSource, Reading, Run, SentReading
from energy.runs.domain.samples import Sample
from energy.runs.operations.recording import record_run
from energy.runs.operations.typed import RunDetails, StageStart, TypedRows
from tests.journeys.conftest import WINDOWS, watched_page
from tests.journeys.small_kitchen import bring_gear, sign_in, write_pot
from tests.journeys.waiting import comes_to, follow, strike, wait_for
from tests.kitchen.pictures import picture

CLOCK = timedelta(seconds=1)  # how far apart two clocks may be before the desk takes them for two
LOW_TARGETS = """() => [...document.querySelectorAll("main :is(button, input, select, summary), .desk-bar :is(a, button)")]
    .filter((one) => one.checkVisibility() && !one.matches(".visually-hidden, [type=file]"))
    .filter((one) => one.getBoundingClientRect().height < 56).map((one) => one.outerHTML.slice(0, 90))"""


@pytest.fixture
def run(owner, transactional_db) -> Run:
    """A cook that goes on for five minutes already, in its first stage."""
    recipe = write_pot(owner)
    bring_gear()
    gear = [model.objects.get() for model in (Appliance, PowerSource, Meter)]
    now = timezone.now()
    details = RunDetails(recipe.revisions.get(), *gear, started_at=now - timedelta(minutes=5), servings=4)
    stages = [StageStart(0, "brown")]
    return record_run(details=details, rows=TypedRows([Sample(0, 0.0)], stages), operator=owner, running=True, at=now)


@pytest.fixture
def desk(narrow_page, owner, run, live_server) -> Page:
    """The desk of that cook on a phone."""
    sign_in(narrow_page, owner, live_server.url)
    return open_desk(narrow_page, run)


def open_desk(page: Page, run: Run) -> Page:
    page.goto(f"/bench/runs/{run.pk}/desk/")
    state_is(page, "all saved")
    return page


def state_is(page: Page, words: str) -> None:
    expect(page.locator("[data-state]")).to_have_text(words)


def press(page: Page, name: str) -> None:
    page.locator(f".dock [data-press={name}]").click()


def log(page: Page, energy_wh: int) -> None:
    page.locator("[name=energy_wh]").fill(str(energy_wh))
    press(page, "reading")
    expect(page.get_by_role("button", name=f"Correct {energy_wh}\u00a0Wh", exact=True)).to_have_count(1)


def kept(run: Run) -> list[float | None]:
    return list(run.readings.order_by("at").values_list("energy_wh", flat=True))


def test_a_cook_from_start_to_summary(narrow_page, owner, live_server):
    page = narrow_page
    write_pot(owner)
    bring_gear()
    sign_in(page, owner, live_server.url)
    page.goto("/bench/recipes/lentil-pot/")
    follow(page.get_by_role("link", name="Start a cook"))
    for name in ("Cooked on", "Plugged into", "Read from"):
        page.get_by_label(name).select_option(index=1)
    page.get_by_label("Food at the start").fill("12,5")
    page.get_by_role("button", name="Switch on and start").click()
    page.wait_for_url("**/desk/")
    state_is(page, "all saved")
    expect(page.locator("[data-stage]")).to_have_text("Brown")
    expect(page.locator("[data-steps]")).to_have_text("Brown the onions.")
    log(page, 0)
    page.locator("[name=energy_wh]").fill("105")
    press(page, "following")
    expect(page.locator("[data-stage]")).to_have_text("Hold")
    page.locator("[name=energy_wh]").fill("213")
    expect(page.locator(".dock [data-press=following]")).to_contain_text("Finish")
    press(page, "following")
    expect(page.get_by_role("link", name="To the cook", exact=True)).to_be_visible()
    expect(page.locator("[data-finished]")).to_contain_text("213.0 ± 2.6\u00a0Wh".replace(" ", "\u00a0"))
    run = Run.objects.get()
    assert kept(run) == [0, 105, 213]
    assert run.food_start_c == 12.5
    assert [stage.kind for stage in run.stages.all()] == ["brown", "hold"]
    assert run.stages.last().starts_at == run.readings.get(energy_wh=105).at


def test_readings_wait_without_a_signal_survive_a_reload_and_arrive_once(desk, run):
    log(desk, 10)
    state_is(desk, "all saved")
    desk.context.set_offline(True)
    for energy_wh in (20, 30, 40):
        log(desk, energy_wh)
    state_is(desk, "3 waiting, no signal")
    expect(desk.locator(".desk-row__mark--waiting")).to_have_count(3)
    assert kept(run) == [0, 10]
    desk.context.set_offline(False)
    desk.reload()
    state_is(desk, "all saved")
    assert kept(run) == [0, 10, 20, 30, 40]
    assert DeskEvent.objects.filter(run=run).count() == 4


@pytest.mark.parametrize("minutes", [-30, 45])
def test_a_clock_that_is_set_without_a_signal_moves_no_reading_out_of_its_place(desk, run, minutes):
    began = timezone.now()
    desk.context.set_offline(True)
    log(desk, 10)
    log(desk, 20)
    desk.evaluate("ms => { const told = Date.now.bind(Date); Date.now = () => told() + ms; }", minutes * 60_000)
    log(desk, 30)
    state_is(desk, "3 waiting, no signal")
    desk.context.set_offline(False)
    desk.evaluate("dispatchEvent(new Event('online'))")
    state_is(desk, "all saved")
    assert kept(run) == [0, 10, 20, 30]
    assert all(began - CLOCK < one.at < timezone.now() + CLOCK for one in run.readings.filter(energy_wh__gt=0))


def test_a_signed_out_phone_keeps_its_queue_until_somebody_signs_in(desk, run):
    Session.objects.all().delete()
    log(desk, 10)
    state_is(desk, "1 waiting, signed out")
    log(desk, 20)
    expect(desk.locator("[data-notices]")).to_contain_text("what you logged waits on this phone and is not lost")
    follow(desk.get_by_role("link", name="Sign in here"))
    desk.get_by_label("Name").fill("owner")
    desk.get_by_label("Password").fill("pot-lid-spoon")
    desk.get_by_role("button", name="Sign in").click()
    desk.wait_for_url("**/desk/")
    state_is(desk, "all saved")
    assert kept(run) == [0, 10, 20]


def test_two_tabs_keep_each_press_once(desk, run):
    other = open_desk(desk.context.new_page(), run)
    desk.context.set_offline(True)
    for page, energy_wh in ((desk, 10), (other, 20), (desk, 30), (other, 40)):
        log(page, energy_wh)
    for page in (desk, other):
        expect(page.locator(".desk-row__mark--waiting")).to_have_count(4)
    desk.context.set_offline(False)
    for page in (desk, other):
        page.evaluate("dispatchEvent(new Event('online'))")
        state_is(page, "all saved")
    assert kept(run) == [0, 10, 20, 30, 40]
    assert DeskEvent.objects.filter(run=run, kind="reading").count() == 4


def test_what_the_server_refuses_needs_attention_and_is_never_dropped(desk, run):
    desk.evaluate("""async () => {
        const { outbox } = await import("/static/js/outbox.js"), run = location.pathname.split("/")[3];
        await outbox.add(outbox.entry(run, "event", { kind: "reading", energy_wh: 1e12 }));
    }""")
    state_is(desk, "1 needs attention")
    desk.reload()
    trouble = desk.locator("[data-trouble]")
    expect(trouble).to_contain_text("The counter should lie between 0 and 1,000,000,000")
    log(desk, 10)
    trouble.get_by_role("button", name="Correct it").click()
    desk.locator("[name=energy_wh]").fill("12")
    press(desk, "reading")
    state_is(desk, "all saved")
    assert sorted(kept(run)) == [0, 10, 12]


def test_a_name_that_says_something_else_here_is_sent_as_a_new_one_or_discarded(desk, run):
    log(desk, 10)
    state_is(desk, "all saved")
    taken = str(Reading.objects.get(run=run, energy_wh=10).pk)
    twice = """async ([id, wh]) => {
        const { outbox } = await import("/static/js/outbox.js"), run = location.pathname.split("/")[3];
        await outbox.add({ ...outbox.entry(run, "event", { kind: "reading", energy_wh: wh }), id });
    }"""
    desk.evaluate(twice, [taken, 15])
    state_is(desk, "1 needs attention")
    desk.get_by_role("button", name="Send it as a new one").click()
    state_is(desk, "all saved")
    assert sorted(kept(run)) == [0, 10, 15]
    desk.evaluate(twice, [taken, 16])
    state_is(desk, "1 needs attention")
    desk.get_by_role("button", name="Discard").click()
    desk.wait_for_timeout(450)  # the same press within 400 ms would be one press
    desk.get_by_role("button", name="Really discard it?").click()
    state_is(desk, "all saved")
    assert sorted(kept(run)) == [0, 10, 15]


def test_the_queue_goes_into_a_file_and_arrives_from_another_phone_once(desk, run, browser, owner, live_server, tmp_path):
    desk.context.set_offline(True)
    log(desk, 10)
    log(desk, 20)
    desk.locator("[data-state]").click()
    with desk.expect_download() as saved:
        desk.get_by_role("button", name="Save to a file").click()
    file = tmp_path / "queue.json"
    saved.value.save_as(file)
    assert len(json.loads(file.read_text())["entries"]) == 2
    windows = watched_page(browser, live_server.url, **WINDOWS["phone"])
    other = next(windows)
    sign_in(other, owner, live_server.url)
    open_desk(other, run)
    other.locator("[data-state]").click()
    answers: list[int] = []
    other.on("response", lambda answer: answers.extend([answer.status] if "/events/" in answer.url else []))
    for times in (1, 2):
        other.get_by_label("Read a saved queue").set_input_files(file)
        expect(other.locator("[data-queue]")).to_contain_text("2 presses read.")
        wait_for(other, lambda times=times: len(answers) == 2 * times)
        state_is(other, "all saved")
        assert kept(run) == [0, 10, 20]
    next(windows, None)
    desk.context.set_offline(False)
    desk.evaluate("dispatchEvent(new Event('online'))")
    state_is(desk, "all saved")
    assert kept(run) == [0, 10, 20]


def test_a_file_that_is_no_queue_is_refused_with_a_sentence(desk, tmp_path):
    file = tmp_path / "other.json"
    file.write_text('{"entries": 5}')
    desk.locator("[data-state]").click()
    desk.get_by_label("Read a saved queue").set_input_files(file)
    expect(desk.locator("[data-queue]")).to_contain_text("This is not a saved queue.")


def test_a_press_is_corrected_taken_back_and_put_back(desk, run):
    log(desk, 10)
    desk.get_by_role("button", name="Correct 10", exact=False).click()
    desk.locator("[name=energy_wh]").fill("11")
    press(desk, "reading")
    expect(desk.get_by_role("button", name="Correct 11\u00a0Wh")).to_be_visible()
    comes_to(lambda: kept(run), [0, 11])
    press(desk, "undo")
    expect(desk.locator("[data-said]")).to_contain_text("Taken back: 11\u00a0Wh")
    comes_to(lambda: kept(run), [0])
    desk.get_by_role("button", name="Put it back").click()
    comes_to(lambda: kept(run), [0, 11])


def test_a_falling_counter_is_kept_and_asked_about(desk, run):
    log(desk, 50)
    log(desk, 5)
    expect(desk.locator("[data-said]")).to_contain_text("The counter falls here, from 50 to 5 Wh.")
    desk.get_by_role("button", name="It was reset").click()
    comes_to(lambda: list(run.readings.filter(energy_wh=5).values_list("note", flat=True)), ["the counter was reset here"])


def test_wet_hands_press_once_and_steppers_go_on_from_the_last_figure(desk, run):
    log(desk, 50)
    more = desk.get_by_role("button", name="More: Wh on the counter")
    strike(more, times=2)
    expect(desk.locator("[name=energy_wh]")).to_have_value("52")
    strike(desk.get_by_role("button", name="More: W now"))
    expect(desk.locator("[name=power_w]")).to_have_value("10")
    strike(desk.locator(".dock [data-press=reading]"), times=2)
    expect(desk.get_by_role("button", name="Correct 52\u00a0Wh, 10\u00a0W")).to_have_count(1)
    strike(desk.locator(".dock [data-press=following]"), times=2)
    expect(desk.locator("[data-stage]")).to_have_text("Hold")
    state_is(desk, "all saved")
    assert kept(run) == [0, 50, 52]
    assert [stage.kind for stage in run.stages.all()] == ["brown", "hold"]


def test_a_figure_takes_its_unit_and_says_what_it_makes(desk, run):
    counter, watts = desk.locator("[name=energy_wh]"), desk.locator("[name=power_w]")
    counter.fill("1.02 kWh")
    expect(desk.locator("[data-figure=energy_wh] [data-last]")).to_have_text(", understood as 1,020 Wh")
    watts.fill("1,234")
    press(desk, "reading")
    expect(desk.get_by_role("alert")).to_have_text("“1,234” can be read in two ways. Type “1234” or “1.234”.")
    watts.fill("3 kg")
    press(desk, "reading")
    expect(desk.get_by_role("alert")).to_contain_text("“3 kg” is not a number of W.")
    watts.fill("1.2 kW")
    press(desk, "reading")
    expect(desk.get_by_role("button", name="Correct 1,020\u00a0Wh, 1,200\u00a0W")).to_have_count(1)
    state_is(desk, "all saved")
    assert [(one.energy_wh, one.power_w) for one in run.readings.order_by("at")] == [(0, None), (1020, 1200)]


def test_every_target_of_the_desk_is_tall_enough_for_a_thumb(desk):
    desk.locator("[data-more-presses] summary").click()
    expect(desk.get_by_label("Note")).to_be_visible()
    assert desk.evaluate(LOW_TARGETS) == []
    dock = desk.locator(".dock").bounding_box()
    assert dock["y"] > 740 / 2
    assert dock["y"] + dock["height"] <= 741


def test_the_desk_by_keyboard_alone(page, owner, run, live_server):
    sign_in(page, owner, live_server.url)
    open_desk(page, run)
    page.keyboard.press("1")
    page.keyboard.type("54")
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="Correct 54\u00a0Wh")).to_be_visible()
    page.keyboard.press("ArrowUp")
    page.keyboard.press("Escape")
    page.keyboard.press("l")
    expect(page.get_by_role("button", name="Correct 55\u00a0Wh")).to_be_visible()
    page.keyboard.press("n")
    expect(page.locator("[data-stage]")).to_have_text("Hold")
    page.keyboard.press("p")
    expect(page.locator("[data-place]")).to_contain_text("paused since")
    page.keyboard.press("u")
    expect(page.locator("[data-place]")).to_contain_text("stage 2 of 2")
    state_is(page, "all saved")
    assert kept(run) == [0, 54, 55]


def test_a_note_and_a_photo_at_a_moment(desk, run, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    desk.locator("[data-more-presses] summary").click()
    desk.get_by_label("Note").fill("the lid rattles")
    desk.get_by_label("Photo").set_input_files({"name": "pot.jpg", "mimeType": "image/jpeg", "buffer": picture((80, 60))})
    desk.get_by_role("button", name="Save the note").click()
    expect(desk.get_by_role("button", name="Correct the lid rattles")).to_be_visible()
    state_is(desk, "all saved")
    moment = run.moments.get()
    assert moment.text == "the lid rattles"
    assert moment.photo is not None


def test_a_clock_that_is_wrong_is_told_and_the_servers_time_used(narrow_page, owner, run, live_server):
    page = narrow_page
    page.add_init_script("const real = Date.now; Date.now = () => real() + 600_000;")
    sign_in(page, owner, live_server.url)
    open_desk(page, run)
    expect(page.locator("[data-notices]")).to_contain_text("This phone’s clock is 10 minutes ahead of the server’s.")
    expect(page.locator("[data-clock]")).to_have_text(re.compile(r"^0[5-7]:\d\d$"))
    log(page, 10)
    state_is(page, "all saved")
    assert abs((run.readings.get(energy_wh=10).at - timezone.now()).total_seconds()) < 60


def test_a_slow_answer_puts_no_press_off_its_moment(desk, run):
    """A press that takes long to arrive says nothing of the phone's clock."""
    desk.route("**/events/*", lambda route: (time.sleep(3), route.continue_()), times=1)
    log(desk, 11)
    state_is(desk, "all saved")
    before = timezone.now()
    log(desk, 12)
    after = timezone.now()
    comes_to(lambda: kept(run)[-1:], [12])
    assert before - CLOCK < run.readings.get(energy_wh=12).at < after + CLOCK
    assert run.readings.get(energy_wh=11).at < before


def test_the_minutes_are_counted_from_instants_and_survive_a_reload(desk):
    expect(desk.locator("[data-clock]")).to_have_text(re.compile(r"^0[5-7]:\d\d$"))
    desk.reload()
    expect(desk.locator("[data-clock]")).to_have_text(re.compile(r"^0[5-7]:\d\d$"))
    expect(desk.locator("[data-awake]")).to_contain_text("The screen")


def test_figures_of_the_meters_own_device_are_offered(desk, run, owner, live_server):
    DeviceToken.objects.create(meter=run.meter, name="plug", digest="0" * 64, made_at=timezone.now(), made_by=owner)
    SentReading.objects.create(meter=run.meter, at=timezone.now(), energy_wh=64, power_w=690)
    desk.reload()
    desk.get_by_role("button", name="Use these").click()
    expect(desk.locator("[name=energy_wh]")).to_have_value("64")
    expect(desk.locator("[name=power_w]")).to_have_value("690")


def test_this_device_tells_what_it_can_do(page, owner, live_server, transactional_db):
    sign_in(page, owner, live_server.url)
    page.goto("/bench/device/")
    for words in ("A secure address", "Keeps presses on this device", "The clock is right", "Nothing waits"):
        expect(page.get_by_text(words, exact=True)).to_be_visible()


def test_another_cook_on_the_same_phone_sees_nothing_and_the_queue_stays(desk, run, other_cook, live_server):
    Session.objects.all().delete()
    log(desk, 10)
    state_is(desk, "1 waiting, signed out")
    sign_in(desk, other_cook, live_server.url)
    desk.goto("/desk-shell/")
    expect(desk.get_by_text("1 press on this phone.")).to_be_visible()
    expect(desk.get_by_text("None yet.")).to_be_visible()
    assert kept(run) == [0]
