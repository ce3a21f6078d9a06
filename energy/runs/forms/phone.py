"""What a phone may send: one press, or the start of a cook. Everything that cannot be kept is refused with its field."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Any
from uuid import UUID

from django.db.models import Model
from django.utils import timezone

from energy.gear.forms import COOKED_WITH, same_gear
from energy.models import Appliance, Meter, PowerSource, Run
from energy.runs.domain import wire
from energy.runs.domain.desk import Press
from energy.runs.domain.wire import Unfit
from energy.runs.operations.desk import NewCook
from energy.runs.operations.typed import RunDetails
from kitchen.access import recipe_to_record
from kitchen.domain.stages import STAGE_KINDS

if TYPE_CHECKING:
    from kitchen.access import Person

EVENT_BYTES = 16 * 1024
FAR_FROM_START = timedelta(hours=48)
FAR_PAST = timedelta(days=366)
AHEAD = timedelta(minutes=10)

_ALWAYS = {"kind", "at", "sent_at", "replaces"}
_NAMES = {
    "reading": {"energy_wh", "power_w", "charge_pct", "note"},
    "stage": {"stage", "label"},
    "moment": {"text", "photo"},
    "pause": set[str](),
    "resume": set[str](),
    "finish": set[str](),
}
_FIGURES = (("energy_wh", 1e9, "Wh"), ("power_w", 1e5, "W"), ("charge_pct", 100, "%"))
_COOK = {"recipe", "revision", "appliance", "source", "meter", "servings", "started_at", "practice", "note", "sent_at"}
_AROUND = (("ambient_c", -40, 55, "°C"), ("food_start_c", -30, 100, "°C"), ("altitude_m", -430, 5500, "m"))


def read_press(body: bytes, *, key: UUID, run: Run, now: datetime, kind: str = "") -> Press:
    """Return the press that a body says; ``kind`` is what it is where it does not say.

    Raises
    ------
    Unfit
        If something in it cannot be kept.
    """
    said = wire.read_object(body)
    given, kind = kind, wire.words({"kind": kind, **said}, "kind", 20)
    if given and kind != given:
        raise Unfit(f"Only a {given} can be sent to this address. Send it to runs/<run>/events/<uuid>.", "kind", wire.shown(kind))
    if kind not in _NAMES:
        raise Unfit(f"kind should be one of {', '.join(_NAMES)}.", "kind", wire.shown(said.get("kind")))
    wire.refuse_unknown(said, _ALWAYS | _NAMES[kind])
    press = Press(
        id=key,
        kind=kind,
        at=_near_the_cook(wire.instant(said, "at"), run, now),
        said={"kind": kind, **{name: _value_to_keep(name, said) for name in said if name != "sent_at"}},
        skew_s=_skew_s(said, now),
        replaces=wire.uuid(said, "replaces"),
    )
    if press.replaces == key:
        raise Unfit("A press cannot replace itself. Give this one a UUID of its own.", "replaces", str(key))
    _check_kind(press)
    return press


def _value_to_keep(name: str, said: dict[str, Any]) -> Any:
    """Return a value as it is kept: a UUID in small letters."""
    return str(wire.uuid(said, name)) if name in ("photo", "replaces") else said[name]


def _near_the_cook(at: datetime, run: Run, now: datetime) -> datetime:
    if abs(at - run.started_at) > FAR_FROM_START:
        started = timezone.localtime(run.started_at)
        words = f"This lies more than two days from the start of the cook ({started:%-d %B %Y, %H:%M}). Set the phone’s clock."
        raise Unfit(words, "at", at.isoformat())
    return _not_ahead(at, "at", now)


def _not_ahead(at: datetime, name: str, now: datetime) -> datetime:
    if at > now + AHEAD:
        raise Unfit(
            "This lies in the future: the server’s clock has not come there yet. Set the phone’s clock.", name, at.isoformat()
        )
    return at.astimezone(UTC)


def _skew_s(said: dict[str, Any], now: datetime) -> float | None:
    return round((wire.instant(said, "sent_at") - now).total_seconds(), 3) if "sent_at" in said else None


def _check_kind(press: Press) -> None:
    """Refuse what this kind of press cannot say."""
    said = press.said
    if press.kind == "reading":
        figures = [wire.number(said, name, 0, high, unit) for name, high, unit in _FIGURES]
        if all(figure is None for figure in figures):
            raise Unfit("A reading needs a figure: energy_wh, power_w or charge_pct.", "energy_wh")
        wire.words(said, "note", 200)
    elif press.kind == "stage":
        stage = wire.words(said, "stage", 20)
        if stage not in STAGE_KINDS:
            raise Unfit(f"stage should be one of {', '.join(STAGE_KINDS)}.", "stage", wire.shown(said.get("stage")))
        wire.words(said, "label", 60)
    elif press.kind == "moment":
        text, photo = wire.words(said, "text", 500), wire.uuid(said, "photo")
        if not text and photo is None:
            raise Unfit("A moment needs a text or a photo.", "text")


def read_cook(body: bytes, *, key: UUID, person: Person, now: datetime) -> NewCook:
    """Return the cook that a body starts; the recipe must be one that this person may edit.

    Raises
    ------
    Unfit
        If something in it cannot be kept.
    Http404
        If there is no such recipe, or it belongs to another cook.
    """
    said = wire.read_object(body)
    wire.refuse_unknown(said, _COOK | {name for name, *_ in _AROUND})
    slug = wire.words(said, "recipe", 200)
    if not slug:
        raise Unfit("recipe is missing: the end of the recipe’s address.", "recipe")
    recipe = recipe_to_record(person, slug)
    number = _whole_number(said, "revision", 1, 1_000_000)
    revisions = recipe.revisions.select_related("recipe").order_by("-number")
    revision = (revisions if number is None else revisions.filter(number=number)).first()
    if revision is None:
        raise Unfit("The recipe has no such revision.", "revision", wire.shown(said.get("revision")))
    started_at = _not_ahead(wire.instant(said, "started_at"), "started_at", now)
    if started_at < now - FAR_PAST:
        raise Unfit("This lies more than a year back. Set the phone’s clock.", "started_at", started_at.isoformat())
    around = {name: wire.number(said, name, low, high, unit) for name, low, high, unit in _AROUND}
    details = RunDetails(
        revision=revision,
        appliance=_gear(said, "appliance", Appliance),
        source=_gear(said, "source", PowerSource),
        meter=_gear(said, "meter", Meter),
        started_at=started_at,
        servings=_whole_number(said, "servings", 1, 500) or revision.servings,
        ambient_c=around["ambient_c"],
        food_start_c=around["food_start_c"],
        altitude_m=round(around["altitude_m"] or 0),
        note=wire.words(said, "note", 2000),
    )
    if said.get("practice") not in (None, True, False):
        raise Unfit("practice should be true or false.", "practice", wire.shown(said["practice"]))
    kept = {name: value for name, value in said.items() if name != "sent_at"}
    return NewCook(key, details, kept, _skew_s(said, now))


def _whole_number(said: dict[str, Any], name: str, low: int, high: int) -> int | None:
    value = wire.number(said, name, low, high)
    if value is not None and not value.is_integer():
        raise Unfit(f"{name} should be a whole number.", name, wire.shown(said[name]))
    return None if value is None else int(value)


def _gear(said: dict[str, Any], name: str, model: type[Model]) -> Any:
    if isinstance(typed := said.get(name), dict):
        return _new_gear(name, typed)
    number = _whole_number(said, name, 1, 2**53)
    if number is None:
        raise Unfit(f"{name} is missing: the number of one from the bench.", name)
    found = model._default_manager.filter(pk=number).first()
    if found is None:
        raise Unfit(f"There is no {name} of this number. Choose another one.", name, number)
    return found


def _new_gear(name: str, typed: dict[str, Any]) -> Any:
    """Return the gear that was typed in where it is chosen, not kept yet; or what was made of the same words before."""
    lead = COOKED_WITH[name].lead
    wire.refuse_unknown(typed, set(lead))
    form = COOKED_WITH[name]({f"new-{one}": wire.words(typed, one, 80) for one in lead}, prefix="new")
    if not form.is_valid():
        field, errors = next(iter(form.errors.items()))
        raise Unfit(f"{name}: {' '.join(map(str, errors))}", name, wire.shown(typed.get(field)))
    return same_gear(form) or form.instance
