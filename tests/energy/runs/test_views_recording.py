"""Recording a cook on the bench: the form with all its rows, logs, and readings along the way."""

import re
from datetime import timedelta
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone

from energy.models import Appliance, Run
from energy.runs.domain.samples import RESET_NOTE
from tests.energy.meters.files.samples_asked import ASKED

CELLS = ("minute", "energy_wh", "power_w", "charge_pct", "stage")
LOG = b"minutes,wh,watts,stage\n0,0,640,brown\n10,105,690,come up\n21,213,0,release\n31,213,0,\n"


@pytest.fixture
def address(revision):
    return reverse("energy:run-new", args=[revision.recipe.slug])


@pytest.fixture
def form(details):
    """The form's fields as a browser sends them, with no rows yet."""
    return {
        "appliance": details.appliance.pk,
        "source": details.source.pk,
        "meter": details.meter.pk,
        "revision": details.revision.pk,
        "day": "2026-10-14",
        "time": "19:05",
        "servings": "4",
        "ambient_c": "9,5",
        "keep": "1",
    }


def rows(*typed):
    data = {"rows": str(len(typed))}
    for n, row in enumerate(typed):
        data |= {f"row{n}-{name}": value for name, value in zip(CELLS, row, strict=False)}
    return data


WHOLE = rows(
    ("0", "0", "", "100", "brown"), ("10", "105", "690", "", "come_up"), ("21", "213", "", "", "release"), ("31", "213", "0")
)


def test_three_people_try_the_form(address, form, appliance, source, meter, owner_client, other_client, stranger_client):
    for send in ("get", "post"):
        assert getattr(owner_client, send)(address).status_code in (200, 422)
        assert getattr(other_client, send)(address).status_code == 404
        answer = getattr(stranger_client, send)(address)
        assert answer.status_code == 302
        assert "/sign-in/" in answer["Location"]


def test_without_gear_the_page_says_what_to_do_first(address, owner_client, revision, meter):
    page = " ".join(owner_client.get(address).content.decode().split())
    assert "A measured cook needs an appliance and a power source: five numbers, once." in page
    assert f"{reverse('energy:gear')}?cook={revision.recipe.slug}" in page


def test_a_new_cooker_is_typed_where_it_is_chosen(address, form, appliance, owner_client):
    new = {"appliance": "", "new-appliance-kind": "rice_cooker", "new-appliance-rated_w": "watts"}
    answer = owner_client.post(address, {**form, **WHOLE, **new})
    assert answer.status_code == 422
    assert "The new one is not whole yet" in answer.content.decode()
    assert not Run.objects.exists()
    whole = {**form, **WHOLE, **new, "new-appliance-rated_w": "350 W"}
    assert owner_client.post(address, whole).status_code == 302
    run = Run.objects.get()
    assert (run.appliance.name, run.appliance.kind, run.appliance.rated_w) == ("Rice cooker", "rice_cooker", 350)
    assert owner_client.post(address, {**whole, "once": str(uuid4()), "note": "again"}).status_code == 302
    assert Appliance.objects.count() == 2, "the same words make one cooker, however often they are sent"


def test_the_form_proposes_now_servings_and_stages(address, details, owner_client):
    page = owner_client.get(address).content.decode()
    assert re.search(r'name="servings" value="4"', page)
    assert timezone.localdate().isoformat() in page
    assert re.search(r'<option value="come_up" selected>', page)
    assert "≈" in page, "the minute at which a stage should begin"


