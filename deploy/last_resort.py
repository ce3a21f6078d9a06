"""What is answered where the computer itself refuses, outside of everything that the site answers by itself."""

from __future__ import annotations

import errno
import logging
from collections.abc import Callable, Iterable
from typing import Any

from deploy.bodies import TooMuchWaits

Environ = dict[str, Any]
Application = Callable[[Environ, Callable[..., Any]], Iterable[bytes]]

FULL = frozenset({errno.ENOSPC, errno.EDQUOT})
log = logging.getLogger(__name__)


def refusal_of(why: OSError) -> tuple[int, str, str]:
    """Return status, its name and a sentence for what the computer refused, and write it to the log."""
    if isinstance(why, TooMuchWaits):
        return 503, "Service Unavailable", "Too much is being sent to this site at this moment. Send it again in a minute."
    log.error("the computer refused", exc_info=why)
    if why.errno in FULL:
        return 507, "Insufficient Storage", "The disk of this site is full: nothing was kept. Make room, then send it again."
    return 500, "Internal Server Error", "The computer refused what this needs; what was typed is not kept. Its log says why."


class LastResort:
    """Answers where an error of the computer comes out of the site: the server would end the connection without a word."""

    def __init__(self, application: Application) -> None:
        self.application = application

    def __call__(self, environ: Environ, start_response: Callable[..., Any]) -> Iterable[bytes]:
        try:
            return self.application(environ, start_response)
        except OSError as why:
            status, reason, words = refusal_of(why)
        body = b"" if environ["REQUEST_METHOD"] == "HEAD" else f"{words}\n".encode()
        headers = [
            ("Content-Type", "text/plain; charset=utf-8"),
            ("Content-Length", str(len(body))),
            ("Cache-Control", "no-store"),
        ]
        start_response(f"{status} {reason}", headers)
        return [body]
