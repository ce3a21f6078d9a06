"""Settings, read from the environment. Every variable is listed in ``.env.example``."""

from __future__ import annotations

import os
from pathlib import Path

import dj_database_url

BASE_DIR = Path(__file__).resolve().parent.parent
DATA_DIR = Path(os.environ.get("WATTFARE_DATA", BASE_DIR / ".data"))

DEBUG = False
SECRET_KEY = os.environ.get("WATTFARE_SECRET_KEY", "x" * 60)
ALLOWED_HOSTS = ["127.0.0.1", "localhost", "testserver"]

INSTALLED_APPS = [
    "deploy",
    "costing",
    "energy",
    "kitchen",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django.contrib.admin",
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
    "django_htmx.middleware.HtmxMiddleware",
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
            ],
        },
    }
]
DATABASES = {"default": dj_database_url.parse(os.environ.get("DATABASE_URL") or f"sqlite:///{DATA_DIR / 'wattfare.sqlite3'}")}
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator"},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]
LOGIN_URL = "kitchen:sign-in"
LOGIN_REDIRECT_URL = "kitchen:bench"
LOGOUT_REDIRECT_URL = "kitchen:library"
LANGUAGE_CODE = "en"
TIME_ZONE = os.environ.get("WATTFARE_TIME_ZONE", "UTC")
USE_TZ = True
USE_I18N = False
STATIC_URL = "static/"
STATICFILES_DIRS = [BASE_DIR / "static"]
STATIC_ROOT = DATA_DIR / "static"
MEDIA_URL = "photos/"
MEDIA_ROOT = DATA_DIR / "photos"
