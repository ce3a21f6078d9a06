"""What devices send: readings of a meter, with a token. The contract stands in ``energy.runs.views.api``."""

from __future__ import annotations

from collections import Counter

from django.http import HttpRequest, JsonResponse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.csrf import csrf_exempt

from energy.meters.domain.device_lines import TooMany, read_lines
from energy.meters.operations.device_readings import ACCEPTED, DUPLICATE, REJECTED, WAITING, LineResult, keep_sent
from energy.meters.operations.devices import TooOften, admit_device
from energy.runs.domain.wire import Unfit
from energy.runs.views.api_answers import TooLong, answer, body_of, refusal
from kitchen.views.helping import for_helpers

MOST_BYTES = 1 << 20


@for_helpers
@csrf_exempt
@never_cache
def readings(request: HttpRequest) -> JsonResponse:
    """Keep what a device sends of its meter. ``/api/v1/readings`` (POST); whoever has a token of it; a result for each line."""
    if request.method != "POST":
        refused = refusal(405, f"This address takes POST, not {request.method}.")
        refused.headers["Allow"] = "POST"
        return refused
    now = timezone.now()
    try:
        device = admit_device(token=_token(request), at=now)
        if device is None:
            return _unknown()
        lines = read_lines(_text(body_of(request, MOST_BYTES)), now)
    except TooOften as often:
        refused = refusal(429, str(often))
        refused.headers["Retry-After"] = str(often.wait_s)
        return refused
    except (TooLong, TooMany) as much:
        return refusal(413, str(much))
    except Unfit as unfit:
        return refusal(422, str(unfit), unfit.field, unfit.value)
    return _answer_lines(keep_sent(device=device, lines=lines, at=now))


def _token(request: HttpRequest) -> str:
    scheme, _, token = request.headers.get("Authorization", "").partition(" ")
    return token.strip() if scheme.lower() == "bearer" else ""


def _unknown() -> JsonResponse:
    refused = refusal(401, "No device has this token, or it may send no more. Make one on the meter’s page.")
    refused.headers["WWW-Authenticate"] = "Bearer"
    return refused


def _text(body: bytes) -> str:
    try:
        return body.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Unfit("This is not text in UTF-8.") from None


def _answer_lines(results: list[LineResult]) -> JsonResponse:
    counts = Counter(result.status for result in results)
    lines = [{"line": one.line, "status": one.status, **({"reason": one.reason} if one.reason else {})} for one in results]
    return answer(200, {**{status: counts[status] for status in (ACCEPTED, DUPLICATE, REJECTED, WAITING)}, "lines": lines})
