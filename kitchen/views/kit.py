"""The reader's kit: typed once, remembered by the browser, and carried to any page in that page's address.

This is the one public address that reads or writes a cookie of the reader's. Pages answer for the kit that their address names,
or for the recipe's own kitchen; a script, or a link where there is none, leads from here to the page for the remembered kit.
"""

from __future__ import annotations

from urllib.parse import parse_qsl

from django.conf import settings
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme, urlencode

from kitchen.forms.kit import CALLED, KitReading, called, cookie_text, field_names, read_kit, remembered_kit
from kitchen.queries import the_site
from kitchen.views.doors import of_anybody
from kitchen.views.framing import whole_address

_YEAR_S = 365 * 24 * 3600


@of_anybody
def kit(request: HttpRequest) -> HttpResponse:
    """The kit's page. Address ``/kit/``; anybody; ``?to=`` names the page to lead on to, else the library.

    ``?kit=keep`` remembers what was typed and leads on with it, ``?kit=forget`` drops it and leads on without; ``?kit=use`` leads
    on with what is remembered. What cannot be read is said beside its field (400), and nothing is remembered; 404 where nothing
    is remembered that could be used.
    """
    wish, typed = request.GET.get("kit"), read_kit(request.GET.dict())
    reading = typed if typed.typed else remembered_kit(request.COOKIES.get(settings.KIT_COOKIE_NAME))
    if wish == "forget" or (reading.sound and (wish == "keep" or (wish == "use" and reading.query))):
        carried = {} if wish == "forget" else reading.query
        answer: HttpResponse = HttpResponseRedirect(_way_on(request, carried, fits=wish == "keep" and bool(reading.limits)))
        if wish != "use":
            _remember(request, answer, None if wish == "forget" else reading)
    else:
        status = 400 if not reading.sound else 404 if wish == "use" else 200
        context = {"kit": reading, "to": request.GET.get("to", ""), "onward": _way_on(request, reading.query, fits=True)}
        context["called"] = called(request.GET.dict())
        answer = render(request, "kitchen/kit.html", context, status=status)
    answer["Cache-Control"] = "private, no-store"
    return answer


@of_anybody
def kit_pass_on(request: HttpRequest) -> HttpResponse:
    """A kit as an address to pass on, alone or with a page. Address ``/kit/pass-on/``; anybody; ``?to=`` names the page.

    The kit is the one that the address carries, else the remembered one; without one that can be read it leads to the kit's page.
    """
    typed = read_kit(request.GET.dict())
    reading = typed if typed.typed else remembered_kit(request.COOKIES.get(settings.KIT_COOKIE_NAME))
    if not reading.query or not reading.sound:
        return HttpResponseRedirect(reverse("kitchen:kit"))
    site, name = the_site(), called({**reading.query, CALLED: request.GET.get(CALLED, "")})
    carried = {**reading.query, **({CALLED: name} if name else {})}
    context = {
        "kit": reading,
        "called": name,
        "to": request.GET.get("to", ""),
        "page_title": "The page you came from, for this kit" if request.GET.get("to") else "The library, for this kit",
        "alone": whole_address(request, site, f"{reverse('kitchen:kit')}?{urlencode(carried)}"),
        "with_page": whole_address(request, site, _way_on(request, carried, fits=bool(reading.limits))),
    }
    answer = render(request, "kitchen/kit-pass-on.html", context)
    answer["Cache-Control"] = "private, no-store"
    return answer


def _way_on(request: HttpRequest, carried: dict[str, str], *, fits: bool) -> str:
    """Return the address that was named, for another kit; where none was, the library, of what ``fits`` where that is asked."""
    named, library = request.GET.get("to", ""), reverse("kitchen:library")
    if not named.startswith("/") or not url_has_allowed_host_and_scheme(named, allowed_hosts=None):
        named = f"{library}?fits=on" if fits else library
    path, _, query = named.partition("?")
    kept = [(name, typed) for name, typed in parse_qsl(query) if name not in {*field_names(), CALLED, "kit"}]
    whole = urlencode([*kept, *carried.items()])
    return f"{path}?{whole}" if whole else path


def _remember(request: HttpRequest, answer: HttpResponse, kit: KitReading | None) -> None:
    """Let the reader's browser remember a kit, or forget it. Scripts may see that there is one: it names nobody."""
    text = "{}" if kit is None else cookie_text(kit)
    if text == "{}":
        answer.delete_cookie(settings.KIT_COOKIE_NAME, samesite="Lax")
    else:
        answer.set_cookie(settings.KIT_COOKIE_NAME, text, max_age=_YEAR_S, samesite="Lax", secure=request.is_secure())
