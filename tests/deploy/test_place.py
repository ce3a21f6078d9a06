"""What stops a start is told in one plain sentence."""

import ast
import errno
import shutil
import socket
import sys
from pathlib import Path

import pytest

from deploy import place as places
from deploy.place import Refused, find_place, need_free_port, need_writable, run_plainly

TOP = Path(__file__).resolve().parents[2]


def test_a_free_port_is_fine():
    with socket.create_server(("127.0.0.1", 0)) as listener:
        port = listener.getsockname()[1]
    need_free_port("127.0.0.1", port)


def test_a_taken_port_is_named_with_another():
    with socket.create_server(("127.0.0.1", 0)) as listener:
        port = listener.getsockname()[1]
        with pytest.raises(Refused, match=rf"Port {port} is taken.*deploy/run --port {port + 1}"):
            need_free_port("127.0.0.1", port)


def test_an_impossible_port_is_named():
    with pytest.raises(Refused, match="There is no port 70000"):
        need_free_port("127.0.0.1", 70000)


def test_a_foreign_address_is_named():
    with pytest.raises(Refused, match=r"This computer has no address 192\.0\.2\.1"):
        need_free_port("192.0.2.1", 8000)


def test_a_missing_folder_is_made(tmp_path):
    need_writable(tmp_path / "a" / "b", "the data folder", "WATTFARE_DATA")
    assert (tmp_path / "a" / "b").is_dir()
    assert list((tmp_path / "a" / "b").iterdir()) == []


def test_a_folder_that_cannot_be_written_is_named_with_what_to_do(tmp_path):
    (tmp_path / "file").write_text("")
    with pytest.raises(Refused, match=r"Nothing can be written into the data folder .*WATTFARE_DATA.*sudo chown"):
        need_writable(tmp_path / "file" / "data", "the data folder", "WATTFARE_DATA")


def test_a_full_disk_is_called_full(tmp_path, monkeypatch):
    def no_room(**_kwargs):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(places.tempfile, "TemporaryFile", no_room)
    with pytest.raises(Refused, match=r"The disk is full: nothing fits into the data folder"):
        need_writable(tmp_path, "the data folder", "WATTFARE_DATA")


def test_mistakes_in_the_environment_stop_a_script(tmp_path):
    with pytest.raises(Refused, match=r"(?s)WATTFARE_WORKERS .*WATTFARE_TIME_ZONE "):
        find_place(tmp_path, WATTFARE_WORKERS="none", WATTFARE_TIME_ZONE="Fernhollow")


def test_an_env_file_is_read_and_a_keyword_stands_above_it(tmp_path):
    (tmp_path / ".env").write_text("WATTFARE_WORKERS=3\nWATTFARE_BIND=127.0.0.1:9000\n")
    place = find_place(tmp_path, WATTFARE_BIND="127.0.0.1:9001", WATTFARE_WORKERS="4")
    assert (place.environment.workers, place.environment.bind_port) == (4, 9001)


@pytest.mark.parametrize(
    ("stop", "code", "words"),
    [
        (Refused("Port 8000 is taken."), 1, "Port 8000 is taken.\n"),
        (OSError(errno.ENOSPC, "No space left on device"), 1, "The disk is full. Free some space and start again.\n"),
        (KeyboardInterrupt(), 130, "\nStopped.\n"),
    ],
)
def test_a_script_ends_in_words(stop, code, words, capsys):
    def work() -> int:
        raise stop

    assert run_plainly(work) == code
    assert capsys.readouterr().err == words


@pytest.mark.parametrize("script", ["run", "test"])
def test_an_old_python_can_read_the_script_and_is_told_what_is_needed(script, monkeypatch):
    source = (TOP / "deploy" / script).read_text("utf-8")
    ast.parse(source, feature_version=(3, 6))
    monkeypatch.setattr(sys, "version_info", (3, 9, 2))
    monkeypatch.setattr(shutil, "which", lambda name: "/usr/bin/python3.12" if name == "python3.12" else None)
    with pytest.raises(SystemExit) as stopped:
        exec(compile(source, script, "exec"), {"__name__": "__main__", "__file__": str(TOP / "deploy" / script)})
    assert str(stopped.value) == (
        f"Wattfare needs Python 3.11 or newer, and this is Python 3.9. Type: python3.12 deploy/{script}"
    )


def test_a_new_data_folder_is_nobody_elses(tmp_path):
    need_writable(tmp_path / "data", "the data folder", "WATTFARE_DATA")
    assert (tmp_path / "data").stat().st_mode & 0o777 == 0o700
