"""What an older version kept opens here without loss: a packed library, editions' facts, and the figures of runs."""

from __future__ import annotations

import io
import json
from pathlib import Path
from typing import Any

import pytest

from costing.domain.facts import CostFacts
from energy.facts import EnergyFacts
from energy.models import DeskEvent, LoadedFile, Run, SentReading
from energy.runs.domain.curve import Trace
from energy.runs.domain.summary import RunSummary
from kitchen.cards import Headline
from kitchen.domain import record
from kitchen.domain.facts import PhotoFacts, RecipeFacts
from kitchen.importers.archive import Archive
from kitchen.models import Edition, Food, PastSlug, Photo, Recipe
from kitchen.operations.publishing import digest_of
from tests.kitchen.packed import documents, pack, unpack

KEPT = Path(__file__).parent / "kept"
LIBRARY = (KEPT / "library-0.1.0.zip").read_bytes()
EDITIONS = json.loads((KEPT / "editions-0.1.0.json").read_text("utf-8"))
FIGURES = json.loads((KEPT / "run-figures-0.1.0.json").read_text("utf-8"))


def spelled(value):
    """Return JSON as it is spelled, fields in their order; a whole number is the same with and without its ".0"."""
    return json.dumps(json.loads(json.dumps(value), parse_int=float), ensure_ascii=False)


def rewritten(facts):
    """Return an edition's facts, each part read and written again."""
    shapes = {"energy": EnergyFacts, "cost": CostFacts}
    cards = {
        slug: record.write(record.read(shapes[slug], held)) if slug in shapes else held for slug, held in facts["cards"].items()
    }
    return {**facts, "recipe": record.write(record.read(RecipeFacts, facts["recipe"])), "cards": cards}


@pytest.fixture
def opened(owner, noon, settings, tmp_path):
    """The kept library in a kitchen that was empty, and the account of it."""
    settings.MEDIA_ROOT = tmp_path / "photos"
    return unpack(LIBRARY, owner, noon)


LATER = {"typed_end", "amended", "comma", "assumed", "heating_w", "powers", "answered", "own_cautions", "wall_at_least"}
LATER |= {"wall_off_wh"}
LATER |= {"blog_url", "film_url", "film_on", "film_chapters", "licence", "cite_as"}
LATER |= {"wh_per_pct", "wh_per_pct_uncertainty", "usual_spread", "came", "confirmed", "brief", "below", "band", "steams"}
LATER |= {"apart", "joint", "share", "cooked_pct", "skipped", "sold", "brand", "last_day", "bought_lines", "country"}
LATER |= {"tax_pct", "receipts", "learnt", "receipt", "loose", "items"}
LATER |= {"known_at", "known_guessed", "taken_back_at", "process", "from_day", "line_unit", "made", "made_by", "fuels"}
LATER |= {"portions_served", "portions_left", "portions_thrown"}
"""What documents, facts and figures say now, and did not when the library was packed."""


def without_later(held: Any) -> Any:
    """Return a document as it was said when the library was packed."""
    if isinstance(held, dict):
        return {name: without_later(value) for name, value in held.items() if name not in LATER}
    return [without_later(value) for value in held] if isinstance(held, list) else held


@pytest.mark.django_db
def test_a_kept_library_opens_without_loss(opened, noon):
    counts = Archive(io.BytesIO(LIBRARY)).manifest.counts
    assert opened.said == []
    for kind in ("foods", "recipes", "revisions", "editions", "photos"):
        assert opened.added[kind] == counts[kind], kind
    assert (Recipe.objects.count(), Edition.objects.count(), Photo.objects.count()) == (10, 11, 2)
    assert (Run.objects.count(), LoadedFile.objects.count(), PastSlug.objects.get().slug) == (36, 1, "sausage-in-a-roll")
    assert DeskEvent.objects.exclude(withdrawn_at=None).count() == 2
    assert SentReading.objects.count() == 19
    assert Food.objects.get(name="Fernhollow sausage").aliases == ["camp sausage"]
    again, before = documents(pack(noon), names=False), documents(LIBRARY, names=False)
    assert again.pop("apps/collections.json")["collections"] == []
    assert again["apps/costing.json"].pop("schema") > before["apps/costing.json"].pop("schema")
    as_then = {name: spelled(without_later(held)) for name, held in again.items()}
    assert as_then == {name: spelled(held) for name, held in before.items()}


@pytest.mark.django_db
def test_a_kept_library_opens_once(opened, owner, noon):
    again = unpack(LIBRARY, owner, noon)
    assert (again.nothing_new, again.said) == (True, [])


@pytest.mark.parametrize("kept", EDITIONS, ids=lambda kept: f"{kept['recipe']} {kept['number']}")
def test_kept_facts_are_written_as_they_were(kept):
    facts = kept["facts"]
    assert spelled(without_later(rewritten(facts))) == spelled(facts)
    assert digest_of(facts) == kept["digest"]


def test_a_digest_fits_facts_that_were_read_and_written():
    """Where no measure happened to be whole, so that none was spelled without its ".0"."""
    held = [kept for kept in EDITIONS if kept["recipe"] in ("camp-roll", "smoky-potato-wedges")]
    assert [digest_of(without_later(rewritten(kept["facts"]))) for kept in held] == [kept["digest"] for kept in held]
    assert len(held) == 2


@pytest.mark.parametrize("kept", EDITIONS, ids=lambda kept: f"{kept['recipe']} {kept['number']}")
def test_a_kept_shelf_is_written_as_it_was(kept):
    headlines = [record.write(record.read(Headline, headline)) for headline in kept["headlines"]]
    assert spelled(without_later(headlines)) == spelled(kept["headlines"])
    photo = kept["plate"]["photo"]
    assert photo is None or spelled(record.write(record.read(PhotoFacts, photo))) == spelled(photo)


@pytest.mark.parametrize("cook", sorted(FIGURES))
def test_kept_figures_of_a_run_are_written_as_they_were(cook):
    kept = FIGURES[cook]
    trace = record.read(Trace, kept["trace"])
    assert trace.pieces
    written = {**record.write(record.read(RunSummary, kept)), "trace": record.write(trace)}
    assert spelled(without_later(written)) == spelled(kept)
