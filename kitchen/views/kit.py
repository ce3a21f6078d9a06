"""The reader's kit on a page of its own: typed once, remembered by the browser, used by the shelf and by every recipe."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.urls import reverse

from kitchen.forms.kit import KIT_COOKIE, read_kit
from kitchen.views.doors import of_anybody
from kitchen.views.showing import draw, keep_kit


@of_anybody
def kit(request: HttpRequest) -> HttpResponse:
    """The kit's page. Address ``/kit/``; anybody; ``?kit=keep`` remembers what was typed, ``?kit=forget`` drops it.

    Both lead back to the shelf; what cannot be read is said beside its field (400) and nothing is remembered.
    """
    reading = read_kit(request.GET.dict(), request.COOKIES.get(KIT_COOKIE))
    wish = request.GET.get("kit")
    if wish == "forget" or (wish == "keep" and reading.sound):
        answer = HttpResponseRedirect(reverse("kitchen:library") + ("?fits=on" if wish == "keep" and reading.limits else ""))
        return keep_kit(request, answer, reading if wish == "keep" else None)
    return draw(request, "kitchen/kit.html", {"kit": reading}, status=200 if reading.sound else 400)
