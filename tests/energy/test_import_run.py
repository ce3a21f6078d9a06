"""``manage.py import_run``."""

from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from energy.models import Run

LOG = "minutes,wh\n0,0\n10,105\n21,213\n31,213\n"


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
        ({"text": "colour\nred\n"}, "column"),
    ],
)
def test_mistakes_are_sentences_and_keep_nothing(call, change, sentence):
    with pytest.raises(CommandError, match=sentence):
        call(**change)
    assert not Run.objects.exists()
