"""What a disk that fills up takes and refuses: a small file system in memory, filled step by step, on SQLite.

    python -m tests.measure.disk        as root, or wherever ``unshare -m`` may mount; loopback and network are not used

Each row is one level of free room; afterwards the room is freed and everything is sent once more. At the end every press and
reading that was answered with 200 or 201 is looked for, and the database is read whole.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path

from tests.house.tree import TOP

SIZE_MB = 320
LEVELS_MB = (280, 150, 20, 1, 0)
PIECE = 1 << 16

INSIDE = """
import logging
import django
django.setup()
logging.disable(logging.ERROR)
from tests.measure.disk import Kitchen, LEVELS_MB
kitchen = Kitchen()
print("| free MB | page | press | device | photo | pack |")
print("| ---: | ---: | ---: | ---: | ---: | ---: |")
for level in LEVELS_MB:
    kitchen.leave_free(level)
    print(f"| {level} | " + " | ".join(map(str, kitchen.statuses())) + " |", flush=True)
kitchen.leave_free(None)
print("| freed | " + " | ".join(map(str, kitchen.statuses())) + " |")
print(kitchen.account())
"""


class Kitchen:
    """A kitchen with one cook that goes on, on the small file system; what it acknowledged is remembered."""

    def __init__(self) -> None:
        from django.contrib.auth.models import User
        from django.test import Client
        from django.utils import timezone

        from energy.meters.operations.devices import make_device
        from energy.models import Run
        from tests.house.bench_of_everything import furnish

        self.now = timezone.now()
        owner, other = User.objects.create_superuser("owner"), User.objects.create_user("other")
        furnish(owner, other, self.now)
        self.run = Run.objects.get()
        Run.objects.update(ended_at=None)
        _, self.token = make_device(meter=self.run.meter, name="plug", by=owner, at=self.now)
        self.client = Client(raise_request_exception=False, headers={"host": "localhost"})
        self.client.force_login(owner)
        self.filler = Path(os.environ["WATTFARE_DATA"]) / "filler"
        self.sent, self.kept_presses, self.kept_readings = 0, set(), 0

    def leave_free(self, free_mb: int | None) -> None:
        """Fill the file system up to so much; None frees it."""
        self.filler.unlink(missing_ok=True)
        if free_mb is None:
            return
        with self.filler.open("wb", buffering=0) as filler:
            try:
                while True:
                    room = os.statvfs(self.filler.parent)
                    if room.f_bavail * room.f_frsize <= free_mb << 20:
                        return
                    filler.write(b"x" * PIECE)
            except OSError:
                return

    def statuses(self) -> list[int]:
        """Ask for a page, and send a press, a device's reading, a photo and the wish for an archive; return the answers."""
        import io
        import uuid
        from datetime import timedelta

        from PIL import Image

        self.sent += 1
        key, at = uuid.uuid4(), (self.run.started_at + timedelta(seconds=self.sent)).isoformat()
        picture = io.BytesIO()
        Image.effect_noise((600, 400), 20 + self.sent).convert("RGB").save(picture, "JPEG")
        page = self.client.get("/").status_code
        said = {"kind": "reading", "at": at, "energy_wh": self.sent}
        press = self.client.put(f"/api/v1/runs/{self.run.pk}/events/{key}", said, content_type="application/json").status_code
        bearer = {"Authorization": f"Bearer {self.token}"}
        body = {"w": self.sent, "at": at}
        device = self.client.post("/api/v1/readings", body, content_type="application/json", headers=bearer).status_code
        address = f"/api/v1/runs/{self.run.pk}/photos/{uuid.uuid4()}"
        photo = self.client.put(address, picture.getvalue(), content_type="image/jpeg").status_code
        pack = self.client.post("/bench/archive/pack/").status_code
        self.kept_presses |= {key} if press == 201 else set()
        self.kept_readings += device == 200
        return [page, press, device, photo, pack]

    def account(self) -> str:
        """Return whether all that was acknowledged is there and the database is sound."""
        from deploy.doctor.tables import database
        from energy.models import Reading, SentReading

        presses = Reading.objects.filter(pk__in=self.kept_presses).count()
        readings = SentReading.objects.count()
        lost = len(self.kept_presses) - presses + self.kept_readings - readings
        return f"{lost} of {len(self.kept_presses) + self.kept_readings} acknowledged are lost. {next(database()).words}"


def main() -> None:
    """Make the file system and run the kitchen in it."""
    with tempfile.TemporaryDirectory(prefix="wattfare-disk-") as folder:
        said = {"WATTFARE_DATA": folder, "DATABASE_URL": "", "DJANGO_SETTINGS_MODULE": "deploy.settings"}
        mount = f"mount -t tmpfs -o size={SIZE_MB}m tmpfs {folder} && {sys.executable} manage.py migrate --verbosity 0"
        inside = ["unshare", "-m", "sh", "-c", f'{mount} && exec {sys.executable} -c "$0"', INSIDE]
        done = subprocess.run(inside, cwd=TOP, env={**os.environ, **said}, check=False)
    if done.returncode:
        sys.exit("No file system could be made here, or the kitchen ended early.")


if __name__ == "__main__":
    main()
