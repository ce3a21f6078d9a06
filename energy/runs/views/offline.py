"""What stays openable without a signal: the desk's empty shell, the page that says so, the worker that keeps both."""

from __future__ import annotations

import hashlib
import json
import re
from functools import cache
from pathlib import Path

from django.conf import settings
from django.contrib.auth.decorators import login_required
from django.contrib.staticfiles import finders
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.template import Engine
from django.template.loader import render_to_string
from django.templatetags.static import static
from django.urls import reverse
from django.views.decorators.http import require_safe

from energy.runs.forms.desk_press import PressForm
from kitchen.views.doors import of_anybody
from kitchen.views.helping import for_helpers

_FONTS = (
    "enamel-sans-400-latin",
    "enamel-sans-400-more",
    "enamel-sans-600-latin",
    "enamel-serif-600-latin",
    "enamel-serif-600-more",
)


@of_anybody
def desk_shell(request: HttpRequest) -> HttpResponse:
    """The desk without a run: the script fills it from the phone. ``/desk-shell/``; anybody; holds nothing of anybody's."""
    return _unlisted(render(request, "energy/desk/shell.html", {"form": PressForm()}))


@of_anybody
def offline_page(request: HttpRequest) -> HttpResponse:
    """Say that there is no signal, and what this device has all the same. ``/offline/``; anybody."""
    return _unlisted(render(request, "energy/desk/offline.html"))


@of_anybody
def worker(request: HttpRequest) -> HttpResponse:
    """The service worker. ``/worker.js``; anybody. What it keeps stands in front of it, so that a new file makes a new worker."""
    text = worker_text() if settings.DEBUG else _worker_text_once()
    return HttpResponse(text, content_type="text/javascript; charset=utf-8", headers={"Cache-Control": "no-cache"})


def worker_text() -> str:
    """Return the worker's script with the list of what it keeps, and a version that changes with any byte of that."""
    pages = [render_to_string("energy/desk/shell.html", {"form": PressForm()}), render_to_string("energy/desk/offline.html")]
    body = _as_plain_script(_bytes_of("js/desk-store.js")) + _bytes_of("js/worker.js").decode()
    names = shell_files()
    digest = hashlib.sha256(b"".join([*map(_bytes_of, names), *(text.encode() for text in [*pages, body])]))
    said = {
        "version": digest.hexdigest()[:16],
        "files": [static(name) for name in names],
        "shell": reverse("energy:desk-shell"),
        "offline": reverse("energy:offline"),
    }
    return f"self.SHELL = {json.dumps(said)};\n{body}"


_worker_text_once = cache(worker_text)


def shell_files() -> list[str]:
    """Return the names of the files that the shell and the page for no signal link to, and the typefaces."""
    frames = ("frame", "modules", "scripts", "offline")
    texts = [Engine.get_default().get_template(f"energy/desk/{name}.html").source for name in frames]
    return sorted({*re.findall(r"static '([^']+)'", "".join(texts)), *(f"fonts/{name}.woff2" for name in _FONTS)})


def _as_plain_script(module: bytes) -> str:
    """Return a module that imports nothing as a script, since not every browser runs a worker that is a module."""
    return re.sub(r"^export ", "", module.decode(), flags=re.M)


def _bytes_of(name: str) -> bytes:
    """Return a file's bytes from the source folders; nothing where they are not there."""
    path = finders.find(name)
    return Path(path).read_bytes() if path else name.encode()


@for_helpers
@login_required
@require_safe
def device(request: HttpRequest) -> HttpResponse:
    """What this browser can do without a signal. ``/bench/device/``; any signed-in cook; the script finds it out."""
    return render(request, "energy/desk/device.html")


def _unlisted(answer: HttpResponse) -> HttpResponse:
    answer.headers["X-Robots-Tag"] = "noindex"
    return answer
