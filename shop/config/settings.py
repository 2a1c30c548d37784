"""All settings, from the environment; see `env.py` for how values are read.

LOOM_DEMO=yes opens the demo: DEBUG stays off, but a throw-away key, plain HTTP
and an in-process worker are allowed. Everything else must be configured.
"""

from pathlib import Path

from django.core.exceptions import ImproperlyConfigured

from shop.config.env import (
    database_from_url,
    env_bool,
    env_int,
    env_list,
    env_secret,
    env_text,
)

BASE_DIR = Path(__file__).resolve().parent.parent.parent
VAR_DIR = Path(env_text("LOOM_VAR_DIR", str(BASE_DIR / "var")))

DEMO = env_bool("LOOM_DEMO", default=False)
DEBUG = env_bool("LOOM_DEBUG", default=False)

_secret = env_secret("LOOM_SECRET_KEY")
if _secret is None:
    if not DEMO:
        raise ImproperlyConfigured(
            "LOOM_SECRET_KEY (or LOOM_SECRET_KEY_FILE) is not set; "
            "only the demo (LOOM_DEMO=yes) runs without it"
        )
    _secret = "demo-only-key-that-protects-nothing-of-anybodys-9f2c71e0b4"
SECRET_KEY: str = _secret

ALLOWED_HOSTS = env_list("LOOM_ALLOWED_HOSTS", "localhost,127.0.0.1,[::1],testserver")
CSRF_TRUSTED_ORIGINS = env_list("LOOM_CSRF_TRUSTED_ORIGINS", "")

INSTALLED_APPS = [
    "diagnostics",
    "shop",
    "django.contrib.admin",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "django.contrib.humanize",
    "rest_framework",
    "rest_framework.authtoken",
    "drf_spectacular",
    "drf_spectacular_sidecar",
    "django_filters",
    "django_htmx",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
]

ROOT_URLCONF = "shop.config.urls"
WSGI_APPLICATION = "shop.config.wsgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
            ],
        },
    },
]

DATABASES = {
    "default": database_from_url(
        env_text("LOOM_DATABASE_URL", f"sqlite:///{VAR_DIR}/loomwright.sqlite3")
    )
}

AUTH_USER_MODEL = "shop.User"
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"django.contrib.auth.password_validation.{name}"}
    for name in (
        "UserAttributeSimilarityValidator",
        "MinimumLengthValidator",
        "CommonPasswordValidator",
        "NumericPasswordValidator",
    )
]

LANGUAGE_CODE = "en-gb"
TIME_ZONE = env_text("LOOM_TIME_ZONE", "UTC")
USE_I18N = True
USE_TZ = True

STATIC_URL = "static/"
STATIC_ROOT = VAR_DIR / "static"
MEDIA_ROOT = VAR_DIR / "media"

REST_FRAMEWORK = {
    "DEFAULT_AUTHENTICATION_CLASSES": [
        "rest_framework.authentication.SessionAuthentication",
        "rest_framework.authentication.TokenAuthentication",
    ],
    "DEFAULT_PERMISSION_CLASSES": ["rest_framework.permissions.IsAuthenticated"],
    "DEFAULT_SCHEMA_CLASS": "drf_spectacular.openapi.AutoSchema",
    "DEFAULT_FILTER_BACKENDS": ["django_filters.rest_framework.DjangoFilterBackend"],
}
SPECTACULAR_SETTINGS = {
    "TITLE": "Loomwright",
    "VERSION": "1",
    "SWAGGER_UI_DIST": "SIDECAR",
    "SWAGGER_UI_FAVICON_HREF": "SIDECAR",
    "REDOC_DIST": "SIDECAR",
    "SERVE_INCLUDE_SCHEMA": False,
}

# The table is the queue; a Celery message only wakes a worker (shop/jobs.py).
CELERY_BROKER_URL = env_text("LOOM_BROKER_URL", "memory://")
CELERY_TASK_IGNORE_RESULT = True
CELERY_WORKER_CONCURRENCY = env_int("LOOM_WORKERS", 2)
