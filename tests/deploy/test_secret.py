"""The key is made once, kept private, and the same for workers that start together."""

import multiprocessing
import stat

from deploy.secret import kept_secret_key


def test_a_key_is_made_once_and_kept(tmp_path):
    folder = tmp_path / "data"
    key = kept_secret_key(folder)
    assert len(key) >= 50
    assert kept_secret_key(folder) == key
    assert stat.S_IMODE((folder / "secret-key").stat().st_mode) == 0o600
    assert [path.name for path in folder.iterdir()] == ["secret-key"]


def test_workers_that_start_together_share_one_key(tmp_path):
    with multiprocessing.get_context("spawn").Pool(4) as workers:
        keys = workers.map(kept_secret_key, [tmp_path / "data"] * 16, chunksize=1)
    assert len(set(keys)) == 1


def test_a_disk_without_hard_links_keeps_a_key_too(tmp_path, monkeypatch):
    def no_links(*_args):
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr("deploy.secret.os.link", no_links)
    assert kept_secret_key(tmp_path) == kept_secret_key(tmp_path)
