"""What phones and devices send: JSON in, JSON out. This page is the contract that the run desk's script is written against.

All addresses begin with ``/api/v1/``. Answers are JSON objects; a refusal is ``{"error": a sentence, "field": name, "value": as
sent}``, the last two where one field is at fault. Instants are RFC 3339 with a zone; figures carry their unit in the name.

**The run desk** (a signed-in cook's session and the ``X-CSRFToken`` header; whoever may edit the recipe). ``<run>`` is a run's
number, or the UUID that it was started under.

``PUT cooks/<uuid>`` starts a cook. ``{"recipe": slug, "revision": number, "appliance": id, "source": id, "meter": id, "servings",
"started_at", "ambient_c", "food_start_c", "altitude_m", "note", "sent_at"}``; the answer names ``run`` and ``desk``.

``PUT runs/<run>/events/<uuid>`` keeps one press: ``{"kind", "at", "sent_at", "replaces"}`` and by kind

===========  =======================================================================================
``reading``  any of ``energy_wh`` (the counter as displayed), ``power_w``, ``charge_pct``; ``note``
``stage``    ``stage`` (a stage kind), ``label``
``moment``   ``text``, ``photo`` (the UUID of a photo sent to ``runs/<run>/photos/<uuid>``)
``pause``, ``resume``, ``finish``  nothing more
===========  =======================================================================================

``replaces`` names an earlier press that this one corrects. ``PUT runs/<run>/readings/<uuid>`` is the same for a reading; its
``kind`` may be left out. ``DELETE`` at either address takes a press back, also before it came; it may be sent again.

``PUT runs/<run>/photos/<uuid>`` keeps a picture (the body is the file); the moment that shows it is an event of its own.

``GET runs/<run>`` is the run as it stands: presses, stages, pauses, the end. ``GET runs/<run>/live`` is what the meter's device
sent last.

=======  ==================================================================================================
201      kept now
200      kept before, or taken back: nothing changes
401      nobody is signed in; keep it and try again after signing in
403      the form's secret is missing or old: fetch ``GET session`` for a fresh one, then try again
404      no such run, or not yours
409      this UUID says something else here already; ``kept`` is what
413      too long
422      something in it cannot be kept; ``error`` says what
429, 5xx try again later
=======  ==================================================================================================

Every answer to the desk carries ``now``, the server's clock; an answer to a body with ``sent_at`` carries ``skew_s`` too, by how
much the phone's clock is ahead. ``at`` should be the server's time: the phone's, less the skew that it was last told.

``GET session`` says who is signed in (``{"cook": name or null, "csrf": token, "now"}``).

**Devices** (``Authorization: Bearer`` with a token of the meter; no session, no cookie).

``POST readings``: JSON lines, a JSON array or object, or CSV with a header; ``at`` (or ``t``: epoch in s or ms) and any of
``wh_total, kwh_total, w, kw, charge_pct``; without ``at`` the moment is now. At most 1 MB. The answer has a line for each line:
``{"line", "status": "accepted" | "duplicate" | "rejected", "reason"}`` with the counts of each. Sending again does no harm.
"""
