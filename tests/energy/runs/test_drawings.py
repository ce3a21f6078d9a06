"""The drawings on a run's page: made from what is kept with it, and from its readings only where an older program kept less."""

from django.db import connection
from django.test.utils import CaptureQueriesContext

from energy.runs.queries.drawings import run_drawings
from energy.runs.queries.runs import run_summary


def test_drawings_of_a_kept_run_cost_no_query(run):
    run.refresh_from_db()
    with CaptureQueriesContext(connection) as seen:
        drawings = run_drawings(run, run_summary(run))
    assert len(seen) == 0
    assert drawings.curve.peak.label.text == "at least 660\u00a0W", "as its page says: 56 Wh in five minutes, a step less"
    assert drawings.curve.title.startswith("The peak is at least 660\u00a0W, ")
    assert len(drawings.strip.energies) == 2
    assert drawings.strip.drawn.hollow, "it rests at the end"


def test_a_run_of_an_older_program_is_drawn_alike(run):
    before = run_drawings(run, run_summary(run))
    del run.summary["trace"]
    assert run_drawings(run, run_summary(run)) == before


def test_the_trace_says_when_the_counter_was_set_back(flagged_run):
    drawings = run_drawings(flagged_run, run_summary(flagged_run))
    assert len(drawings.ladder.resets) == 1
    assert drawings.ladder_key == "A diamond stands where the counter was set back."


def test_the_page_shows_strips_ladder_and_curve(run, owner_client):
    page = owner_client.get(f"/bench/runs/{run.pk}/").content.decode()
    assert page.count('role="img"') == 6, "strip, ladder and curve; wide and narrow"
    assert "Show the numbers of the curve" in page
    assert "of the energy and" in page
