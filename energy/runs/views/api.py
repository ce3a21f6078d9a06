"""What phones and devices send: JSON in, JSON out. This page is the contract that the run desk's script is written against.

All addresses begin with ``/api/v1/``. Answers are JSON objects; a refusal is ``{"error": a sentence, "field": name, "value": as
sent}``, the last two where one field is at fault. Instants are RFC 3339 with a zone; figures carry their unit in the name.

**The run desk** (a signed-in cook's session and the ``X-CSRFToken`` header; whoever may edit the recipe). ``<run>`` is a run's
number, or the UUID that it was started under.

``PUT cooks/<uuid>`` starts a cook. ``{"recipe": slug, "revision": number, "appliance": id, "source": id, "meter": id, "servings",
"started_at", "ambient_c", "food_start_c", "altitude_m", "note", "sent_at"}``; the answer names ``run`` and ``desk``. ``revision``
and ``servings`` may be left out: the newest, and what it is written for. New gear is an object of its few fields as they are
typed, like ``{"kind": "skillet", "rated_w": "1.2 kW"}``; ``practice`` says that the cook does not count. The start stands among
the run's presses as kind ``begin``; it cannot be taken back.

``PUT runs/<run>/events/<uuid>`` keeps one press: ``{"kind", "at", "sent_at", "replaces"}`` and by kind

===========  =======================================================================================
``reading``  any of ``energy_wh`` (the counter as displayed), ``power_w``, ``charge_pct``; ``note``
``stage``    ``stage`` (a stage kind), ``label``
``moment``   ``text``, ``photo`` (the UUID of a photo sent to ``runs/<run>/photos/<uuid>``)
``pause``, ``resume``, ``finish``  nothing more
===========  =======================================================================================

The answer is ``{"event", "run", "status"}`` with ``kept``, ``known`` (kept before) or ``withdrawn`` (taken back: no effect). A
name that means nothing here is refused; null is as good as left out. Two stages of one kind and label within 10 s are one tap.
``at`` is part of what was said: fix it at the press, never at the sending. It may lie two days from the run's start, and 10
minutes ahead. A reading after the finish is kept and does not move the end.

``replaces`` names an earlier press that this one corrects: the earlier one is taken back for good, whichever comes first; an undo
of an undo is a new press. ``PUT runs/<run>/readings/<uuid>`` is the same for a reading; its ``kind`` may be left out. ``DELETE``
at either address takes a press back, also before it came; it may be sent again.

``PUT runs/<run>/photos/<uuid>`` keeps a picture (the body is the file, at most 25 MB); the moment that shows it is an event of
its own and may come first. The picture becomes a photo of the recipe, not its leading one.

A body of an event or a cook is JSON of at most 16 kB.

``GET runs/<run>`` is the run as it stands: ``run, once, recipe, revision, servings, appliance, source, meter, started_at,
ended_at, pauses`` (pairs; the second null while paused), ``presses`` (``id, kind, at, said, replaces, amended, received_at,
withdrawn_at``; ``said`` as it came, ``at`` and ``amended`` what a form has moved or corrected since), ``stages`` (``kind,
label, starts_at, attended, press``), ``readings`` (typed and logged, not those of files: ``id, at``, figures, ``note,
origin``), ``moments`` (``id, at, text, photo``).

``GET runs/<run>/live`` is what the meter's devices sent last, within the run: ``{"run", "device": whether one may send, "last":
{"at", "energy_wh", "power_w", "charge_pct"} or null, "age_s", "since_start_wh": what its counter climbed since the first one in
the run, or null, "rows": the newest 120, the oldest first}``.

=======  ==================================================================================================
201      kept now
200      kept before, or taken back: nothing changes
401      nobody is signed in; keep it and try again after signing in
403      the form's secret is missing or old: fetch ``GET session`` for a fresh one, then try again
404      no such run, or not yours
409      this UUID says something else here already; ``kept`` is what
413      too long
422      something in it cannot be kept; ``error`` says what
429, 5xx try again later; 507 where the disk is full: photos are refused first, so send the presses behind one all the same
=======  ==================================================================================================

Every answer to the desk carries ``now``, the server's clock; an answer to a body with ``sent_at`` carries ``skew_s`` too, by how
much the phone's clock is ahead. ``at`` should be the server's time: the phone's, less the skew that it was last told.

``GET session`` says who is signed in (``{"cook": name or null, "csrf": token, "now"}``).

**Devices** (``Authorization: Bearer`` with a token of the meter; no session, no cookie).

``POST readings``: JSON lines, a JSON array or object, or CSV with a header; ``at`` (or ``t``: epoch in s or ms) and any of
``wh_total, kwh_total, w, kw, charge_pct``; without ``at`` the moment is now. At most 1 MB. The answer has a line for each line:
``{"line", "status": "accepted" | "duplicate" | "rejected" | "waiting", "reason"}`` with the counts of each. Sending again does no
harm. What would change an ended run of another cook than the device's waits for a word of that cook, and need not be sent again.
"""