def test_a_cook_is_kept_whole(address, form, owner_client, revision):
    answer = owner_client.post(address, {**form, **WHOLE})
    run = Run.objects.get()
    assert answer["Location"] == reverse("energy:run", args=[run.pk])
    assert (run.readings.count(), run.stages.count(), run.ambient_c) == (4, 3, 9.5)
    assert run.summary["energy_wh"] == pytest.approx(213)
    assert timezone.localtime(run.started_at).strftime("%Y-%m-%d %H:%M") == "2026-10-14 19:05"
    revision.refresh_from_db()
    assert revision.locked_at is not None


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"row1-power_w": "-690"}, "A number from 0 to 100,000 W is needed here."),
        ({"row1-energy_wh": "many"}, "“many” is not a number"),
        ({"row1-minute": "later"}, "“later” is not a minute"),
        ({"row1-charge_pct": "140"}, "A number from 0 to 100 % is needed here."),
        ({"row1-energy_wh": "300"}, "The counter falls here, from 300 to 213 Wh."),
        ({"row1-minute": "25"}, "Row 3 (minute 21) stands after row 2 (minute 25)."),
        ({"servings": "0"}, "A number from 1 to 500 is needed here."),
        ({"servings": "1e9"}, "A number from 1 to 500 is needed here."),
        ({"servings": "six"}, "“six” is not a number"),
        ({"servings": "🍲"}, "“🍲” is not a number"),
        ({"day": "yesterday"}, "Enter a valid date."),
        ({"meter": "999"}, "Select a valid choice."),
    ],
)
def test_bad_input_comes_back_beside_its_cell_and_nothing_is_kept(address, form, owner_client, revision, change, sentence):
    answer = owner_client.post(address, {**form, **WHOLE, **change})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert sentence in page
    assert all(f'value="{value}"' in page for name, value in change.items() if name != "meter")
    assert 'value="213"' in page, "everything else that was typed is still there"
    assert not Run.objects.exists()
    revision.refresh_from_db()
    assert revision.locked_at is None


def test_one_reading_is_too_little_unless_it_still_cooks(address, form, owner_client):
    one = rows(("0", "0"))
    assert "Two readings are needed" in owner_client.post(address, {**form, **one}).content.decode()
    assert owner_client.post(address, {**form, **one, "running": "on"}).status_code == 302
    assert Run.objects.get().ended_at is None


def hidden(page, name):
    return re.search(rf'<input type="hidden" name="{name}" value="([^"]+)"', page)[1]


def test_a_form_sent_twice_keeps_one_cook(address, form, owner_client):
    once = hidden(owner_client.get(address).content.decode(), "once")
    answers = [owner_client.post(address, {**form, **WHOLE, "once": once}) for _ in range(2)]
    assert [answer.status_code for answer in answers] == [302, 302]
    assert answers[0]["Location"] == answers[1]["Location"]
    assert Run.objects.count() == 1
    assert hidden(owner_client.get(address).content.decode(), "once") != once, "each new page is another cook"


def test_a_form_that_kept_another_cook_says_so_and_keeps_it_when_sent_once_more(address, form, owner_client):
    once = hidden(owner_client.get(address).content.decode(), "once")
    owner_client.post(address, {**form, **WHOLE, "once": once})
    changed = {**form, **WHOLE, "servings": "6", "once": once}
    answer = owner_client.post(address, changed)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "This form has saved" in page
    assert reverse("energy:run", args=[Run.objects.get().pk]) in page
    assert 'name="servings" value="6"' in page
    assert Run.objects.count() == 1
    assert owner_client.post(address, {**changed, "once": hidden(page, "once")}).status_code == 302
    assert Run.objects.count() == 2


def test_the_forms_name_stays_while_rows_are_added_or_put_right(address, form, owner_client):
    once = hidden(owner_client.get(address).content.decode(), "once")
    given = {**{k: v for k, v in form.items() if k != "keep"}, **WHOLE, "once": once}
    for more in ({"more": "1"}, {"order": "1"}, {"keep": "1", "servings": "0"}):
        assert hidden(owner_client.post(address, {**given, **more}).content.decode(), "once") == once


@pytest.mark.parametrize("once", ["", "no name", "\x00", "9" * 400])
def test_a_name_that_is_none_keeps_the_cook_all_the_same(address, form, owner_client, once):
    assert owner_client.post(address, {**form, **WHOLE, "once": once}).status_code == 302
    assert Run.objects.get().once is None


