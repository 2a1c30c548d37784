"""How often somebody may knock: a counter that no two requests can share."""

from django.core.cache import cache


def too_many(*, what: str, who: str, limit: int, window_s: int) -> bool:
    """Count one attempt; say whether it is beyond the limit of its window.

    Adding and counting up are single operations of the cache, so parallel attempts
    cannot slip through between reading and writing.
    """
    key = f"attempts:{what}:{who}"
    if cache.add(key, 1, window_s):
        return limit < 1
    try:
        return cache.incr(key) > limit
    except ValueError:
        # The window ended between the two calls: this attempt opens a new one.
        cache.add(key, 1, window_s)
        return limit < 1
