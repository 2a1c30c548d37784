"""System checks: settings that are each right but do not fit each other.

`manage.py check` runs those that hold always; `check --deploy` also those that
only matter where real work is done.
"""

import os
from urllib.parse import urlsplit

from django.conf import settings
from django.core.checks import CheckMessage, Error, Tags, register
from django.core.checks import Warning as Caveat

_LOCAL = {"localhost", "127.0.0.1", "[::1]", "testserver"}
_MEMORY_BROKER = "memory:"


@register(Tags.security)
def demo_stays_at_home(**_kwargs: object) -> list[CheckMessage]:
    """Refuse a demo that the world can reach: its key and passwords are known."""
    strangers = sorted(set(settings.ALLOWED_HOSTS) - _LOCAL)
    if not settings.DEMO or not strangers:
        return []
    return [
        Error(
            f"The demo would answer as {', '.join(strangers)}; "
            "its secret key and passwords are known to everybody.",
            hint="Unset LOOM_DEMO and set LOOM_SECRET_KEY, "
            "or leave LOOM_ALLOWED_HOSTS as it is.",
            id="shop.E001",
        )
    ]


@register(Tags.compatibility)
def broker_reaches_the_workers(**_kwargs: object) -> list[CheckMessage]:
    """Refuse an in-process broker where there are several processes."""
    is_memory = settings.CELERY_BROKER_URL.startswith(_MEMORY_BROKER)
    if not is_memory or settings.WEB_PROCESSES <= 1:
        return []
    return [
        Error(
            f"LOOM_BROKER_URL=memory:// with {settings.WEB_PROCESSES} web processes: "
            "a message reaches only the process that sent it.",
            hint="Set LOOM_BROKER_URL=redis://..., or WEB_CONCURRENCY=1.",
            id="shop.E002",
        )
    ]


@register(Tags.files)
def files_can_be_written(**_kwargs: object) -> list[CheckMessage]:
    """Refuse a folder for files and database that cannot be written."""
    folder = settings.VAR_DIR
    nearest = next(path for path in (folder, *folder.parents) if path.exists())
    if nearest.is_dir() and os.access(nearest, os.W_OK | os.X_OK):
        return []
    return [
        Error(
            f"{nearest} cannot be written, so reports cannot be kept.",
            hint="Set LOOM_VAR_DIR to a folder that the service owns.",
            id="shop.E003",
        )
    ]


@register(Tags.security)
def public_address_fits(**_kwargs: object) -> list[CheckMessage]:
    """Refuse an address for private links that this service would not answer."""
    parts = urlsplit(settings.PUBLIC_URL)
    if parts.scheme not in {"http", "https"} or not parts.hostname:
        return [
            Error(
                f"LOOM_PUBLIC_URL={settings.PUBLIC_URL!r} is no web address.",
                hint="Write it in full, for example https://workshop.example.",
                id="shop.E004",
            )
        ]
    return []


@register(Tags.security, deploy=True)
def links_are_private(**_kwargs: object) -> list[CheckMessage]:
    """Warn where a customer's private link would be made wrong or travel in clear."""
    parts = urlsplit(settings.PUBLIC_URL)
    found: list[CheckMessage] = []
    if parts.scheme != "https":
        found.append(
            Caveat(
                f"LOOM_PUBLIC_URL={settings.PUBLIC_URL!r} is not HTTPS: "
                "customers' private links would travel in clear.",
                hint="Set LOOM_PUBLIC_URL=https://...",
                id="shop.W005",
            )
        )
    if not _is_allowed(parts.hostname or ""):
        found.append(
            Caveat(
                f"LOOM_PUBLIC_URL names {parts.hostname}, which is not among "
                "LOOM_ALLOWED_HOSTS: private links would lead nowhere.",
                hint=f"Add {parts.hostname} to LOOM_ALLOWED_HOSTS.",
                id="shop.W006",
            )
        )
    return found


@register(Tags.database, deploy=True)
def database_is_for_more_than_one(**_kwargs: object) -> list[CheckMessage]:
    """Warn of SQLite: right for one machine, wrong for two."""
    if not str(settings.DATABASES["default"]["ENGINE"]).endswith("sqlite3"):
        return []
    return [
        Caveat(
            "The database is SQLite: all web and worker processes have to run on one "
            "machine, and its file is the only copy.",
            hint="Set LOOM_DATABASE_URL=postgresql://..., or, if one machine is meant "
            "and backups are made, silence this with LOOM_SILENCED_CHECKS=shop.W007.",
            id="shop.W007",
        )
    ]


@register(Tags.caches, deploy=True)
def limits_are_shared(**_kwargs: object) -> list[CheckMessage]:
    """Warn where each process would count sign-in attempts for itself."""
    is_memory = str(settings.CACHES["default"]["BACKEND"]).endswith("LocMemCache")
    if not is_memory or settings.WEB_PROCESSES <= 1:
        return []
    return [
        Caveat(
            f"LOOM_CACHE_URL=memory:// with {settings.WEB_PROCESSES} web processes: "
            "limits on attempts are counted by each process for itself.",
            hint="Set LOOM_CACHE_URL=redis://...",
            id="shop.W008",
        )
    ]


@register(Tags.security, deploy=True)
def letters_leave_the_house(**_kwargs: object) -> list[CheckMessage]:
    """Warn where a new password would be written to the log instead of sent."""
    if not settings.EMAIL_BACKEND.endswith("console.EmailBackend"):
        return []
    return [
        Caveat(
            "Mail goes to the log: whoever forgets a password gets no letter.",
            hint="Set LOOM_EMAIL_URL=smtp://user@host:587?tls=start.",
            id="shop.W009",
        )
    ]


def _is_allowed(host: str) -> bool:
    return any(
        pattern in {"*", host} or (pattern.startswith(".") and host.endswith(pattern))
        for pattern in settings.ALLOWED_HOSTS
    )
