"""All settings, from the environment; see `env.py` for how values are read.

LOOM_DEMO=yes opens the demo: DEBUG stays off, but a throw-away key, plain HTTP
and an in-process worker are allowed. Everything else must be configured.
`shop/checks.py` names settings that do not fit each other.
"""

from datetime import timedelta
from pathlib import Path

from csp.constants import NONE, SELF
from django.core.exceptions import ImproperlyConfigured

from shop.config.celery import transport_options
from shop.config.env import (
    cache_from_url,
    database_from_url,
    env_bool,
    env_choice,
    env_int,
    env_list,
    env_locale,
    env_secret,
    env_text,
    mail_from_url,
)
from shop.config.file_storage import storage_from_url
from shop.config.logs import logging_config

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
    _secret = "demo-only-key-that-protects-nothing-of-anybodys-9f2c71e0b4"  # noqa: S105 - guards an invented shop
SECRET_KEY: str = _secret

_HERE = "localhost,127.0.0.1,[::1]"
ALLOWED_HOSTS = env_list("LOOM_ALLOWED_HOSTS", f"{_HERE},testserver" if DEMO else _HERE)
CSRF_TRUSTED_ORIGINS = env_list("LOOM_CSRF_TRUSTED_ORIGINS", "")
# Where people reach us; private links are made from it.
PUBLIC_URL = env_text("LOOM_PUBLIC_URL", "http://127.0.0.1:8000").rstrip("/")
# gunicorn reads the same variable.
WEB_PROCESSES = env_int("WEB_CONCURRENCY", 1)
SILENCED_SYSTEM_CHECKS = env_list("LOOM_SILENCED_CHECKS", "")

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
    "django.forms",
    "allauth",
    "allauth.account",
    "allauth.mfa",
    "allauth.usersessions",
    "axes",
    "csp",
    "rest_framework",
    "rest_framework.authtoken",
    "drf_spectacular",
    "django_htmx",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "shop.web.headers.PermissionsPolicyMiddleware",
    "csp.middleware.CSPMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.auth.middleware.LoginRequiredMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "allauth.account.middleware.AccountMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "shop.web.shop_facts.ShopFactsMiddleware",
    "shop.web.clock_bar.ClockBarMiddleware",
    "shop.web.seen.SeenMiddleware",
    "shop.web.second_step_gate.SecondStepMiddleware",
    "shop.web.refusals.RefusalMiddleware",
    "axes.middleware.AxesMiddleware",
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
                "shop.web.frame.page_frame",
            ],
            "libraries": {"shop": "shop.web.tags", "demo": "diagnostics.demo.tags"},
        },
    },
]
FORM_RENDERER = "shop.web.form_look.FormLook"

DATABASES = {
    "default": database_from_url(
        env_text("LOOM_DATABASE_URL", f"sqlite:///{VAR_DIR}/loomwright.sqlite3")
    )
}
CACHES = {"default": cache_from_url(env_text("LOOM_CACHE_URL", "memory://"))}

# --- Signing in: the owner makes the accounts, nobody registers ---------------------

