"""Logging: one line an event on standard error, with no secret in it."""

import logging
import re
from typing import Any

from typing_extensions import override

# A private link is a secret: whoever has the address may read the paper.
_PRIVATE_LINK = re.compile(r"(/link/)[^/\s?\"']+")


class MaskPrivateLinks(logging.Filter):
    """Takes the secret part out of addresses before they are written down."""

    @override
    def filter(self, record: logging.LogRecord) -> bool:
        """Rewrite the message; every record passes."""
        message = record.getMessage()
        masked = _PRIVATE_LINK.sub(r"\1...", message)
        if masked != message:
            record.msg, record.args = masked, ()
        return True


def logging_config(level: str) -> dict[str, Any]:
    """Return Django's LOGGING for this level."""
    return {
        "version": 1,
        "disable_existing_loggers": False,
        "filters": {"links": {"()": MaskPrivateLinks}},
        "formatters": {
            "line": {"format": "%(asctime)s %(levelname)s %(name)s %(message)s"}
        },
        "handlers": {
            "stderr": {
                "class": "logging.StreamHandler",
                "formatter": "line",
                "filters": ["links"],
            }
        },
        "root": {"handlers": ["stderr"], "level": level},
        "loggers": {
            "django": {"handlers": [], "level": level, "propagate": True},
            "django.server": {"handlers": [], "level": level, "propagate": True},
            "axes": {"level": "WARNING"},
            "celery": {"level": "WARNING"},
            "kombu": {"level": "ERROR"},
            "weasyprint": {"level": "WARNING"},
            "pikepdf": {"level": "WARNING"},
        },
    }
