"""A device in words, from what its browser says of itself."""

UNKNOWN = "Unknown device"
PROGRAM = "A program"

# The first that is found names it; what contains another's name stands before it.
_BROWSERS = (
    ("Edg", "Edge"),
    ("OPR/", "Opera"),
    ("Firefox/", "Firefox"),
    ("FxiOS", "Firefox"),
    ("CriOS", "Chrome"),
    ("Chrome/", "Chrome"),
    ("Safari/", "Safari"),
)
_SYSTEMS = (
    ("iPhone", "a phone (iOS)"),
    ("iPad", "a tablet (iOS)"),
    ("Android", "Android"),
    ("Windows", "Windows"),
    ("Mac OS X", "macOS"),
    ("CrOS", "ChromeOS"),
    ("Linux", "Linux"),
)


def device_words(user_agent: str) -> str:
    """Return the browser and what it runs on; what it says is not to be trusted.

    Examples
    --------
    >>> device_words("Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Firefox/140.0")
    'Firefox on Linux'
    >>> device_words("")
    'Unknown device'
    """
    if not user_agent.strip():
        return UNKNOWN
    browser = _first(_BROWSERS, user_agent)
    system = _first(_SYSTEMS, user_agent)
    if system == "Android":
        system = "an Android " + ("phone" if "Mobile" in user_agent else "tablet")
    if browser and system:
        return f"{browser} on {system}"
    return browser or system or PROGRAM


def _first(table: tuple[tuple[str, str], ...], text: str) -> str:
    return next((words for sign, words in table if sign in text), "")
