"""Settings, read from the environment and from a ``.env`` file at the top. ``.env.example`` lists every variable."""

from __future__ import annotations

import os
from ipaddress import ip_network
from pathlib import Path

import dj_database_url
from django.core.exceptions import ImproperlyConfigured

from deploy.environment import EnvironmentMistakes, gather
from deploy.read_only import address_for_reading, can_only_be_read
from deploy.secret import kept_secret_key

BASE_DIR = Path(__file__).resolve().parent.parent
try:
    ENVIRONMENT, _ = gather(BASE_DIR, os.environ)
    DATA_DIR = ENVIRONMENT.data
    DATA_DIR.mkdir(mode=0o700, parents=True, exist_ok=True)
    SECRET_KEY = ENVIRONMENT.secret_key or kept_secret_key(DATA_DIR)
except EnvironmentMistakes as mistakes:
    raise ImproperlyConfigured(str(mistakes)) from None
except OSError as error:
    raise ImproperlyConfigured(
        f"The data folder {ENVIRONMENT.data} cannot be used ({error.strerror}). Set WATTFARE_DATA to a folder you may write to."
    ) from None

DEBUG = ENVIRONMENT.debug
ALLOWED_HOSTS = list(ENVIRONMENT.hosts)
CSRF_TRUSTED_ORIGINS = list(ENVIRONMENT.origins)
TRUSTED_PROXIES = [ip_network(network) for network in ENVIRONMENT.proxies]

INSTALLED_APPS = [
    "deploy",
    "costing",
    "energy",
    "kitchen",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "django.contrib.admin",
    "django_htmx",
]
MIDDLEWARE = [
    "deploy.middleware.RoomyStack",
    "deploy.middleware.RequestNumber",
    "deploy.middleware.EmptyHead",
    "deploy.middleware.PolicyHeaders",
    "deploy.middleware.Keeping",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "deploy.middleware.RequestLimit",
    "deploy.middleware.WholeCookies",
    "deploy.middleware.KitchenClock",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "kitchen.views.helping.HelpersDoor",
    "kitchen.views.understood.TellUnderstood",
    "django_htmx.middleware.HtmxMiddleware",
    "deploy.middleware.CrossedSaves",
    "deploy.full_disk.CannotKeep",
]
ROOT_URLCONF = "deploy.urls"
WSGI_APPLICATION = "deploy.wsgi.application"
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
                "kitchen.context.site",
            ],
        },
    }
]
FORM_RENDERER = "kitchen.forms.drawing.PlainInputs"
MESSAGE_STORAGE = "deploy.cookies.Messages"

# One SQLite file unless DATABASE_URL names another engine. Every transaction takes the write lock at its start, so that two
# writers wait for each other instead of failing half way; FULL because a camp battery can die in the middle of a write.
DATABASES = {
    "default": dj_database_url.parse(
        ENVIRONMENT.database_url or f"sqlite:///{DATA_DIR / 'wattfare.sqlite3'}", conn_max_age=600, conn_health_checks=True
    )
}
if DATABASES["default"]["ENGINE"] == "django.db.backends.sqlite3":
    DATABASES["default"]["ENGINE"] = "deploy.sqlite"
    DATABASES["default"]["OPTIONS"] = {
        "transaction_mode": "IMMEDIATE",
        "timeout": 20,  # seconds that a writer waits for another
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL",
    }
    if can_only_be_read(DATA_DIR) and Path(DATABASES["default"]["NAME"]).is_file():
        DATABASES["default"]["NAME"] = address_for_reading(Path(DATABASES["default"]["NAME"]))
        DATABASES["default"]["OPTIONS"] = {"timeout": 20}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "kitchen.forms.passwords.HoldsNoName"},
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 10}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]
LOGIN_URL = "kitchen:sign-in"
LOGIN_REDIRECT_URL = "kitchen:bench"
LOGOUT_REDIRECT_URL = "kitchen:library"

LANGUAGE_CODE = "en"
USE_I18N = False
TIME_ZONE = ENVIRONMENT.time_zone
USE_TZ = True

