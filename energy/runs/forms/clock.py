"""The first column of a log: minutes since the start, or the clock on the wall, over midnight too."""

from __future__ import annotations

import re
from datetime import datetime, time, timedelta
from typing import Any

from django.core.exceptions import ValidationError
from django.utils import timezone

from energy.form_fields import MinuteField

COLONS = [("span", "hours and minutes since the start, like 1:05"), ("clock", "the time on the clock, like 18:42")]

_LONGEST_BY_CLOCK_S = 12 * 3600.0
_CLOCK = re.compile(r"^(\d{1,2}):([0-5]\d)(?::([0-5]\d))?\s*(?:([ap])\.?m\.?)?$", re.IGNORECASE)
_HALF_DAY_H = 12


class AtField(MinuteField):
    """A moment of a cook: a minute, or a time of day once ``read_clock`` was told when the cook began. Cleans to seconds."""

    by_clock = False
    start: datetime | None = None

    def read_clock(self, start: datetime | None) -> None:
        """Take what holds a colon for the time of day; ``start`` is None where nobody could read when the cook began."""
        self.by_clock, self.start = True, start

    def to_python(self, value: Any) -> float | None:
        found = _CLOCK.match(str(value or "").replace("\u00a0", " ").replace("\u202f", " ").strip())
        if found and (found[4] or self.by_clock):
            return self._since_start(str(value), _time_of_day(str(value), *found.groups()))
        try:
            return super().to_python(value)
        except ValidationError:
            if not self.by_clock:
                raise
            words = "“%(value)s” is not a time. Type the clock, like 18:42, or minutes since the start, like 12."
            raise ValidationError(words, params={"value": value}) from None

    def _since_start(self, typed: str, clock: time) -> float:
        if self.start is None:
            raise ValidationError(
                "“%(typed)s” needs the day and the time at which it was switched on. Put these right above.",
                params={"typed": typed},
            )
        start = timezone.localtime(self.start)
        days = [start.date() + timedelta(days=later) for later in (0, 1)]
        # In seconds since the epoch: two instants of one zone are subtracted by the wall, which forgets that clocks change.
        spans = [timezone.make_aware(datetime.combine(day, clock)).timestamp() - self.start.timestamp() for day in days]
        # A clock on the wall shows no seconds: the minute in which it was switched on is minute 0.
        span_s = next((max(0.0, span) for span in spans if span > -60), spans[-1])
        if span_s > _LONGEST_BY_CLOCK_S:
            raise ValidationError(_too_late(typed, start, span_s))
        return span_s


def _time_of_day(typed: str, hours: str, minutes: str, seconds: str | None, half: str | None) -> time:
    """Return the time of day that was typed, on the 24-hour clock or with am or pm."""
    hour = int(hours)
    if half and 1 <= hour <= _HALF_DAY_H:
        hour = hour % _HALF_DAY_H + (_HALF_DAY_H if half.lower() == "p" else 0)
    elif half:
        hour = 24
    try:
        return time(hour, int(minutes), int(seconds or 0))
    except ValueError as error:
        raise ValidationError("“%(typed)s” is no time of day. Type it like 18:42.", params={"typed": typed}) from error


def _too_late(typed: str, start: datetime, span_s: float) -> str:
    hours, minutes = divmod(round(span_s / 60), 60)
    return (
        f"{typed.strip()} would be {hours}\u00a0h {minutes}\u00a0min after the start at {start:%H:%M}. "
        "Correct one of them: times run over 24 hours, like 18:42. In a longer cook, type minutes since the start."
    )
