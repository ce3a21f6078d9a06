"""Loading the example kitchen through the same operations that a cook's pages use."""

from __future__ import annotations

from collections import Counter
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any
from uuid import uuid4

from django.contrib.auth.models import User
from django.db import transaction

from costing.models import Quote, Shop, Yield
from costing.operations import SeenPrice, record_quote
from deploy.demo.files import DemoFiles, read_files, readings_text
from deploy.demo.ledger import Ledger
from energy.meters.files.any_log import read_log
from energy.models import Appliance, Meter, PowerSource, Run, Tariff
from energy.runs.domain.desk import Press
from energy.runs.operations.desk import NewCook, begin_cook, keep_press
from energy.runs.operations.judging import judge_run
from energy.runs.operations.recording import record_run
from energy.runs.operations.typed import RunDetails, StageStart, TypedRows
from kitchen.domain.draft import DraftContent, DraftPart, DraftStep
from kitchen.domain.matching import FoodIndex
from kitchen.domain.packs import parse_pack
from kitchen.models import Food, Pairing, Recipe, Revision, Site
from kitchen.operations import create_recipe, load_reference_foods, open_draft, pair_side, publish_recipe, save_draft
from kitchen.operations.collections import change_collection, make_collection, publish_collection
from kitchen.queries import known_foods

_SURE = 0.99


class AlreadyLoaded(Exception):
    """The example is in the database already."""


class MissingFood(LookupError):
    """A price in the files names a food that the reference table does not have."""


@transaction.atomic
def load_demo(*, files: DemoFiles | None = None) -> Counter[str]:
    """Load the example kitchen and return how many rows of each kind it made.

    Raises
    ------
    AlreadyLoaded
        If it is there already.
    """
    files = files or read_files()
    Site.objects.get_or_create(pk=1)
    ledger = Ledger.kept()
    if ledger.rows:
        raise AlreadyLoaded
    if not Food.objects.filter(sr_number__isnull=False).exists():
        load_reference_foods()
    _dress_site(files.kitchen["site"])
    cook = _hire_cook(ledger, files.kitchen["cook"])
    _bring_gear(ledger, files.kitchen)
    _note_prices(ledger, files.prices)
    _gather(ledger, files.kitchen["collections"], _write_recipes(ledger, files, cook), cook)
    ledger.keep()
    return Counter({label.split(".")[1]: len(keys) for label, keys in ledger.rows.items()})


def _dress_site(words: dict[str, Any]) -> None:
    """Give a kitchen that nobody named yet the example's name."""
    Site.objects.filter(pk=1, name=Site._meta.get_field("name").default).update(**words)


def _hire_cook(ledger: Ledger, words: dict[str, Any]) -> User:
    cook = ledger.take(User, username=words["username"], defaults={k: v for k, v in words.items() if k != "username"})
    if not cook.password:
        cook.set_unusable_password()
        cook.save(update_fields=["password"])
    return cook


def _bring_gear(ledger: Ledger, kitchen: dict[str, Any]) -> None:
    for words in kitchen["tariffs"]:
        rest = {**words, "price_per_kwh": Decimal(words["price_per_kwh"])}
        ledger.take(Tariff, name=rest.pop("name"), defaults=rest)
    for words in kitchen["sources"]:
        rest = {**words, "tariff": Tariff.objects.get(name=words["tariff"])}
        ledger.take(PowerSource, name=rest.pop("name"), defaults=rest)
    for table, model in (("appliances", Appliance), ("meters", Meter)):
        for words in kitchen[table]:
            rest = dict(words)
            ledger.take(model, name=rest.pop("name"), defaults=rest)


def _note_prices(ledger: Ledger, prices: dict[str, Any]) -> None:
    foods = known_foods()
    for name in prices["shops"]:
        ledger.take(Shop, name=name)
    for quote in prices["quotes"]:
        ledger.add(_quote(foods, *quote))
    for food, preparation, percent, source in prices["yields"]:
        words = {"percent": Decimal(percent), "source": source}
        ledger.take(Yield, food=_food(foods, food), preparation=preparation, defaults=words)


def _quote(foods: FoodIndex[Food], food: str, pack: str, *rest: Any) -> Quote:
    price, shop, day = rest
    seen = SeenPrice(_food(foods, food), parse_pack(pack), Decimal(price), Site.objects.get(pk=1).currency, shop, day)
    return record_quote(seen=seen)


def _food(foods: FoodIndex[Food], name: str) -> Food:
    """Return the food that a file names, by its name or one of its other names."""
    found = foods.find(name)
    if found is None or found[1] < _SURE:
        raise MissingFood(f"prices.toml names “{name}”; the reference table has no food of that name.")
    return found[0]


def _gather(ledger: Ledger, collections: list[dict[str, Any]], recipes: dict[str, Recipe], cook: User) -> None:
    for words in collections:
        at = words["published_at"]
        made = ledger.add(make_collection(owner=cook, title=words["title"], at=at))
        dishes = [(recipes[slug].pk, servings or None) for slug, servings in words["dishes"]]
        change_collection(collection=made, title=words["title"], summary=words["summary"], dishes=dishes, at=at)
        made.refresh_from_db()
        publish_collection(collection=made, at=at)