def test_rows_are_put_in_order_on_demand(address, form, owner_client):
    mixed = rows(("10", "105"), ("0", "0"), ("21", "213"))
    page = owner_client.post(address, {**form, **mixed}).content.decode()
    assert 'name="order"' in page
    answer = owner_client.post(address, {**{k: v for k, v in form.items() if k != "keep"}, **mixed, "order": "1"})
    page = answer.content.decode()
    assert answer.status_code == 200
    assert [re.search(rf'name="row{n}-minute" value="(\d+)"', page)[1] for n in range(3)] == ["0", "10", "21"]
    assert not Run.objects.exists()


def test_more_rows_keep_what_was_typed(address, form, owner_client):
    answer = owner_client.post(address, {**{k: v for k, v in form.items() if k != "keep"}, **WHOLE, "more": "1"})
    page = answer.content.decode()
    assert answer.status_code == 200
    assert 'name="rows" value="12"' in page
    assert 'name="row1-energy_wh" value="105"' in page
    assert 'value="9,5"' in page
    assert "not a number" not in page


def test_a_reset_that_was_confirmed_is_kept_and_said(address, form, owner_client):
    data = {**form, **rows(("0", "0"), ("5", "56"), ("10", "4"), ("20", "90"))}
    assert owner_client.post(address, data).status_code == 422
    assert owner_client.post(address, {**data, "row2-reset": "on"}).status_code == 302
    run = Run.objects.get()
    assert run.readings.get(energy_wh=4).note == RESET_NOTE
    assert run.summary["energy_wh"] == pytest.approx(146)


def test_another_revision_can_be_chosen_and_only_of_this_recipe(address, form, owner_client, owner, noon):
    from kitchen.models import Recipe, Revision

    other = Recipe.objects.create(slug="other", title="Other", owner=owner, created_at=noon, updated_at=noon)
    foreign = Revision.objects.create(recipe=other, number=1, created_at=noon)
    answer = owner_client.post(address, {**form, **WHOLE, "revision": foreign.pk})
    assert answer.status_code == 422
    assert not Run.objects.exists()


@pytest.mark.parametrize("way", ["file", "text"])
def test_a_log_is_read_from_a_file_or_from_text(address, form, owner_client, way):
    data = {**form, **rows()}
    if way == "file":
        data["log_file"] = SimpleUploadedFile("log.csv", LOG)
    else:
        data["log_text"] = LOG.decode()
    assert owner_client.post(address, data).status_code == 302
    run = Run.objects.get()
    assert run.summary["energy_wh"] == pytest.approx(213)
    assert [stage.kind for stage in run.stages.all()] == ["brown", "come_up", "release"]
    assert set(run.readings.values_list("origin", flat=True)) == {"file"}


def test_a_log_with_dates_says_when_it_began(address, form, owner_client):
    log = "time,watts\n2026-10-01T18:00:00+00:00,700\n2026-10-01T18:10:00+00:00,0\n"
    owner_client.post(address, {**form, **rows(), "log_text": log})
    assert Run.objects.get().started_at.isoformat() == "2026-10-01T18:00:00+00:00"


@pytest.mark.parametrize("content", [b"colour,size\nred,4\n", b"\xff\xfe\x00bad", b"minutes,wh\n0,-4\n", b"minutes,wh\n"])
def test_a_log_that_cannot_be_read_says_so_and_keeps_nothing(address, form, owner_client, content):
    answer = owner_client.post(address, {**form, **rows(), "log_file": SimpleUploadedFile("log.csv", content)})
    assert answer.status_code == 422
    assert 'class="error"' in answer.content.decode()
    assert not Run.objects.exists()


@pytest.mark.usefixtures("contexts")
@pytest.mark.parametrize("asked", ASKED, ids=lambda asked: asked[0].name)
def test_what_a_log_does_not_tell_is_asked_and_answered_in_the_form(address, form, owner_client, asked):
    sample, key, answer = asked
    sent = {**form, **rows(), "log_file": SimpleUploadedFile("log.csv", sample.data)}
    page = owner_client.post(address, sent)
    assert page.status_code == 422
    log = page.context["recorder"].log
    assert f'name="{key}"' in page.content.decode()
    carried = {name: log[name].value() for name in ("log_text", "log_shape")}
    said = {key: str(value) for key, value in answer.items()}
    assert owner_client.post(address, {**form, **rows(), **carried, **said}).status_code == 302
    assert Run.objects.get().summary["energy_wh"] == pytest.approx(sample.wh, rel=0.02)


