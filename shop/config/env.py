"""Typed readers for environment variables; a wrong value stops the start."""

import os
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import parse_qsl, unquote, urlsplit

from babel import Locale, UnknownLocaleError
from django.core.exceptions import ImproperlyConfigured

_TRUE = {"1", "true", "yes", "on"}
_FALSE = {"0", "false", "no", "off"}


def env_text(name: str, default: str) -> str:
    """Return the variable's text, or the default where it is unset or empty."""
    return os.environ.get(name) or default


def env_bool(name: str, *, default: bool) -> bool:
    """Return a yes or no; anything that is neither is refused."""
    raw = os.environ.get(name)
    if not raw:
        return default
    if raw.lower() in _TRUE:
        return True
    if raw.lower() in _FALSE:
        return False
    raise ImproperlyConfigured(f"{name}={raw!r} is neither yes nor no")


def env_int(name: str, default: int, *, at_least: int = 0) -> int:
    """Return a whole number, not below the bound."""
    raw = os.environ.get(name)
    if not raw:
        return default
    try:
        number = int(raw)
    except ValueError:
        raise ImproperlyConfigured(f"{name}={raw!r} is not a whole number") from None
    if number < at_least:
        raise ImproperlyConfigured(f"{name}={raw!r} is below {at_least}")
    return number


def env_choice(name: str, default: str, *, choices: tuple[str, ...]) -> str:
    """Return one of a few words."""
    chosen = env_text(name, default)
    if chosen not in choices:
        raise ImproperlyConfigured(f"{name}={chosen!r} is none of {', '.join(choices)}")
    return chosen


def env_locale(name: str, default: str) -> str:
    """Return a locale that amounts and dates can be written in, such as `en_IE`."""
    chosen = env_text(name, default)
    try:
        Locale.parse(chosen)
    except (ValueError, UnknownLocaleError):
        raise ImproperlyConfigured(
            f"{name}={chosen!r} is not a locale such as en_GB or de_CH"
        ) from None
    return chosen


def env_list(name: str, default: str) -> list[str]:
    """Return the comma-separated words."""
    return [word.strip() for word in env_text(name, default).split(",") if word.strip()]


def env_secret(name: str) -> str | None:
    """Return a secret, from the variable or from the file that NAME_FILE names."""
    if path := os.environ.get(f"{name}_FILE"):
        try:
            secret = Path(path).read_text(encoding="utf-8").strip()
        except OSError as error:
            raise ImproperlyConfigured(
                f"{name}_FILE={path!r} cannot be read: {error.strerror}"
            ) from None
        if not secret:
            raise ImproperlyConfigured(f"{name}_FILE={path!r} is an empty file")
        return secret
    return os.environ.get(name) or None


def database_from_url(url: str) -> dict[str, object]:
    """Return Django's settings for `sqlite:///PATH` or `postgresql://...`.

    SQLite runs in WAL with IMMEDIATE transactions: without these, concurrent
    writers fail with "database is locked" (measured; see DEVELOPERS.md).
    """
    parts = urlsplit(url)
    if parts.scheme == "sqlite":
        return {
            "ENGINE": "django.db.backends.sqlite3",
            "NAME": unquote(parts.path[1:]),
            "OPTIONS": {
                "transaction_mode": "IMMEDIATE",
                "timeout": 20,
                "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL;",
            },
        }
    if parts.scheme in {"postgres", "postgresql"}:
        return {
            "ENGINE": "django.db.backends.postgresql",
            "NAME": unquote(parts.path[1:]),
            "USER": unquote(parts.username or ""),
            "PASSWORD": unquote(parts.password or ""),
            "HOST": parts.hostname or "",
            "PORT": str(parts.port or ""),
            "CONN_MAX_AGE": 60,
            "CONN_HEALTH_CHECKS": True,
            "OPTIONS": dict(parse_qsl(parts.query)),
        }
    raise ImproperlyConfigured(f"LOOM_DATABASE_URL: no database is called {url!r}")


def cache_from_url(url: str) -> dict[str, object]:
    """Return Django's settings for `memory://` or `redis://...`."""
    scheme = urlsplit(url).scheme
    if scheme == "memory":
        return {"BACKEND": "django.core.cache.backends.locmem.LocMemCache"}
    if scheme in {"redis", "rediss"}:
        return {
            "BACKEND": "django.core.cache.backends.redis.RedisCache",
            "LOCATION": url,
        }
    raise ImproperlyConfigured(
        f"LOOM_CACHE_URL={url!r} is neither memory:// nor redis://..."
    )


@dataclass(frozen=True, slots=True)
class Mail:
    """How letters leave the house."""

    backend: str
    host: str = ""
    port: int = 25
    user: str = ""
    starttls: bool = False
    tls: bool = False


def mail_from_url(url: str) -> Mail:
    """Return how to send mail for `console://` or `smtp://user@host:587?tls=start`.

    `tls` is `start` (STARTTLS), `yes` (TLS from the first byte) or absent (none).
    The password has a variable of its own, so that it can come from a file.
    """
    parts = urlsplit(url)
    if parts.scheme == "console":
        return Mail("django.core.mail.backends.console.EmailBackend")
    if parts.scheme != "smtp" or not parts.hostname:
        raise ImproperlyConfigured(
            f"LOOM_EMAIL_URL={url!r} is neither console:// nor smtp://user@host:port"
        )
    tls = dict(parse_qsl(parts.query)).get("tls", "no")
    if tls not in {"start", "yes", "no"}:
        raise ImproperlyConfigured(
            f"LOOM_EMAIL_URL: tls={tls!r} is none of start, yes, no"
        )
    return Mail(
        "django.core.mail.backends.smtp.EmailBackend",
        host=parts.hostname,
        port=parts.port or {"start": 587, "yes": 465, "no": 25}[tls],
        user=unquote(parts.username or ""),
        starttls=tls == "start",
        tls=tls == "yes",
    )
