"""How long a body may be, and bodies that come in chunks, without a length (RFC 9112, 7.1): read first, so that it is known.

Django reads as many bytes as the head of a request says, and none where it says nothing: what a device sends as it comes would
be lost without a word.
"""

from __future__ import annotations

import re
import tempfile
from collections.abc import Callable, Iterable
from typing import IO, Any

from django.conf import settings

Environ = dict[str, Any]
Application = Callable[[Environ, Callable[..., Any]], Iterable[bytes]]

IN_MEMORY_BYTES = 1 << 20
PIECE = 1 << 16
_BROKEN = b"This request broke off, or its chunks are malformed. Send it again."


def most_bytes(path: str, *, has_session: bool) -> int:
    """Return how much may be sent to an address: more where a cook who has a session sends a meter's file."""
    sends_log = has_session and re.fullmatch(settings.LOG_ADDRESSES, path)
    return int(settings.MAX_LOG_BYTES + (1 << 20) if sends_log else settings.MAX_REQUEST_BYTES)


class ChunkedBodies:
    """Gives a chunked body its length. One that is too long is read no further; its length then says so."""

    def __init__(self, application: Application) -> None:
        self.application = application

    def __call__(self, environ: Environ, start_response: Callable[..., Any]) -> Iterable[bytes]:
        if environ.get("CONTENT_LENGTH") or not _is_chunked(environ):
            return self.application(environ, start_response)
        has_session = settings.SESSION_COOKIE_NAME in environ.get("HTTP_COOKIE", "")
        most = most_bytes(environ.get("PATH_INFO", ""), has_session=has_session)
        with tempfile.SpooledTemporaryFile(max_size=IN_MEMORY_BYTES) as body:
            try:
                environ["CONTENT_LENGTH"] = str(_read_into(body, environ["wsgi.input"], most))
            except Exception:  # whatever the server's parser finds wrong in the chunks
                start_response("400 Bad Request", [("Content-Type", "text/plain"), ("Content-Length", str(len(_BROKEN)))])
                return [_BROKEN]
            body.seek(0)
            environ["wsgi.input"] = body
            return self.application(environ, start_response)


def _is_chunked(environ: Environ) -> bool:
    """Whether a body comes in chunks and the server says where it ends."""
    coded = environ.get("HTTP_TRANSFER_ENCODING", "").lower()
    return "chunked" in coded and bool(environ.get("wsgi.input_terminated"))


def _read_into(body: IO[bytes], sent: IO[bytes], most_bytes: int) -> int:
    """Return how many bytes came; at most one piece more than may be sent is taken in."""
    taken = 0
    while taken <= most_bytes and (piece := sent.read(PIECE)):
        taken += body.write(piece)
    return taken
