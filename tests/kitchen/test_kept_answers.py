"""The store of answers: bounded, and never more than a way to be quicker."""

import os
import threading
import time

import pytest

from kitchen.operations import kept_answers
from kitchen.operations.kept_answers import AnswerStore
from kitchen.operations.room import DiskFull

NAME = "a" * 8 + "1" * 32


def _names(store):
    return sorted(file.name for file in store.folder.iterdir() if file.is_file())


def _put_in_order(store, names, body):
    for at, name in enumerate(names):
        store.put(name, body)
        os.utime(store.folder / name, (1000 + at, 1000 + at))


def test_what_is_kept_comes_back(tmp_path):
    store = AnswerStore(tmp_path / "answers")
    assert store.get(NAME) is None
    store.put(NAME, b"a page")
    assert store.get(NAME) == b"a page"
    assert _names(store) == [NAME]
    assert (tmp_path / "answers").stat().st_mode & 0o077 == 0


@pytest.mark.parametrize("harm", [b"", b"short", None])
def test_an_answer_that_was_harmed_counts_as_lost(tmp_path, harm):
    store = AnswerStore(tmp_path)
    store.put(NAME, b"a page of some length")
    whole = (tmp_path / NAME).read_bytes()
    (tmp_path / NAME).write_bytes(whole[:-1] + b"X" if harm is None else harm)
    assert store.get(NAME) is None
    store.put(NAME, b"made again")
    assert store.get(NAME) == b"made again"


def test_the_oldest_go_first(tmp_path):
    store = AnswerStore(tmp_path, most_bytes=3500)
    names = [f"{at:08x}{'0' * 32}" for at in range(5)]
    _put_in_order(store, names, b"x" * 1000)
    store.look_around()
    assert _names(store) == names[2:]


def test_one_recipe_pushes_out_no_other(tmp_path):
    store = AnswerStore(tmp_path, most_of_one=3)
    other = "b" * 8 + "0" * 32
    names = ["a" * 8 + f"{at:032x}" for at in range(6)]
    _put_in_order(store, [other, *names], b"x")
    store.look_around()
    assert _names(store) == sorted([other, *names[3:]])


def test_the_bound_holds_by_itself(tmp_path):
    store = AnswerStore(tmp_path, most_of_one=10)
    for at in range(200):
        store.put("a" * 8 + f"{at:032x}", b"x")
    assert len(_names(store)) < 10 + 33


def test_a_store_that_cannot_be_written_keeps_nothing_and_says_nothing(tmp_path):
    (tmp_path / "file").write_text("in the way")
    store = AnswerStore(tmp_path / "file" / "answers")
    store.put(NAME, b"a page")
    assert store.get(NAME) is None
    with store.turn(NAME):
        pass


def test_the_reserve_of_the_disk_is_left_alone(tmp_path, monkeypatch):
    def full(_bytes):
        raise DiskFull("full")

    monkeypatch.setattr(kept_answers, "need_room", full)
    store = AnswerStore(tmp_path)
    store.put(NAME, b"a page")
    assert _names(store) == []


def test_what_is_huge_is_not_kept(tmp_path):
    store = AnswerStore(tmp_path)
    store.put(NAME, b"x" * (1 << 20) + b"x")
    assert store.get(NAME) is None


def test_one_makes_it_while_others_wait(tmp_path):
    stores, made = [AnswerStore(tmp_path), AnswerStore(tmp_path)], []

    def ask(store):
        with store.turn(NAME):
            if store.get(NAME) is None:
                made.append(1)
                time.sleep(0.05)
                store.put(NAME, b"a page")

    threads = [threading.Thread(target=ask, args=(stores[at % 2],)) for at in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(made) == 1
