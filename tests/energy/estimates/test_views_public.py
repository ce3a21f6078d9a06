"""How the figures were measured, for everybody: from the edition alone."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from energy.models import Meter, Run
from energy.runs.operations.judging import judge_run
from kitchen.operations import publish_recipe, withdraw_recipe

ADDRESS = "/r/lentil-pot/runs/"


@pytest.fixture
def published(run, flagged_run, record, revision, owner, noon):
    """A recipe whose figures rest on a good run and an accepted one; a third was left out."""
    judge_run(run=flagged_run, verdict="accepted", reason="Reset by hand at minute 11.")
    bad = record(((0, 0), (31, 350)), later=1)
    judge_run(run=bad, verdict="left_out", reason="The lid was open.")
    publish_recipe(recipe=revision.recipe, revision=revision, by=owner, at=noon)
    return revision.recipe


def test_all_three_people_read_it(published, owner_client, other_client, stranger_client):
    for client in (owner_client, other_client, stranger_client):
        page = client.get(ADDRESS).content.decode()
        assert "measured twice" in page
        assert "Reset by hand at minute 11." in page
        assert "The lid was open." in page
        assert "Plug meter" in page
        assert page.count("<svg") == 4, "one ladder for each run that counts, wide and narrow"


def test_it_stays_what_it_was_when_runs_change(published, stranger_client):
    before = stranger_client.get(ADDRESS).content
    Run.objects.update(verdict="left_out")
    Run.objects.filter(verdict_reason="").delete()
    assert stranger_client.get(ADDRESS).content == before


def test_an_edition_keeps_codes_and_one_from_before_shows_its_sentences(published, stranger_client):
    published.refresh_from_db()
    edition = published.current_edition
    kept = edition.facts["cards"]["energy"]
    flagged = next(run for run in kept["runs"] if run["flags"])
    assert (kept["schema"], flagged["flags"][0]["code"]) == (3, "counter_fell")
    assert "The counter fell from 105 to 4" in stranger_client.get(ADDRESS).content.decode()
    kept["schema"], flagged["flags"] = 1, ["The display hung for a while."]
    edition.save()
    page = stranger_client.get(ADDRESS).content.decode()
    assert "The display hung for a while." in page
    assert "The counter fell" not in page


def test_it_costs_few_queries(published, stranger_client):
    stranger_client.get(ADDRESS)
    with CaptureQueriesContext(connection) as seen:
        stranger_client.get(ADDRESS)
    assert len(seen) <= 7


def test_unpublished_is_not_found(run, stranger_client):
    assert stranger_client.get(ADDRESS).status_code == 404


def test_published_without_runs_is_not_found(revision, owner, noon, stranger_client):
    publish_recipe(recipe=revision.recipe, revision=revision, by=owner, at=noon)
    assert stranger_client.get(ADDRESS).status_code == 404


def test_withdrawn_is_gone(published, noon, stranger_client):
    withdraw_recipe(recipe=published, at=noon)
    assert stranger_client.get(ADDRESS).status_code == 410


def test_the_method_page_is_for_everybody(stranger_client, db):
    page = stranger_client.get(reverse("energy:method")).content.decode()
    for words in ("What ± means", "estimated", "Runs that look wrong"):
        assert words in page


def test_the_recipes_page_shows_the_card(published, stranger_client):
    page = stranger_client.get("/r/lentil-pot/").content.decode()
    assert ADDRESS in page
    assert "From the battery" in page


def test_nothing_on_these_pages_needs_inline_style_or_script(published, stranger_client):
    for address in (ADDRESS, "/method/", "/r/lentil-pot/"):
        page = stranger_client.get(address).content.decode()
        assert " style=" not in page
        assert "<script>" not in page


def test_one_run_rests_on_how_much_cooks_usually_differ(run, revision, owner, noon, stranger_client):
    publish_recipe(recipe=revision.recipe, revision=revision, by=owner, at=noon)
    page = stranger_client.get(ADDRESS).content.decode()
    assert "on how much cooks of one recipe usually differ" in page
    assert "The next cook may need" not in page


def test_a_run_read_at_the_battery_is_explained_and_not_called_flagged(record, revision, owner, noon, stranger_client):
    shunt = Meter.objects.create(name="Shunt", place="battery", resolution_wh=10, accuracy_pct=1)
    record(((0, 0), (10, 120), (21, 250), (31, 250)), meter=shunt)
    publish_recipe(recipe=revision.recipe, revision=revision, by=owner, at=noon)
    page = stranger_client.get(ADDRESS).content.decode()
    assert "Measured at the battery; what reached the socket is worked out" in page
    assert "Flagged" not in page


def test_the_method_shows_numbers_that_the_figures_own_functions_give(client, db):
    page = client.get("/method/").content.decode()
    assert "210&nbsp;±&nbsp;8.5" in page
    assert "93&nbsp;°C" in page
    assert "takes 93&nbsp;Wh" in page
