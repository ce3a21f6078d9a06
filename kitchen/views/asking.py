"""Asking: what a request says about servings and portions, the vessel, measures and the reader's kit."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from django.http import HttpRequest
from django.utils.http import urlencode

from kitchen.cards import CardRequest
from kitchen.domain.facts import RecipeFacts
from kitchen.domain.systems import SYSTEMS
from kitchen.forms.kit import CALLED, KitReading, called, field_names, read_kit
from kitchen.forms.portions import PortionsReading, read_portions
from kitchen.forms.servings import ServingsForm
from kitchen.models import ROUNDINGS, Site
from kitchen.page import PageFrame


@dataclass(frozen=True)
class Asked:
    """What a request asks: servings (the written ones where the number makes no sense), portions, measures and kit."""

    servings: int
    base_servings: int
    measures: str
    site_measures: str
    rounding: str
    site_rounding: str
    typed: str
    sentence: str
    portions: PortionsReading
    kit: KitReading
    named_kit: Mapping[str, str]
    called: str = ""

    @property
    def kept(self) -> dict[str, str]:
        """What every link of the page carries on, whatever it leads to."""
        return {**self.kept_measures, **self.named_kit}

    @property
    def kept_by_stepper(self) -> dict[str, str]:
        """What another number of servings carries on: the size of a portion and the vessel too, but no group."""
        return {**self.portions.kept, **self.kept}

    @property
    def kept_by_vessel(self) -> dict[str, str]:
        """What another vessel carries on: whatever was asked but the vessel."""
        return {name: typed for name, typed in {**self.portions.query, **self.kept}.items() if name not in ("vessel", "lid")}

    @property
    def kept_by_ways(self) -> dict[str, str]:
        """What another way to scale carries on: the vessel, but no other way."""
        return {name: typed for name, typed in self.kept_by_stepper.items() if name != "portion"}

    @property
    def kept_measures(self) -> dict[str, str]:
        """The measures and the rounding, where the reader chose others than the site's."""
        measures = {} if self.measures == self.site_measures else {"measures": self.measures}
        return measures if self.rounding == self.site_rounding else {**measures, "rounding": self.rounding}

    @property
    def card_query(self) -> str:
        """The query of a printed card for the same servings, portions, vessel and measures."""
        plain = self.servings == self.base_servings or self.portions.sets_servings
        servings = {} if plain else {"for": str(self.servings)}
        return urlencode({**servings, **self.portions.query, **self.kept})

    @property
    def readable(self) -> bool:
        """Whether servings, portions and vessel could be read."""
        return not self.sentence and self.portions.sound

    @property
    def sound(self) -> bool:
        """Whether everything that was typed could be read."""
        return self.readable and self.kit.sound


def read_asked(request: HttpRequest, recipe: RecipeFacts, site: Site, typed: str | None = None) -> Asked:
    """Return what the address and its query ask for; ``typed`` is the number in the address itself.

    A group, or what there is, says how many eat: then another number in the address does not count.
    """
    base_servings = recipe.servings
    number = request.GET.get("for") if typed is None else typed
    form = ServingsForm.asked(str(base_servings) if number is None else number.strip())
    portions = read_portions(request.GET.dict(), recipe, form.cleaned_data["servings"] if form.is_valid() else base_servings)
    if portions.sets_servings:
        number = str(portions.wanted.servings)
        form = ServingsForm.asked(number)
    name = called(request.GET.dict())
    measures, rounding = request.GET.get("measures", ""), request.GET.get("rounding", "")
    return Asked(
        servings=portions.wanted.servings,
        base_servings=base_servings,
        measures=measures if measures in SYSTEMS else site.measures,
        site_measures=site.measures,
        rounding=rounding if rounding in dict(ROUNDINGS) else site.rounding,
        site_rounding=site.rounding,
        typed=str(base_servings) if number is None else number,
        sentence=form.sentence,
        portions=portions,
        kit=read_kit(request.GET.dict()),
        named_kit={one: request.GET[one] for one in field_names() if request.GET.get(one)} | ({CALLED: name} if name else {}),
        called=name,
    )


def card_request(asked: Asked, site: Site, frame: PageFrame, *, audience: str = "reader") -> CardRequest:
    """Return the circumstances as the cards take them."""
    return CardRequest(
        servings=asked.servings,
        base_servings=asked.base_servings,
        portion=asked.portions.wanted.portion,
        why=asked.portions.why,
        own_vessel=asked.portions.vessel,
        measures=asked.measures,
        rounding=asked.rounding,
        audience=audience,
        currency=site.currency,
        kit=asked.kit.values,
        path=frame.path if frame.public else "",
    )
