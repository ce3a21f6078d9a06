"""A stew to publish, and a small card of the tests' own: it tallies watt-hours that a recipe's tags name."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from django import forms

from kitchen.cards import Badge, Card, Caution, Headline, ShelfFigure, StageMark
from kitchen.models import Line, Part, Recipe, Revision, Step


class TallyKit(forms.Form):
    battery_wh = forms.DecimalField(
        label="Battery",
        required=False,
        min_value=1,
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
        error_messages={"invalid": "Type the battery's size in Wh, such as 512."},
    )


class TallyCard(Card):
    """``tally`` is watt-hours for the servings as written; None leaves the card out."""

    slug, title, order = "tally", "Tally", 10
    template_name = "pieces/figures.html"
    kit_form = TallyKit
    shelf_figures = (
        ShelfFigure("energy_per_serving_wh", "least energy", "Energy a serving, at most", "wh", "Wh", order=10, sort_order=10),
        ShelfFigure("peak_w", "lowest peak", "Peak, at most", "w", "W", order=20, sort_order=40),
        ShelfFigure("cost_per_serving", "cheapest", "Cost a serving, at most", "cost", order=40, sort_order=30),
    )

    def __init__(self, tally: int | None = 240, slug: str = "tally", marks: bool = True) -> None:
        self.tally, self.slug, self.marks = tally, slug, marks

    def collect(self, revision, *, at):
        return None if self.tally is None else {"schema": 1, "wh": str(self.tally), "runs": 3}

    def _each_wh(self, facts, request):
        return Decimal(facts["wh"]) / request.base_servings

    def present(self, facts, request):
        words = "each serving"
        if "battery_wh" in request.kit:
            words = f"of your {request.kit['battery_wh']} Wh"
        return {"headlines": [Headline("tally", f"{self._each_wh(facts, request):.0f}", "Wh", words)]}

    def figures(self, facts, request):
        each = self._each_wh(facts, request)
        return {"energy_per_serving_wh": each, "runs": Decimal(facts["runs"])}

    def badge(self, facts, request):
        return Badge("measured", f"measured {facts['runs']} times")

    def headlines(self, facts, request):
        each = f"{self._each_wh(facts, request):.0f}"
        return [Headline("wh", each, "Wh", "each serving", tone="energy", standing="measured", anchor=self.slug, order=10)]

    def stage_marks(self, facts, request, kinds):
        return [StageMark("9 min", ("650 W",), heat="on") for _ in kinds] if self.marks else None

    def cautions(self, facts, request):
        return [Caution("Lentils foam: fill to half at most.", "common practice")]


def write_stew(owner, at, *, slug: str = "stew", title: str = "Red lentil and squash pot", servings: int = 6) -> Recipe:
    """Write a recipe with one unlocked revision: two parts, two stages, a step without a stage."""
    recipe = Recipe.objects.create(
        slug=slug,
        title=title,
        summary="The stew we make while the mirror cools.",
        owner=owner,
        tags=["stew", "one pot"],
        created_at=at,
        updated_at=at,
    )
    revision = Revision.objects.create(recipe=recipe, number=1, servings=servings, created_by=owner, created_at=at)
    first = Part.objects.create(revision=revision, position=1)
    finish = Part.objects.create(revision=revision, position=2, title="To finish")
    _line(first, 1, "300 g red lentils, rinsed", 300, "g", "red lentils", "rinsed")
    _line(first, 2, "1 L vegetable stock", 1, "L", "vegetable stock")
    _line(finish, 1, "20 g jalapeño", 20, "g", "jalapeño")
    steps = [
        ("brown", "Warm the oil, add the onions.", "6"),
        ("brown", "Stir in the cumin.", "1.5"),
        ("hold", "Leave it alone.", "8"),
        ("", "Stir in the lemon.", None),
    ]
    for position, (stage, text, minutes) in enumerate(steps, start=1):
        Step.objects.create(revision=revision, position=position, text=text, stage=stage, minutes=minutes)
    return recipe


def _line(part, position, text, amount, unit, name, note=""):
    exact = Fraction(amount)
    Line.objects.create(part=part, position=position, text=text, low=exact, high=exact, unit=unit, name=name, note=note)


def next_revision(recipe: Recipe, at, *, text: str = "350 g red lentils") -> Revision:
    """Write a second, different revision."""
    revision = Revision.objects.create(recipe=recipe, number=2, servings=6, created_at=at)
    part = Part.objects.create(revision=revision, position=1)
    _line(part, 1, text, 350, "g", "red lentils")
    Step.objects.create(revision=revision, position=1, text="Warm the oil, add the onions.", stage="brown", minutes="6")
    return revision
