"""``manage.py import_run``."""

from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from energy.management import reading_options
from energy.models import Run

LOG = "minutes,wh\n0,0\n10,105\n21,213\n31,213\n"

WATTS = "Zeit;Leistung [kW]\n" + "".join(
    f"14.10.2026 18:{minute:02d}:00;{'1,2' if minute < 30 else '0,0'}\n" for minute in range(45)
)
AMBIGUOUS = "When,Power (W)\n" + "".join(f"03/04/2026 18:{minute:02d},600\n" for minute in range(31))
TWO = "time,device,watts\n" + "".join(
    f"2026-10-14T18:{minute:02d}:00Z,{name},{watts}\n" for minute in range(31) for name, watts in (("Hob", 600), ("Fridge", 90))
)


@pytest.fixture
def call(tmp_path, details):
    """Call the command with a log and the recipe's gear; ``more`` replaces or adds options."""

    def run(text=LOG, **more):
        file = tmp_path / "log.csv"
        file.write_text(text, encoding="utf-8")
        options = {"recipe": "lentil-pot", "appliance": "big pot", "source": "Van battery", "meter": "Plug meter", **more}
        said = StringIO()
        call_command("import_run", more.pop("file", file), stdout=said, **{k: v for k, v in options.items() if k != "file"})
        return said.getvalue().replace("\u00a0", " ")

    return run


def test_a_log_becomes_a_run(call):
    said = call(start="2026-10-14T19:05", stages="brown:0,come_up:10,release:21")
    run = Run.objects.get()
    assert "4 readings, 213.0 ± 2.6 Wh, 31 min" in said
    assert [stage["kind"] for stage in run.summary["stages"]] == ["brown", "come_up", "release"]
    assert run.started_at.isoformat() == "2026-10-14T19:05:00+00:00"
    assert (run.servings, run.operator.username) == (4, "owner")


def test_what_looks_wrong_is_said(call):
    assert "fell" in call("minutes,wh\n0,0\n5,56\n10,4\n")


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"recipe": "nothing"}, "There is no recipe “nothing”"),
        ({"meter": "Kettle"}, "Known: “Plug meter”"),
        ({"start": "soon"}, "“soon” is not a moment"),
        ({"servings": 0}, "from 1 to 500"),
        ({"stages": "fry:0"}, "“fry:0” is not a stage and a minute"),
        ({"revision": 9}, "no revision 9"),
        ({"file": "/nowhere/log.csv"}, "cannot be read"),
        ({"text": "colour\nred\n"}, "figure beside it"),
        ({"recipe": None}, "--recipe"),
        ({"text": WATTS, "zone": "Nowhere/Town"}, "no time zone"),
        ({"text": WATTS, "column": ["Colour=power"]}, "no column “Colour”"),
        ({"text": AMBIGUOUS}, "--day-first or --month-first"),
        ({"text": TWO}, "--device with one of: hob; fridge"),
    ],
)
def test_mistakes_are_sentences_and_keep_nothing(call, change, sentence):
    with pytest.raises(CommandError, match=sentence):
        call(**change)
    assert not Run.objects.exists()


def energy(run):
    return run.summary["energy_wh"]


def test_a_meters_file_of_another_shape_is_read_and_told(call):
    said = call(WATTS, zone="Europe/Vienna")
    run = Run.objects.get()
    assert "columns parted by semicolons with a decimal comma" in said
    assert run.started_at.isoformat() == "2026-10-14T16:00:00+00:00"
    assert energy(run) == pytest.approx(590, abs=11)


def test_a_device_an_order_and_a_cut_are_chosen(call):
    call(TWO, device="Fridge", since="2026-10-14T18:10Z", before="2026-10-14T18:20Z")
    assert energy(Run.objects.get()) == pytest.approx(15, rel=0.01)
    Run.objects.all().delete()
    call(AMBIGUOUS, day_first=False)
    run = Run.objects.get()
    assert (run.started_at.month, run.started_at.day) == (3, 4)
    assert energy(run) == pytest.approx(300, rel=0.01)


def test_a_look_keeps_nothing_and_shows_the_columns(call):
    said = call(WATTS, look=True, recipe=None)
    assert "Leistung [kW]: power, kW" in said
    assert "14.10.2026 18:00:00 | 1,2" in said
    assert not Run.objects.exists()


def test_a_way_of_reading_is_kept_and_used_again(call, tmp_path):
    kept = tmp_path / "shape.json"
    call(TWO, device="hob", save_shape=kept)
    call(TWO, shape=kept)
    assert [round(energy(run)) for run in Run.objects.all()] == [300, 300]
    kept.write_text("5")
    with pytest.raises(CommandError, match="no way of reading"):
        call(TWO, shape=kept)


def test_a_long_file_tells_how_far_it_is_read(call, tmp_path, monkeypatch):
    monkeypatch.setattr(reading_options, "_STEP_BYTES", 100)
    said = StringIO()
    call(WATTS, stderr=said)
    assert "Read 0 of 0 MB" in said.getvalue()


def test_the_help_names_every_decision(capsys):
    with pytest.raises(SystemExit):
        call_command("import_run", "--help")
    said = capsys.readouterr().out
    for option in (
        "--shape",
        "--device",
        "--month-first",
        "--zone",
        "--started",
        "--held",
        "--stamp-ends",
        "--column",
        "--until",
        "--look",
    ):
        assert option in said
