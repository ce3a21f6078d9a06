"""One kitchen with one of everything that a bench page can show, and every form of a page as a browser would send it."""

from __future__ import annotations

import io
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from decimal import Decimal
from html.parser import HTMLParser
from typing import Any

from django.urls import URLPattern, URLResolver, get_resolver, reverse
from PIL import Image

from costing.operations import SeenPrice, record_quote, record_yield, rename_shop
from energy.meters.operations.devices import make_device
from energy.models import Appliance, Meter, PowerSource, Tariff
from energy.runs.domain.samples import Sample
from energy.runs.operations.recording import record_run
from energy.runs.operations.typed import RunDetails, StageStart, TypedRows
from kitchen.domain.packs import Pack
from kitchen.models import Change, Food, Recipe, Revision, Site
from kitchen.operations import add_photo, create_recipe, pair_side, publish_recipe
from kitchen.operations.collections import change_collection, make_collection, publish_collection
from kitchen.operations.journal import Hand
from tests.kitchen.desk import write_pot


@dataclass(frozen=True)
class Kitchen:
    """The rows that addresses name."""

    recipe: Recipe
    revision: Revision
    values: dict[str, Any]


def furnish(owner: Any, other_cook: Any, at: datetime) -> Kitchen:
    """Fill the tables: a published, cooked, priced recipe of the owner's with a side and a photo."""
    Site.objects.update_or_create(pk=1, defaults={"name": "Fernhollow dark-site kitchen", "currency": "EUR"})
    lentils, _ = Food.objects.get_or_create(name="red lentils", defaults={"g_per_ml": 0.85})
    recipe = write_pot(owner, at)
    side = create_recipe(owner=owner, title="Flatbread", at=at)
    pair_side(main=recipe, side=side, portions=Decimal(1), at=at)
    picture = io.BytesIO()
    Image.new("RGB", (40, 30), "tomato").save(picture, "JPEG")
    photo = add_photo(recipe=recipe, picture=io.BytesIO(picture.getvalue()), alt="a pot", at=at)
    gear = _gear()
    quote = record_quote(seen=SeenPrice(lentils, Pack(500, "g"), Decimal("2.35"), "EUR", "Mill Lane", at.date()))
    tested = record_yield(food=lentils, preparation="rinsed", percent=Decimal(98), source="own test")
    revision = recipe.revisions.get()
    publish_recipe(recipe=recipe, revision=revision, by=owner, at=at)
    run = record_run(
        details=RunDetails(revision, gear["appliances"], gear["sources"], gear["meters"], started_at=at, servings=4),
        rows=TypedRows(
            [Sample(minute * 60, wh) for minute, wh in ((0, 0), (10, 105), (31, 213))],
            [StageStart(0, "brown"), StageStart(600, "come_up")],
        ),
        operator=owner,
        at=at + timedelta(hours=1),
    )
    shop = rename_shop(shop=quote.shop, name="Mill Lane", note="open late", by=Hand(owner, at))
    line = revision.parts.first().lines.first()
    collection = make_collection(owner=owner, title=recipe.title, at=at)
    dishes = [(recipe.pk, 6), (side.pk, None)]
    change_collection(collection=collection, title=recipe.title, summary="", dishes=dishes, at=at)
    publish_collection(collection=collection, at=at)
    assert collection.slug == recipe.slug, "one name fills in every address"
    values = {
        "slug": recipe.slug,
        "line": line.pk,
        "photo": photo.pk,
        "name": photo.wide,
        "pairing": recipe.sides.get().pk,
        "cook": other_cook.pk,
        "food": lentils.pk,
        "run": run.pk,
        "key": run.readings.first().pk,
        "quote": quote.pk,
        "shop": quote.shop_id,
        "change": Change.objects.get(kind="shops", number=shop.pk).pk,
        "device": make_device(meter=gear["meters"], name="plug by the hob", by=owner, at=at)[0].pk,
        "yield": tested.pk,
        **{sort: thing.pk for sort, thing in gear.items()},
    }
    return Kitchen(recipe, revision, values)


def _gear() -> dict[str, Any]:
    return {
        "appliances": Appliance.objects.create(name="Big pot", kind="pressure_cooker", rated_w=700, capacity_l=4),
        "sources": PowerSource.objects.create(name="Van battery", kind="battery_station", capacity_wh=768, continuous_w=800),
        "meters": Meter.objects.create(name="Plug meter", resolution_wh=1, accuracy_pct=1),
        "tariffs": Tariff.objects.create(name="Club", currency="EUR", price_per_kwh=Decimal("0.3"), valid_from="2026-01-01"),
    }


@dataclass(frozen=True)
class Address:
    """One named address of the program's own apps: its name, its path, the dotted name of its view."""

    name: str
    path: str
    view: str


