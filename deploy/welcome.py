"""What the terminal says when the site is up."""

from __future__ import annotations

from django.urls import reverse
from django.utils import timezone

from deploy.environment import EVERY_ADDRESS, Environment
from kitchen.operations import LinkIsDead, first_link_token


def welcome_lines(environment: Environment) -> list[str]:
    """Return the site's address, and the one-time link for the owner's account while there is none."""
    address = site_address(environment)
    lines = [f"Wattfare is at {address}/ (Ctrl-C stops it)"]
    try:
        link = address + reverse("kitchen:start", args=[first_link_token(at=timezone.now())])
        lines.append(f"Make your account with this link, which works once: {link}")
    except LinkIsDead:  # somebody owns the kitchen already
        pass
    return lines


def site_address(environment: Environment) -> str:
    """Return the address by which the site is reached, without a slash at its end."""
    if environment.https:
        return f"https://{environment.hosts[0]}"
    host = environment.hosts[0] if environment.bind_host in EVERY_ADDRESS else environment.bind_host
    return f"http://{host}:{environment.bind_port}"
