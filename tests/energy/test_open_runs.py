"""The runs as open data. Sources: RFC 4180 (CSV); OWASP, "CSV Injection", for cells that a spreadsheet would work out."""

import csv
import io
from dataclasses import replace
from datetime import UTC

import pytest

from energy.cards.open_runs import COLUMNS, runs_csv
from energy.facts import EnergyFacts
from kitchen.domain import record
from kitchen.models import Recipe
from kitchen.operations import change_site, withdraw_recipe
from tests.energy.runs.test_views_pictures import published  # noqa: F401


@pytest.fixture
def facts(published):  # noqa: F811
    return record.read(EnergyFacts, Recipe.objects.get(slug="lentil-pot").current_edition.facts["cards"]["energy"])


def rows(text):
    return list(csv.DictReader(io.StringIO(text, newline="")))


def test_each_run_is_a_row_with_what_it_is_cited_by(facts, stranger_client):
    answer = stranger_client.get("/r/lentil-pot/runs.csv")
    assert answer["Content-Type"] == "text/csv; charset=utf-8"
    (row,) = rows(answer.content.decode())
    assert tuple(row) == COLUMNS
    run = facts.runs[0]
    assert float(row["energy_wh"]) == pytest.approx(run.energy_wh, abs=0.01)
    assert float(row["energy_uncertainty_wh"]) == pytest.approx(run.uncertainty_wh, abs=0.01)
    assert (row["duration_s"], row["counts"], row["cooker"]) == (str(round(run.total_s)), "yes", run.appliance)
    assert row["recipe_url"] == "http://testserver/r/lentil-pot/"
    assert "“Lentil pot”, edition 1" in row["cite_as"]
    assert row["licence"].startswith("No licence is given")
    assert b"\r\n" in answer.content
    change_site(values={"licence": "CC-BY-4.0", "cite_as": "The club"})
    answer = stranger_client.get("/r/lentil-pot/runs.csv")
    (row,) = rows(answer.content.decode())
    assert (row["licence"], row["cite_as"][:8]) == ("CC-BY-4.0", "The club")
    assert answer["Link"] == '<https://creativecommons.org/licenses/by/4.0/>; rel="license"'
    assert "CC-BY-4.0" in stranger_client.get("/r/lentil-pot/runs/").content.decode()


def test_runs_that_do_not_count_are_there_and_say_so(facts):
    both = replace(facts, runs=(facts.runs[0], replace(facts.runs[0], counts=False)))
    shared = dict.fromkeys(("recipe", "recipe_url", "edition", "licence", "cite_as"), "x")
    assert [row["counts"] for row in rows(runs_csv(both, shared, UTC))] == ["yes", "no"]


def test_no_cell_is_a_formula(facts):
    named = replace(facts, runs=(replace(facts.runs[0], appliance='=HYPERLINK("x")', source='a, "b"\nc'),))
    shared = dict.fromkeys(("recipe", "recipe_url", "edition", "licence", "cite_as"), "x")
    (row,) = rows(runs_csv(named, shared, UTC))
    assert (row["cooker"], row["source"]) == ('\'=HYPERLINK("x")', 'a, "b"\nc')


def test_without_a_measurement_or_an_edition_there_is_none(published, noon, stranger_client):  # noqa: F811
    withdraw_recipe(recipe=Recipe.objects.get(slug="lentil-pot"), at=noon)
    assert stranger_client.get("/r/lentil-pot/runs.csv").status_code == 410
    assert stranger_client.get("/r/none/runs.csv").status_code == 404
