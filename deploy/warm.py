"""What is done before the workers are forked, so that they share it and the first reader does not wait for it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any
from wsgiref.util import setup_testing_defaults

from django.conf import settings
from django.db import DatabaseError, connections

from kitchen.domain.technical_units import ask_pint_now
from kitchen.models import Recipe
from kitchen.publish.paper import print_frame

Application = Callable[[dict[str, Any], Callable[..., Any]], Iterable[bytes]]

# Every face and weight of the two families, some figures, and a drawing: what a card needs the first time.
SPECIMEN = """<!doctype html><html lang="en"><head><title>Specimen</title></head><body>
<h1>Wattfare 0123456789 ½ °C</h1><p>Watt-hours <b>a serving</b> at the plug</p>
<svg xmlns="http://www.w3.org/2000/svg" width="20" height="10"><rect width="20" height="10"/></svg></body></html>"""


def warm_up(application: Application) -> None:
    """Ask for every unit; look at the library, one published page and its card as a reader would, or set a small specimen."""
    ask_pint_now()
    try:
        slugs = list(Recipe.objects.filter(current_edition__isnull=False).values_list("slug", flat=True)[:1])
    except DatabaseError:  # not prepared yet; whoever asks for a page will be told
        slugs = []
    if not slugs:
        print_frame(SPECIMEN, 400, 300, "css/paper.css")
    for slug in slugs:
        for address in ("/", f"/r/{slug}/", f"/r/{slug}/card.pdf"):
            visit(application, address)
    connections.close_all()


def visit(application: Application, address: str) -> str:
    """Ask the application for an address, read the answer to its end, and return its status line."""
    environ = {"PATH_INFO": address, "HTTP_HOST": "127.0.0.1", "REMOTE_ADDR": "127.0.0.1"}
    setup_testing_defaults(environ)
    if settings.SECURE_SSL_REDIRECT:
        environ.update({"wsgi.url_scheme": "https", "HTTP_X_FORWARDED_PROTO": "https"})
    said: list[str] = []
    answer = application(environ, lambda status, *_rest: said.append(status))
    try:
        for _piece in answer:
            pass
    finally:
        if close := getattr(answer, "close", None):
            close()
    return said[0]