def _write_recipes(ledger: Ledger, files: DemoFiles, cook: User) -> dict[str, Recipe]:
    recipes: dict[str, Recipe] = {}
    for slug in sorted(files.recipes, key=lambda slug: _first_published(files.recipes[slug])):
        words = files.recipes[slug]
        recipes[slug] = _write_recipe(ledger, slug, words, cook, first_at=_first_day(files, slug))
        for side, portions in words.get("sides", []):
            pair_side(main=recipes[slug], side=recipes[side], portions=Decimal(portions), at=_first_published(words))
            ledger.add(Pairing.objects.get(main=recipes[slug], side=recipes[side]))
        _write_revisions(ledger, recipes[slug], words, files, cook)
    return recipes


def _first_published(words: dict[str, Any]) -> datetime:
    first: datetime = min(revision["published_at"] for revision in words["revisions"] if "published_at" in revision)
    return first


def _first_day(files: DemoFiles, slug: str) -> datetime:
    first: datetime = min(run["started_at"] for run in files.runs if run["recipe"] == slug)
    return first


def _write_recipe(ledger: Ledger, slug: str, words: dict[str, Any], cook: User, *, first_at: datetime) -> Recipe:
    recipe = create_recipe(owner=cook, title=words["title"], servings=words["revisions"][0]["servings"], at=first_at)
    if recipe.slug != slug and not Recipe.objects.filter(slug=slug).exists():
        recipe.slug = slug
        recipe.save(update_fields=["slug"])
    return ledger.add(recipe)


def _write_revisions(ledger: Ledger, recipe: Recipe, words: dict[str, Any], files: DemoFiles, cook: User) -> None:
    slug = next(slug for slug, found in files.recipes.items() if found is words)
    last = recipe.created_at
    for number, written in enumerate(words["revisions"], start=1):
        revision = open_draft(recipe=recipe, by=cook, at=last)
        draft = _draft(words, written)
        revision = save_draft(revision=revision, draft=draft, expected_version=revision.draft_version, at=last)
        ledger.add(revision)
        for run in files.runs:
            if (run["recipe"], run["revision"]) == (slug, number):
                ledger.add(_record(revision, run, cook))
                last = max(last, run["started_at"])
        if "published_at" in written:
            last = max(last, written["published_at"])
            note = written.get("publish_note", "")
            ledger.add(publish_recipe(recipe=recipe, revision=revision, by=cook, note=note, at=written["published_at"]))


def _draft(words: dict[str, Any], written: dict[str, Any]) -> DraftContent:
    return DraftContent(
        title=words["title"],
        summary=words["summary"],
        tags=tuple(words["tags"]),
        drawing=words["drawing"],
        servings=written["servings"],
        note=written.get("note", ""),
        parts=tuple(DraftPart(part.get("title", ""), tuple(part["lines"])) for part in written["parts"]),
        steps=tuple(_step(step) for step in written["steps"]),
    )


def _step(step: dict[str, Any]) -> DraftStep:
    numbers: dict[str, Any] = {name: Decimal(step[name]) for name in ("minutes", "temp_c") if name in step}
    return DraftStep(text=step["text"], stage=step.get("stage", ""), **numbers)


def _record(revision: Revision, run: dict[str, Any], cook: User) -> Run:
    if "presses" in run:
        return _cook_at_desk(revision, run, cook)
    log = read_log(readings_text(run["readings"]).encode())
    recorded = record_run(
        details=_details(revision, run),
        rows=TypedRows(tuple(log.samples()), [StageStart(stage.start_s, stage.kind) for stage in log.stages]),
        operator=cook,
        at=run["started_at"],
    )
    if "verdict" in run:
        judge_run(run=recorded, verdict=run["verdict"], reason=run["reason"], at=recorded.ended_at)
    return recorded


def _details(revision: Revision, run: dict[str, Any]) -> RunDetails:
    return RunDetails(
        revision=revision,
        appliance=Appliance.objects.get(name=run["appliance"]),
        source=PowerSource.objects.get(name=run["source"]),
        meter=Meter.objects.get(name=run["meter"]),
        started_at=run["started_at"],
        servings=run.get("servings", revision.servings),
        ambient_c=run["ambient_c"],
        food_start_c=run["food_start_c"],
        altitude_m=Site.objects.get(pk=1).altitude_m,
        note=run.get("note", ""),
    )


def _cook_at_desk(revision: Revision, run: dict[str, Any], cook: User) -> Run:
    """Record a cook press by press, as a phone at the run desk sends it."""
    details = _details(revision, run)
    recorded, _ = begin_cook(cook=NewCook(uuid4(), details), by=cook, at=details.started_at)
    for said in run["presses"]:
        at = details.started_at + timedelta(minutes=said["minute"])
        words = {name: value for name, value in said.items() if name not in ("minute", "kind")}
        keep_press(run=recorded, press=Press(uuid4(), said["kind"], at, words), by=cook, at=at)
    recorded.refresh_from_db()
    return recorded