@pytest.mark.usefixtures("contexts")
def test_an_answer_is_no_answer_for_another_log(address, form, owner_client):
    sample, _, answer = ASKED[0]
    page = owner_client.post(address, {**form, **rows(), "log_text": sample.data.decode()})
    carried = {"log_shape": page.context["recorder"].log["log_shape"].value(), **answer}
    other = sample.data.decode().replace("Meter A", "Meter C")
    for shape in (carried["log_shape"], "", "x:y:z"):
        again = owner_client.post(address, {**form, **rows(), **carried, "log_text": other, "log_shape": shape})
        assert again.status_code == 422
    assert not Run.objects.exists()


@pytest.mark.usefixtures("contexts")
def test_a_look_shows_how_a_log_is_read_and_takes_a_column_pointed_at(address, form, owner_client):
    text = "14.10.2026 18:30;5;700\n14.10.2026 18:40;6;700\n14.10.2026 18:50;7;700\n"
    page = owner_client.post(address, {**form, **rows(), "log_text": text, "look": "look"})
    log = page.context["recorder"].log
    assert (page.status_code, Run.objects.exists()) == (200, False)
    said = {"log_shape": log["log_shape"].value(), "column0": "time:", "column1": "ignore", "column2": "power:W", "held": "yes"}
    page = owner_client.post(address, {**form, **rows(), **said, "log_text": text, "look": "look"})
    assert "233.3 Wh, from the watts" in page.content.decode()
    said["log_shape"] = page.context["recorder"].log["log_shape"].value()
    assert owner_client.post(address, {**form, **rows(), **said, "log_text": text}).status_code == 302
    assert Run.objects.get().summary["energy_wh"] == pytest.approx(233.3, abs=0.1)


def test_the_text_of_a_refused_file_stays_on_the_page(address, form, owner_client):
    answer = owner_client.post(address, {**form, **rows(), "log_file": SimpleUploadedFile("log.csv", b"colour,size\nred,4\n")})
    assert "colour,size" in answer.content.decode()


def test_a_huge_paste_is_a_sentence(address, form, owner_client):
    answer = owner_client.post(address, {**form, **rows(), "log_text": "minutes,wh\n" + "1,1\n" * 1_100_000})
    assert answer.status_code == 422
    assert "more than 4 MB" in answer.content.decode()


def test_rows_and_a_log_do_not_mix(address, form, owner_client):
    answer = owner_client.post(address, {**form, **WHOLE, "log_text": LOG.decode()})
    assert "not from both" in answer.content.decode()
    assert not Run.objects.exists()


def test_right_to_left_and_emoji_notes_survive(address, form, owner_client):
    note = "עדשים 🍲 بطيء"
    owner_client.post(address, {**form, **WHOLE, "note": note})
    run = Run.objects.get()
    assert run.note == note
    assert note in owner_client.get(reverse("energy:run", args=[run.pk])).content.decode()


