"""A small kitchen for the costing tests: foods, a recipe of four lines, prices."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction

from costing.models import Quote
from costing.operations import SeenPrice, record_quote
from kitchen.domain.packs import parse_pack
from kitchen.models import Food, Line, Part, Recipe, Revision, Site, Step

DAY = date(2026, 10, 2)


def set_site(currency: str = "EUR") -> Site:
    return Site.objects.update_or_create(pk=1, defaults={"name": "Fernhollow dark-site kitchen", "currency": currency})[0]


def add_food(name: str, **values) -> Food:
    return Food.objects.create(name=name, **values)


def add_price(food: Food, pack: str, price: str, *, shop: str = "Mill Lane", day: date = DAY, currency: str = "EUR") -> Quote:
    return record_quote(seen=SeenPrice(food, parse_pack(pack), Decimal(price), currency, shop, day))


def add_line(part: Part, text: str, amount, unit: str, food: Food | None, **values) -> Line:
    exact = None if amount is None else Fraction(amount)
    values = {"low": exact, "high": exact, "name": food.name if food else text} | values
    return Line.objects.create(part=part, position=part.lines.count() + 1, text=text, unit=unit, food=food, **values)


def write_recipe(owner, at, *, slug: str = "stew", title: str = "Lentil stew", servings: int = 4, cooks: bool = False) -> Recipe:
    """Write a recipe with one empty part and one step."""
    recipe = Recipe.objects.create(slug=slug, title=title, owner=owner, created_at=at, updated_at=at)
    revision = Revision.objects.create(recipe=recipe, number=1, servings=servings, created_at=at)
    Part.objects.create(revision=revision, position=1)
    Step.objects.create(revision=revision, position=1, text="Stir.", stage="hold" if cooks else "")
    return recipe


def first_part(recipe: Recipe) -> Part:
    return Part.objects.get(revision__recipe=recipe, revision__number=1, position=1)


def write_stew(owner, at) -> Recipe:
    """Lentils and onions with a price, cumin without one, salt to taste."""
    recipe = write_recipe(owner, at)
    part = first_part(recipe)
    lentils = add_food("red lentils")
    onion = add_food("onion", refuse_pct=10, refuse_words="Stem ends, skin and defects", g_per_each=110.0)
    cumin = add_food("ground cumin", g_per_ml=0.43)
    add_line(part, "300 g red lentils", 300, "g", lentils)
    add_line(part, "2 onions", 2, "", onion)
    add_line(part, "1½ tsp ground cumin", "3/2", "tsp", cumin, rule="seasoning")
    add_line(part, "salt to taste", None, "", add_food("salt"), to_taste=True)
    add_price(lentils, "500 g", "2.35")
    add_price(onion, "1 kg", "1.45")
    return recipe