AUTH_USER_MODEL = "shop.User"
AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "allauth.account.auth_backends.AuthenticationBackend",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"django.contrib.auth.password_validation.{name}"}
    for name in (
        "UserAttributeSimilarityValidator",
        "MinimumLengthValidator",
        "CommonPasswordValidator",
        "NumericPasswordValidator",
    )
]
LOGIN_URL = "account_login"
LOGIN_REDIRECT_URL = "shop:today"
ACCOUNT_ADAPTER = "shop.web.sign_in.ShopAccountAdapter"
ACCOUNT_FORMS = {"login": "shop.web.sign_in.SignInForm"}
ACCOUNT_LOGIN_METHODS = {"username", "email"}
ACCOUNT_SIGNUP_FIELDS = ["username*", "email", "password1*"]
ACCOUNT_EMAIL_VERIFICATION = "none"
ACCOUNT_EMAIL_SUBJECT_PREFIX = ""
# Strangers get no letter: it would only invite them to register, which nobody can.
ACCOUNT_EMAIL_UNKNOWN_ACCOUNTS = False
ACCOUNT_EMAIL_NOTIFICATIONS = True
ACCOUNT_LOGOUT_REDIRECT_URL = "account_login"
ACCOUNT_SESSION_REMEMBER = None
MFA_SUPPORTED_TYPES = ["totp", "webauthn", "recovery_codes"]
MFA_PASSKEY_LOGIN_ENABLED = True
MFA_ADAPTER = "shop.web.sign_in.ShopMFAAdapter"
MFA_FORMS = {
    "authenticate": "shop.web.second_step_forms.CodeForm",
    "reauthenticate": "shop.web.second_step_forms.CodeAgainForm",
}
# A browser takes plain http for safe on its own machine alone, which is the demo's.
MFA_WEBAUTHN_ALLOW_INSECURE_ORIGIN = DEMO
MFA_TOTP_ISSUER = "Loomwright"
# The owner typed the address in; there is no mail to verify it before the first day.
MFA_ALLOW_UNVERIFIED_EMAIL = True

# Against guessing spread over many addresses or many names; the lock below is nearer.
ACCOUNT_RATE_LIMITS = {"login": "60/m/ip", "login_failed": "30/m/ip,100/h/key"}
# A whole shop sits behind one address, so one mistyping colleague must not lock out
# the others: the lock is on the pair of name and address.
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_FAILURE_LIMIT = env_int("LOOM_SIGN_IN_ATTEMPTS", 5)
AXES_COOLOFF_TIME = timedelta(minutes=env_int("LOOM_SIGN_IN_LOCK_MINUTES", 15))
AXES_RESET_ON_SUCCESS = True
AXES_LOCKOUT_TEMPLATE = "account/locked.html"
AXES_USERNAME_CALLABLE = "shop.web.sign_in.name_tried"
AXES_CLIENT_IP_CALLABLE = "shop.web.sign_in.client_ip"

# --- What the browser is told -------------------------------------------------------

# How many reverse proxies of ours stand in front; only then are their headers believed.
TRUSTED_PROXIES = env_int("LOOM_TRUSTED_PROXIES", 0)
ALLAUTH_TRUSTED_PROXY_COUNT = TRUSTED_PROXIES
if TRUSTED_PROXIES:
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")

HTTPS = env_bool("LOOM_HTTPS", default=not DEMO)
SECURE_SSL_REDIRECT = HTTPS
SECURE_REDIRECT_EXEMPT = [r"^livez$", r"^readyz$"]
SECURE_HSTS_SECONDS = env_int("LOOM_HSTS_SECONDS", 31_536_000 if HTTPS else 0)
SECURE_HSTS_INCLUDE_SUBDOMAINS = SECURE_HSTS_SECONDS > 0
SECURE_HSTS_PRELOAD = SECURE_HSTS_SECONDS > 0
SECURE_REFERRER_POLICY = "same-origin"
SESSION_COOKIE_SECURE = HTTPS
CSRF_COOKIE_SECURE = HTTPS
SESSION_COOKIE_AGE = 14 * 24 * 3600
X_FRAME_OPTIONS = "DENY"
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "img-src": [SELF, "data:"],
        "font-src": [SELF],
        "connect-src": [SELF],
        "manifest-src": [SELF],
        "form-action": [SELF],
        "frame-ancestors": [NONE],
        "base-uri": [NONE],
        "object-src": [NONE],
    },
}

# --- Language, time, files ----------------------------------------------------------

LANGUAGE_CODE = "en-gb"
TIME_ZONE = env_text("LOOM_TIME_ZONE", "UTC")
USE_I18N = True
USE_TZ = True

