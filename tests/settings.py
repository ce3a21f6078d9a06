"""The settings that the tests run under: the real ones, with a throw-away data folder and cheap password hashes.

Whatever the environment or a ``.env`` file says is set aside, but for TEST_DATABASE_URL, which names a PostgreSQL server.
"""

import atexit
import os
import shutil
import tempfile
import zlib

from deploy.environment import VARIABLES

test_database = os.environ.get("TEST_DATABASE_URL", "")
folder = tempfile.mkdtemp(prefix="wattfare-tests-")
atexit.register(shutil.rmtree, folder, ignore_errors=True)
os.environ.update(dict.fromkeys(VARIABLES, ""))
os.environ.update(WATTFARE_DATA=folder, DATABASE_URL=test_database, TEST_DATABASE_URL=test_database)

from deploy.settings import *  # noqa: E402, F403
from deploy.settings import ALLOWED_HOSTS, BASE_DIR, DATABASES  # noqa: E402

ALLOWED_HOSTS += ["testserver"]
# SQLite in a file, as in real use: a browser's requests and the test itself are two connections.
# PostgreSQL in a database of this checkout's own, so that two checkouts can be tested at once.
own_name = f"test_wattfare_{zlib.crc32(str(BASE_DIR).encode()):08x}" if test_database else f"{folder}/test.sqlite3"
DATABASES["default"].update(TEST={"NAME": own_name}, CONN_MAX_AGE=0)
# Pages are made anew: what one test's rows look like is nothing to the next one's. Those of the store make their own.
ANSWERS_DIR = "/dev/null/answers"
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