from __future__ import annotations

from uuid import UUID

from django.http import HttpRequest, JsonResponse
from django.middleware.csrf import get_token
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from energy import access
from energy.gear.operations import save_gear
from energy.runs.forms.phone import EVENT_BYTES, read_cook, read_press
from energy.runs.operations.desk import KEPT, begin_cook, keep_press, take_back
from energy.runs.operations.desk_photos import keep_photo
from energy.runs.operations.judging import practice
from energy.runs.operations.summing import settle
from energy.runs.queries.desk_events import live_state, run_state
from energy.runs.queries.desk_presses import rfc3339
from energy.runs.views.api_answers import answer, answers, body_of, json_body
from kitchen.views.doors import hand_of
from kitchen.views.helping import for_helpers

PHOTO_BYTES = 25 << 20


@for_helpers
@never_cache
@require_safe
def session(request: HttpRequest) -> JsonResponse:
    """Who is signed in, and a fresh secret for forms. ``/api/v1/session``; anybody."""
    cook = request.user.get_username() if request.user.is_authenticated else None
    return JsonResponse({"cook": cook, "csrf": get_token(request), "now": rfc3339(timezone.now())})


@for_helpers
@answers("PUT")
def cook(request: HttpRequest, key: UUID) -> JsonResponse:
    """Start a cook. ``/api/v1/cooks/<uuid>``; who may edit the recipe; 201 once, 200 when it comes again."""
    now = timezone.now()
    said = read_cook(json_body(request, EVENT_BYTES), key=key, person=request.user, now=now)
    for gear in (said.details.appliance, said.details.source, said.details.meter):
        if gear.pk is None:
            save_gear(gear=gear, by=hand_of(request))
    run, fresh = begin_cook(cook=said, by=request.user, at=now)
    if fresh and said.said.get("practice"):
        practice(run=run, at=now)
    address = reverse("energy:run", args=[run.pk])
    kept = {"run": run.pk, "once": str(key), "page": address, "desk": f"{address}desk/", "status": "kept" if fresh else "known"}
    return answer(201 if fresh else 200, kept, said.skew_s)


@for_helpers
@answers("PUT", "DELETE")
def event(request: HttpRequest, run: str, key: UUID, kind: str = "") -> JsonResponse:
    """Keep one press, or take it back. ``/api/v1/runs/<run>/events/<uuid>``, ``.../readings/<uuid>``; who may edit the recipe."""
    now, found = timezone.now(), access.run_at_desk(request.user, run)
    if request.method == "DELETE":
        return answer(200, {"event": str(key), "run": found.pk, "status": take_back(run=found, key=key, by=request.user, at=now)})
    press = read_press(json_body(request, EVENT_BYTES), key=key, run=found, now=now, kind=kind)
    status = keep_press(run=found, press=press, by=request.user, at=now)
    return answer(201 if status == KEPT else 200, {"event": str(key), "run": found.pk, "status": status}, press.skew_s)


@for_helpers
@answers("GET", "HEAD")
def run_as_it_stands(request: HttpRequest, run: str) -> JsonResponse:
    """Return the run as it stands. ``/api/v1/runs/<run>``; who may edit the recipe."""
    found = access.run_at_desk(request.user, run)
    settle(run=found)
    return answer(200, run_state(found))


@for_helpers
@answers("PUT")
def photo(request: HttpRequest, run: str, key: UUID) -> JsonResponse:
    """Keep a picture. ``/api/v1/runs/<run>/photos/<uuid>``; who may edit the recipe; 201 once, 200 when it comes again."""
    found = access.run_at_desk(request.user, run)
    status = keep_photo(run=found, key=key, picture=body_of(request, PHOTO_BYTES), by=request.user, at=timezone.now())
    return answer(201 if status == KEPT else 200, {"photo": str(key), "run": found.pk, "status": status})


@for_helpers
@answers("GET", "HEAD")
def live(request: HttpRequest, run: str) -> JsonResponse:
    """Return what the meter's device sent last. ``/api/v1/runs/<run>/live``; who may edit the recipe."""
    return answer(200, live_state(access.run_at_desk(request.user, run), timezone.now()))
