"""A backup needs no more memory, and leaves nothing behind, however much there is or however it ends."""

import io
import os
import signal
import subprocess
import sys
import time
import tracemalloc
from datetime import timedelta

import pytest

from deploy.backup.places import backups_in, remove_older_rows
from deploy.backup.writing import make_backup, write_backup
from energy.models import Meter, SentReading
from tests.prepared import TOP, environment_of, prepare_copy

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture(autouse=True)
def own_folder(settings, tmp_path):
    settings.MEDIA_ROOT, settings.DATA_DIR = tmp_path / "photos", tmp_path


class Forgets(io.RawIOBase):
    """A file that keeps nothing."""

    def writable(self):
        return True

    def write(self, piece):
        return len(piece)


def peak_bytes(noon) -> int:
    tracemalloc.start()
    write_backup(Forgets(), at=noon)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return peak


def test_ten_times_the_rows_take_the_same_memory(noon):
    meter = Meter.objects.create(name="Plug")
    write_backup(Forgets(), at=noon)  # what is made once

    def send(first, count):
        rows = (SentReading(meter=meter, at=noon + timedelta(seconds=n), energy_wh=n) for n in range(first, first + count))
        SentReading.objects.bulk_create(rows, batch_size=2000)

    send(0, 4_000)
    few = peak_bytes(noon)
    send(4_000, 36_000)
    assert peak_bytes(noon) < few + (1 << 20)


def test_what_broke_off_long_ago_goes_and_rows_alone_are_few(tmp_path, noon):
    broken = tmp_path / ".coming-abc.backup"
    broken.write_bytes(b"half")
    os.utime(broken, (time.time() - 90_000,) * 2)
    fresh = tmp_path / ".coming-def.backup"
    fresh.write_bytes(b"half")
    for days in range(8):
        make_backup(folder=tmp_path, at=noon + timedelta(days=days), rows_alone=True)
    assert (broken.exists(), fresh.exists()) == (False, True)
    remove_older_rows(tmp_path)
    assert [moment.day for moment, _ in backups_in(tmp_path, rows_alone=True)] == [21, 20, 19, 18, 17]
    assert backups_in(tmp_path) == []


@pytest.mark.any_engine
def test_a_word_to_stop_leaves_nothing_behind(tmp_path, tmp_path_factory):
    """As a service manager stops it, in the middle of a proof: its passphrase comes through a pipe, and never comes again."""
    folder, passphrase = prepare_copy(tmp_path_factory, tmp_path / "place"), tmp_path / "passphrase"
    os.mkfifo(passphrase)
    command = [sys.executable, "manage.py", "backup", "--prove", "--passphrase-file", str(passphrase)]
    with subprocess.Popen(command, cwd=TOP, env=environment_of(folder), stdout=subprocess.PIPE) as backup:
        passphrase.write_text("gravy-boat lantern\n")
        assert backup.stdout.readline()  # it is made; the proof waits for its passphrase
        backup.send_signal(signal.SIGTERM)
        assert backup.wait(60) == 143
    assert not list(folder.glob(".proving-*"))
    assert not list((folder / "backups").glob(".coming-*"))