def addresses(kitchen: Kitchen) -> list[Address]:
    """Return every named address, filled in from the kitchen's rows. A new argument that nothing fills raises KeyError."""
    found = []
    for app, pattern in _named(get_resolver().url_patterns):
        given = {name: _argument(name, app, pattern.name or "", kitchen) for name in pattern.pattern.converters}
        if "name" in pattern.pattern.regex.groupindex:
            given["name"] = kitchen.values["name"]
        given |= dict(pattern.default_args)
        found.append(Address(f"{app}:{pattern.name}", reverse(f"{app}:{pattern.name}", kwargs=given), pattern.lookup_str))
    return found


_NUMBERS = {
    "kitchen:cook-link": "cook",
    "kitchen:cook": "cook",
    "kitchen:change-put-back": "change",
    "kitchen:line-correct": "line",
    "kitchen:recipe-unpair": "pairing",
    "kitchen:photo-edit": "photo",
    "kitchen:photo-lead": "photo",
    "kitchen:photo-remove": "photo",
    "kitchen:food-edit": "food",
    "costing:price-history": "food",
    "costing:price": "quote",
    "costing:price-remove": "quote",
    "costing:shop": "shop",
    "costing:shop-remove": "shop",
    "costing:yield": "yield",
    "costing:yield-remove": "yield",
    "kitchen:edition": "edition",
    "kitchen:aside-forget": "revision",
    "kitchen:revision-back": "revision",
    "kitchen:revision-undo": "revision",
    "kitchen:revision-note": "revision",
    "energy:devices": "meters",
    "energy:device-revoke": "meters",
}
_FIXED = {"before": 1, "after": 1, "servings": "8", "token": "no-token", "uid": "MQ"}


def _argument(argument: str, app: str, name: str, kitchen: Kitchen) -> Any:
    if argument in _FIXED:
        return _FIXED[argument]
    if argument in ("slug", "key", "device"):
        return kitchen.values[argument]
    if f"{app}:{name}" in _NUMBERS:
        return kitchen.values.get(_NUMBERS[f"{app}:{name}"], 1)
    sort = name.removesuffix("-edit").removesuffix("-remove")
    return kitchen.values[sort] if sort in kitchen.values else kitchen.values["run"]


def _named(patterns: list[Any], app: str = "") -> list[tuple[str, URLPattern]]:
    found: list[tuple[str, URLPattern]] = []
    for entry in patterns:
        if isinstance(entry, URLResolver):
            if entry.app_name != "admin":
                found += _named(entry.url_patterns, entry.app_name or app)
        else:
            found.append((app, entry))
    return found


@dataclass
class PageForm:
    """One form of a page: where it goes, what a browser would send, and which of its fields take typed text."""

    action: str
    method: str
    values: dict[str, str] = field(default_factory=dict)
    typed: list[str] = field(default_factory=list)
    chosen: list[str] = field(default_factory=list)


def forms_of(html: str, here: str) -> list[PageForm]:
    """Return the forms that a page posts, with the values it shows."""
    reader = _FormReader(here)
    reader.feed(html)
    return [form for form in reader.forms if form.method == "post"]


class _FormReader(HTMLParser):
    def __init__(self, here: str) -> None:
        super().__init__(convert_charrefs=True)
        self.here = here
        self.forms: list[PageForm] = []
        self.by_id: dict[str, PageForm] = {}
        self.form: PageForm | None = None
        self.area: tuple[PageForm, str] | None = None
        self.select: tuple[PageForm, str] | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = {name: value or "" for name, value in attrs}
        if tag == "form":
            self.form = PageForm(said.get("action") or self.here, said.get("method", "get").lower())
            self.forms.append(self.form)
            self.by_id[said.get("id", "")] = self.form
            return
        form = self.by_id.get(said["form"]) if said.get("form") else self.form
        name = said.get("name", "")
        if form is not None and name:
            self._field(tag, name, said, form)
        if tag == "option" and self.select and ("selected" in said or self.select[1] not in self.select[0].values):
            self.select[0].values[self.select[1]] = said.get("value", "")

    def _field(self, tag: str, name: str, said: dict[str, str], form: PageForm) -> None:
        kind = said.get("type", "text")
        if tag == "textarea":
            self.area = (form, name)
            form.values[name] = ""
            form.typed.append(name)
        elif tag == "select":
            self.select = (form, name)
            form.chosen.append(name)
        elif tag == "input" and kind in ("checkbox", "radio"):
            form.chosen.append(name)
            if "checked" in said:
                form.values[name] = said.get("value", "on")
        elif tag == "input" and kind not in ("file", "submit"):
            form.values[name] = said.get("value", "")
            (form.chosen if kind in ("hidden", "password") or "hidden" in said else form.typed).append(name)
        elif tag == "button" and said.get("value") == "save":
            form.values[name] = "save"

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self.form = None
        elif tag == "textarea":
            self.area = None
        elif tag == "select":
            self.select = None

    def handle_data(self, data: str) -> None:
        if self.area:
            self.area[0].values[self.area[1]] += data.removeprefix("\n")
