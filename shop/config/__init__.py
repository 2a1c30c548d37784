"""The composition root: settings, URLs, Celery, and the server entry points."""
