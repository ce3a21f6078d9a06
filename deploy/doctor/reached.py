"""The address: whether the site is reached by it as the world sees it, and whether the settings fit it."""

from __future__ import annotations

import http.client
import socket
import ssl
from collections.abc import Iterator
from datetime import UTC, datetime
from urllib.parse import SplitResult, urlsplit

from django.conf import settings
from django.http import HttpRequest
from django.http.request import validate_host

from deploy.doctor.findings import Finding, ill, mind, well
from kitchen.queries import the_site

ABOUT = "Address"
_PATIENCE_S = 5.0
_SOON_DAYS = 14


def settings_of_address() -> Iterator[Finding]:
    """Compare the public address with the settings; asks nobody."""
    address = the_site().base_url
    if not address:
        yield mind(
            ABOUT, "No public address is entered, so cards and QR codes carry none.", "enter it under Settings on the bench"
        )
        return
    parts = urlsplit(address)
    if not validate_host((parts.hostname or "").lower(), settings.ALLOWED_HOSTS):
        words = f"The public address is {address}, and the site refuses that host."
        yield ill(ABOUT, words, f"WATTFARE_HOSTS={parts.hostname} in .env, then start it anew")
    elif (parts.scheme == "https") != settings.ENVIRONMENT.https:
        said = "on" if settings.ENVIRONMENT.https else "off"
        words = f"The public address is {address}, and WATTFARE_HTTPS is {said}."
        yield ill(ABOUT, words, f"WATTFARE_HTTPS={int(parts.scheme == 'https')} in .env, then start it anew")
    else:
        yield well(ABOUT, f"The settings fit the public address {address}.")


def as_the_world_sees_it() -> Iterator[Finding]:
    """Ask the public address, as somebody outside would; within seconds."""
    address = the_site().base_url
    if not address:
        return
    parts = urlsplit(address)
    try:
        status, body, days = _asked(parts)
    except ssl.SSLCertVerificationError as error:
        yield ill(
            "Outside", f"{address} has a certificate that is not trusted ({error.verify_message}).", "renew it at the proxy"
        )
        return
    except (OSError, http.client.HTTPException, ValueError) as error:
        words = f"{address} does not answer from here ({error or type(error).__name__})."
        yield ill("Outside", words, "look at the proxy, the name’s address and the firewall")
        return
    if status != 200 or body.strip() != b"ok":
        yield ill("Outside", f"{address} answers, and not as this program ({status}).", "look at the proxy’s upstream")
    elif days is not None and days < _SOON_DAYS:
        yield ill("Outside", f"The certificate of {address} ends in {days} days.", "renew it at the proxy")
    else:
        certified = f"; its certificate is good for {days} days" if days else ""
        yield well("Outside", f"{address} answers as this program{certified}.")


def _asked(parts: SplitResult) -> tuple[int, bytes, int | None]:
    """Return status and first bytes of ``/healthz`` there, and for how many days its certificate is good."""
    kind = http.client.HTTPSConnection if parts.scheme == "https" else http.client.HTTPConnection
    connection = kind(parts.hostname or "", parts.port, timeout=_PATIENCE_S)
    try:
        connection.request("GET", f"{parts.path.rstrip('/')}/healthz", headers={"User-Agent": "wattfare doctor"})
        days = _days_left(connection.sock)
        answer = connection.getresponse()
        return answer.status, answer.read(100), days
    finally:
        connection.close()


def _days_left(connected: socket.socket | None) -> int | None:
    if not isinstance(connected, ssl.SSLSocket):
        return None
    ends = (connected.getpeercert() or {}).get("notAfter")
    if not isinstance(ends, str):
        return None
    return (datetime.fromtimestamp(ssl.cert_time_to_seconds(ends), UTC) - datetime.now(UTC)).days


def as_it_was_asked(request: HttpRequest) -> Finding:
    """Return how the request that shows the page came in: what the proxy makes of it."""
    came = f"You came by {request.scheme}://{request.get_host()}"
    proto = request.headers.get("X-Forwarded-Proto")
    if proto and not settings.ENVIRONMENT.behind_proxy:
        words = f"{came}; a proxy says “{proto[:20]}”, which is not believed."
        return mind("Proxy", words, "WATTFARE_BEHIND_PROXY=1 in .env, if that proxy drops what visitors send in it")
    if settings.ENVIRONMENT.https and not request.is_secure():
        return ill(
            "Proxy", f"{came}, though WATTFARE_HTTPS is on.", "let the proxy set X-Forwarded-Proto; WATTFARE_BEHIND_PROXY=1"
        )
    return well("Proxy", f"{came}.")
