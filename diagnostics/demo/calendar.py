"""The invented workshop's days, counted back from the day it is filled."""

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta


@dataclass(frozen=True, slots=True)
class Calendar:
    """Moments before `now`: everything in the demo has happened already."""

    now: datetime

    def at(self, days_ago: int, hour: int, minute: int = 0) -> datetime:
        """Return a time of day so many days ago.

        Examples
        --------
        >>> from datetime import UTC
        >>> Calendar(datetime(2026, 3, 10, 8, tzinfo=UTC)).at(2, 9, 30).isoformat()
        '2026-03-08T09:30:00+00:00'
        """
        clock = time(hour, minute, tzinfo=self.now.tzinfo)
        return datetime.combine(self.day(days_ago), clock)

    def day(self, days_ago: int) -> date:
        """Return the date so many days ago."""
        return (self.now - timedelta(days=days_ago)).date()