STATIC_URL = "static/"
STATIC_ROOT = VAR_DIR / "static"
MEDIA_ROOT = VAR_DIR / "media"
# Outside the demo, file names carry a digest of the content and are kept for ever by
# the browser; the demo serves the files as they lie, with no collecting beforehand.
STORAGES = {
    "default": storage_from_url(env_text("LOOM_FILES_URL", "disk://")),
    "staticfiles": {
        "BACKEND": (
            "django.contrib.staticfiles.storage.StaticFilesStorage"
            if DEMO
            else "shop.config.static_files.DigestNames"
        )
    },
}
FILE_UPLOAD_HANDLERS = [
    "django.core.files.uploadhandler.MemoryFileUploadHandler",
    "shop.web.uploads.BoundedUploadHandler",
]
WHITENOISE_USE_FINDERS = DEMO
WHITENOISE_AUTOREFRESH = DEMO

_mail = mail_from_url(env_text("LOOM_EMAIL_URL", "console://"))
EMAIL_BACKEND = _mail.backend
EMAIL_HOST = _mail.host
EMAIL_PORT = _mail.port
EMAIL_HOST_USER = _mail.user
EMAIL_HOST_PASSWORD = env_secret("LOOM_EMAIL_PASSWORD") or ""
EMAIL_USE_TLS = _mail.starttls
EMAIL_USE_SSL = _mail.tls
EMAIL_TIMEOUT = 10
DEFAULT_FROM_EMAIL = env_text("LOOM_EMAIL_FROM", "workshop@localhost")
SERVER_EMAIL = DEFAULT_FROM_EMAIL

LOGGING = logging_config(env_text("LOOM_LOG_LEVEL", "INFO"))

# --- API ----------------------------------------------------------------------------

REST_FRAMEWORK = {
    "DEFAULT_AUTHENTICATION_CLASSES": [
        # The first one names the challenge of a 401.
        "rest_framework.authentication.TokenAuthentication",
        "rest_framework.authentication.SessionAuthentication",
    ],
    "DEFAULT_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
    "DEFAULT_PARSER_CLASSES": ["shop.api.parsers.CarefulJSONParser"],
    "EXCEPTION_HANDLER": "shop.api.problems.handle_exception",
    "DEFAULT_PERMISSION_CLASSES": ["rest_framework.permissions.IsAuthenticated"],
    "DEFAULT_SCHEMA_CLASS": "drf_spectacular.openapi.AutoSchema",
}
SPECTACULAR_SETTINGS = {
    "TITLE": "Loomwright",
    "VERSION": "1",
    "SERVE_INCLUDE_SCHEMA": False,
    "SERVE_PERMISSIONS": ["rest_framework.permissions.IsAuthenticated"],
    # Where several fields have the same name or the same words to choose from.
    "ENUM_NAME_OVERRIDES": {
        "TagConditionEnum": "shop.api.strip_tags.CONDITIONS",
        "TradeEnum": "shop.api.suppliers.TRADES",
        "LabourKindEnum": "shop.api.labour.LABOUR_KINDS",
        "HoldKindEnum": "shop.api.holds.HOLD_KINDS",
        "CheckAnswerEnum": "shop.api.holds.CHECK_ANSWERS",
        "OdometerUnitEnum": "shop.api.odometer_readings.ODOMETER_UNITS",
    },
}

# --- Work behind the pages ----------------------------------------------------------

# The table is the queue; a Celery message only wakes a worker (shop/jobs.py).
CELERY_BROKER_URL = env_text("LOOM_BROKER_URL", "memory://")
CELERY_BROKER_TRANSPORT_OPTIONS = transport_options(CELERY_BROKER_URL)
CELERY_WORKER_CONCURRENCY = env_int("LOOM_WORKERS", 2)
# A worker that says nothing for so long is taken for dead, and its paper put back.
PAPER_LEASE_S = env_int("LOOM_PAPER_LEASE_S", 90, at_least=5)
PAPER_LOCALE = env_locale("LOOM_PAPER_LOCALE", "en_GB")
PAPER_SIZE = env_choice("LOOM_PAPER_SIZE", "A4", choices=("A4", "Letter"))
