"""The WSGI entry point; with a broker in memory it starts the worker as well."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.config.settings")

application = get_wsgi_application()

# Only now are the apps loaded that the worker's tasks need.
from shop.config import inprocess  # noqa: E402 - after the apps are loaded

inprocess.start()
