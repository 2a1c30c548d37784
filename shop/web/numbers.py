"""Numbers of rows that come in an address."""

from django.http import HttpRequest

_MOST_DIGITS = 18


def number_in_query(request: HttpRequest, name: str) -> int | None:
    """Return a row's number from the query; nothing where there is none to read."""
    raw = request.GET.get(name, "")
    if raw.isascii() and raw.isdecimal() and len(raw) <= _MOST_DIGITS:
        return int(raw)
    return None