STATIC_URL = "static/"
STATICFILES_DIRS = [BASE_DIR / "static"]
STATIC_ROOT = DATA_DIR / "static"
MEDIA_URL = "photos/"
MEDIA_ROOT = DATA_DIR / "photos"
# Public pages as they were made (kitchen/views/made_once.py); the folder may be emptied at any moment.
ANSWERS_DIR = DATA_DIR / "answers"
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "deploy.assets.CollectedFiles"},
}
WHITENOISE_USE_FINDERS = WHITENOISE_AUTOREFRESH = DEBUG or not (STATIC_ROOT / "staticfiles.json").exists()
WHITENOISE_KEEP_ONLY_HASHED_FILES = False

# A pasted text of ten million characters must reach its form, which then says beside the field that it is too long.
DATA_UPLOAD_MAX_MEMORY_SIZE = 12 * 1024 * 1024
DATA_UPLOAD_MAX_NUMBER_FIELDS = 3000
DATA_UPLOAD_MAX_NUMBER_FILES = 20
FILE_UPLOAD_MAX_MEMORY_SIZE = 2621440
FILE_UPLOAD_PERMISSIONS = 0o644
MAX_REQUEST_BYTES = 64 * 1024 * 1024
# Whoever is not signed in fills in small forms, and devices send a megabyte at a time.
MAX_STRANGER_BYTES = 2 * 1024 * 1024
# A meter's file may be larger: it is written to disk as it comes and never held in memory.
MAX_LOG_BYTES = 200 * 1024 * 1024
LOG_ADDRESSES = r"/bench/(runs/[0-9]+/log|recipes/[^/]+/runs/from-file)/"

CSRF_FAILURE_VIEW = "deploy.errors.csrf_failure"
# Named for this site: other programs on the same computer share its host name, whatever their port. Under HTTPS no other name
# of the domain, and no page that came without encryption, can set one of them.
COOKIE_PREFIX = "__Host-" if ENVIRONMENT.https else ""
SESSION_COOKIE_NAME = f"{COOKIE_PREFIX}wattfare_session"
CSRF_COOKIE_NAME = f"{COOKIE_PREFIX}wattfare_csrf"
DEVICE_COOKIE_NAME = f"{COOKIE_PREFIX}wattfare_device"
KIT_COOKIE_NAME = f"{COOKIE_PREFIX}kit"
MESSAGE_COOKIE_NAME = f"{COOKIE_PREFIX}wattfare_messages"
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = SECURE_SSL_REDIRECT = ENVIRONMENT.https
SECURE_HSTS_SECONDS = 365 * 24 * 3600 if ENVIRONMENT.https else 0
SECURE_REDIRECT_EXEMPT = [r"^healthz$", r"^readyz$"]
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if ENVIRONMENT.behind_proxy else None
SECURE_REFERRER_POLICY = "strict-origin-when-cross-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
# One kitchen does not speak for the other names below its domain, nor ask browsers to list it.
SILENCED_SYSTEM_CHECKS = ["security.W005", "security.W021"]

DAY_FILES = {"class": "deploy.log.DayFiles", "folder": str(DATA_DIR / "log"), "days": ENVIRONMENT.log_days}
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {
        # With its zone: a program that follows the log may keep another one than the site.
        "plain": {"format": "{asctime} {levelname} {name}: {message}", "style": "{", "datefmt": "%Y-%m-%d %H:%M:%S%z"},
        "json": {"()": "deploy.log.JsonLines"},
    },
    "filters": {"tells_more": {"()": "deploy.log.TellsMore"}},
    "handlers": {
        "stderr": {"class": "logging.StreamHandler", "formatter": "plain"},
        "kept": {**DAY_FILES, "stem": "wattfare", "formatter": "json"},
        "sign_ins": {**DAY_FILES, "stem": "sign-ins", "newest": "sign-ins.log", "formatter": "plain"},
    },
    "root": {"handlers": ["stderr", "kept"], "level": "WARNING"},
    "loggers": {
        "wattfare.requests": {"handlers": ["kept"], "level": "INFO", "propagate": False},
        # The one log with names and addresses: deploy/fail2ban reads it.
        "wattfare.sign_in": {"handlers": ["stderr", "sign_ins"], "level": "WARNING", "propagate": False},
        "django": {"handlers": ["stderr", "kept"], "level": "WARNING", "propagate": False},
        "django.server": {"handlers": ["stderr"], "level": "INFO", "propagate": False},
        # A visitor's wrong address or a robot's invented host name is no news.
        "django.request": {"level": "ERROR", "filters": ["tells_more"]},
        "django.security.DisallowedHost": {"level": "CRITICAL"},
        "fontTools": {"level": "ERROR"},
    },
}
