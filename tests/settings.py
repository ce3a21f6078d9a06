"""The settings that the tests run under: the real ones, with a throw-away data folder and cheap password hashes."""

import os
import tempfile

os.environ.setdefault("WATTFARE_DATA", tempfile.mkdtemp(prefix="wattfare-tests-"))
os.environ.setdefault("DATABASE_URL", "sqlite://:memory:")

from deploy.settings import *  # noqa: F403

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
