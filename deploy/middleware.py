"""What every response says about itself and carries, and how large a request may be."""

from __future__ import annotations

from collections.abc import Callable

from django.conf import settings
from django.http import HttpRequest, HttpResponse

from deploy.errors import too_large

# No nonces and no 'unsafe-inline': pages hold no script and no style of their own, so the same policy serves every page.
CONTENT_SECURITY_POLICY = "; ".join(
    [
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data:",
        "font-src 'self'",
        "connect-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
        "manifest-src 'self'",
    ]
)
PERMISSIONS_POLICY = "camera=(), geolocation=(), microphone=(), payment=(), usb=(), interest-cohort=()"

GetResponse = Callable[[HttpRequest], HttpResponse]


class PolicyHeaders:
    """Adds the security policies. A view that sets one of these headers itself (a page made for embedding) keeps its own."""

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        response.headers.setdefault("Content-Security-Policy", CONTENT_SECURITY_POLICY)
        response.headers.setdefault("Permissions-Policy", PERMISSIONS_POLICY)
        return response


class EmptyHead:
    """Takes the body out of the answer to a HEAD request and leaves the length that it would have had."""

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        if request.method == "HEAD" and not response.streaming:
            length = response.headers.get("Content-Length", str(len(response.content)))
            response.content = b""
            response.headers["Content-Length"] = length
        return response


class RequestLimit:
    """Answers a request whose body is larger than any form here needs with a plain page, before anything reads it."""

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if _declared_bytes(request) > settings.MAX_REQUEST_BYTES:
            return too_large(request)
        return self.get_response(request)


def _declared_bytes(request: HttpRequest) -> int:
    declared = request.META.get("CONTENT_LENGTH") or "0"
    return int(declared) if declared.isascii() and declared.isdigit() else 0