class TestAlongTheCook:
    """A phone logs while it cooks."""

    @pytest.fixture
    def running(self, record, noon):
        started = timezone.now() - timedelta(minutes=12)
        return record(((0, 0),), ((0, "brown"),), running=True, started_at=started)

    def test_a_reading_now(self, running, owner_client):
        owner_client.post(reverse("energy:reading-add", args=[running.pk]), {"energy_wh": "118", "power_w": "690"})
        newest = running.readings.last()
        assert newest.energy_wh == 118
        assert 11.9 < (newest.at - running.started_at).total_seconds() / 60 < 13

    def test_a_double_tap_logs_once(self, running, owner_client):
        key = hidden(owner_client.get(reverse("energy:run", args=[running.pk])).content.decode(), "key")
        address = reverse("energy:reading-add", args=[running.pk])
        for _ in range(2):
            assert owner_client.post(address, {"energy_wh": "118", "minute": "", "key": key}).status_code == 302
        assert str(running.readings.last().pk) == key
        assert running.readings.count() == 2

    def test_a_reading_sent_again_later_asks_nothing(self, running, owner_client):
        key = hidden(owner_client.get(reverse("energy:run", args=[running.pk])).content.decode(), "key")
        address = reverse("energy:reading-add", args=[running.pk])
        owner_client.post(address, {"energy_wh": "56", "minute": "5", "key": key})
        owner_client.post(address, {"energy_wh": "60", "minute": "6"})
        owner_client.post(address, {"energy_wh": "64", "minute": ""})
        assert owner_client.post(address, {"energy_wh": "56", "minute": "5", "key": key}).status_code == 302
        assert running.readings.count() == 4

    def test_another_reading_under_the_same_key_comes_back_and_is_kept_when_sent_once_more(self, running, owner_client):
        key = hidden(owner_client.get(reverse("energy:run", args=[running.pk])).content.decode(), "key")
        address = reverse("energy:reading-add", args=[running.pk])
        owner_client.post(address, {"energy_wh": "56", "minute": "5", "key": key})
        answer = owner_client.post(address, {"energy_wh": "60", "minute": "6", "key": key})
        page = answer.content.decode()
        assert answer.status_code == 422
        assert "Send it once more to keep this one too." in page
        assert 'value="60"' in page
        assert running.readings.count() == 2
        owner_client.post(address, {"energy_wh": "60", "minute": "6", "key": hidden(page, "key")})
        assert running.readings.count() == 3

    def test_a_key_that_is_none_logs_all_the_same(self, running, owner_client):
        address = reverse("energy:reading-add", args=[running.pk])
        for minute, key in enumerate(("", "no key", "\x00", "9" * 400), 1):
            assert owner_client.post(address, {"energy_wh": "9", "minute": str(minute), "key": key}).status_code == 302
        assert running.readings.count() == 5

    def test_a_reading_at_a_minute(self, running, owner_client):
        owner_client.post(reverse("energy:reading-add", args=[running.pk]), {"energy_wh": "56", "minute": "5"})
        assert (running.readings.last().at - running.started_at).total_seconds() == 300

    def test_an_empty_reading_comes_back_on_the_page(self, running, owner_client):
        answer = owner_client.post(reverse("energy:reading-add", args=[running.pk]), {})
        assert answer.status_code == 422
        assert "Type at least one figure" in answer.content.decode()

    def test_a_falling_counter_is_asked_about(self, running, owner_client):
        address = reverse("energy:reading-add", args=[running.pk])
        owner_client.post(address, {"energy_wh": "56", "minute": "5"})
        answer = owner_client.post(address, {"energy_wh": "3", "minute": "6"})
        assert "The counter falls here" in answer.content.decode()
        assert 'name="reset"' in answer.content.decode()
        assert owner_client.post(address, {"energy_wh": "3", "minute": "6", "reset": "on"}).status_code == 302

    def test_next_stage_and_finish(self, running, owner_client):
        page = owner_client.get(reverse("energy:run", args=[running.pk])).content.decode()
        assert re.search(r'<option value="come_up" selected>', page), "the method's next stage"
        owner_client.post(reverse("energy:stage-next", args=[running.pk]), {"kind": "come_up"})
        owner_client.post(reverse("energy:run-finish", args=[running.pk]), {})
        running.refresh_from_db()
        assert [stage.kind for stage in running.stages.all()] == ["brown", "come_up"]
        assert running.ended_at is not None
        ended = running.ended_at
        owner_client.post(reverse("energy:run-finish", args=[running.pk]), {})
        running.refresh_from_db()
        assert running.ended_at == ended

    def test_nobody_else_logs(self, running, other_client, stranger_client):
        for name in ("reading-add", "stage-next", "run-finish", "reading-put-back"):
            address = reverse(f"energy:{name}", args=[running.pk])
            assert other_client.post(address, {"energy_wh": "1"}).status_code == 404
            assert stranger_client.post(address, {"energy_wh": "1"}).status_code == 302
            assert other_client.get(address).status_code == 405
        assert running.readings.count() == 1
