"""The composition root: settings, URLs, Celery, and the server entry points."""

from shop.config import arithmetic  # isort: skip - before anything loads NumPy
from shop.config.celery import app as celery_app

__all__ = ["arithmetic", "celery_app"]
