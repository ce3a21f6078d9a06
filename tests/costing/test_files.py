"""Sheets and lists as files: nothing that a spreadsheet would run, exact costs that add up, records that read back."""

import csv
import io
from decimal import Decimal

import pytest

from costing import queries
from costing.domain.facts import CostFacts
from costing.words.sheet_table import HEAD
from kitchen.domain import record
from kitchen.models import Line

SHEET = "/bench/recipes/stew/prices/"


def table(client, url):
    return list(csv.DictReader(io.StringIO(client.get(url).content.decode())))


def test_a_sheet_as_a_table_adds_up_and_names_what_is_not_counted(stew, owner_client):
    told = table(owner_client, f"{SHEET}?as=csv")
    rows, total = {row["line"]: row for row in told}, told[-2]
    lines = [rows[name] for name in ("300 g red lentils", "2 onions", "1½ tsp ground cumin", "salt to taste")]
    assert total["line"] == "Four servings"
    assert list(lines[0]) == list(HEAD)
    costs = [Decimal(row["exact cost"]) for row in lines if row["exact cost"]]
    assert costs[0] == Decimal("1.41")  # 300 of 500 g at 2.35
    assert abs(sum(costs) - Decimal(total["exact cost"])) < Decimal("0.00001")
    assert "no price" in lines[2]["not counted"]
    assert lines[3]["not counted"]
    assert rows["each serving"]["as printed"].startswith("at least ")


def test_a_sheet_as_records_reads_back_to_the_same_facts(stew, owner_client, noon):
    held = owner_client.get(f"{SHEET}?as=json").json()
    facts = record.read(CostFacts, held["costs"])
    assert held["recipe"] == "stew"
    assert record.write(facts) == held["costs"]
    assert [line.cost for line in facts.lines] == [line.cost.cost for line in queries.recipe_prices(stew, at=noon).lines]
    assert owner_client.get(f"{SHEET}?as=json&day=2026-09-01").json()["day"] == "2026-09-01"


def test_no_cell_is_run(stew, owner_client):
    Line.objects.filter(text="2 onions").update(text="=2+3 onions")
    assert any(row["line"] == "'=2+3 onions" for row in table(owner_client, f"{SHEET}?as=csv"))


def test_a_list_as_records_tells_what_it_costs_and_lacks(stew, owner_client):
    held = owner_client.get("/bench/shopping/?stew=4&as=json").json()
    assert (held["currency"], held["cost"]) == ("EUR", "19/5")
    assert {item["food"]: item["packs"] for item in held["items"]} == {"red lentils": "500 g", "onion": "1 kg"}
    assert [gap["what"] for gap in held["missing"]] == ["ground cumin"]


@pytest.mark.parametrize("kind", ["csv", "json"])
def test_strangers_and_other_cooks_get_no_file(stew, stranger_client, other_client, kind):
    assert stranger_client.get(f"{SHEET}?as={kind}").status_code == 302
    assert other_client.get(f"{SHEET}?as={kind}").status_code == 404
