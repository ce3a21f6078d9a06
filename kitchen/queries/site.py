"""The one row that says whose kitchen this is."""

from __future__ import annotations

from datetime import datetime, timedelta, tzinfo
from functools import cached_property
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from django.utils import timezone

from kitchen.models import Recipe, Site


def the_site() -> Site:
    """Return the site's row, or an unsaved one with the defaults before anybody has set it up. One query."""
    site = Site.objects.first() or Site(pk=1)
    clock = timezone.get_current_timezone()
    if isinstance(clock, SiteClock):
        vars(clock).setdefault("zone", zone_called(site.time_zone))  # known now: it need not ask
    return site


def money_of_recipes() -> str:
    """Return the currency of a kitchen that has recipes, such as the example's; nothing before there are any. Two queries."""
    return the_site().currency if Recipe.objects.exists() else ""


def zone_called(name: str) -> tzinfo:
    """Return the zone of a name that the site's row holds; the server's where it holds none that is known."""
    try:
        return ZoneInfo(name) if name else timezone.get_default_timezone()
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return timezone.get_default_timezone()


class SiteClock(tzinfo):
    """The site's own zone, asked for when a moment is first read by it: most answers read none. One query."""

    @cached_property
    def zone(self) -> tzinfo:
        """The zone itself."""
        return zone_called(Site.objects.values_list("time_zone", flat=True).first() or "")

    def utcoffset(self, dt: datetime | None) -> timedelta | None:
        return self.zone.utcoffset(dt)

    def dst(self, dt: datetime | None) -> timedelta | None:
        return self.zone.dst(dt)

    def tzname(self, dt: datetime | None) -> str | None:
        return str(self.zone) if dt is None else self.zone.tzname(dt)

    def fromutc(self, dt: datetime) -> datetime:
        return self.zone.fromutc(dt.replace(tzinfo=self.zone))
