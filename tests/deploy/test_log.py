"""The log that is kept: requests by number, mistakes by kind and place, nobody's words, for so many days."""

import json
import logging
import re
import threading
from datetime import UTC, datetime, timedelta

import pytest
from django.test import Client

from deploy.log import DayFiles, JsonLines
from kitchen.operations import cook_link
from kitchen.operations.turns import Turns
from kitchen.publish.last_few import LastFew
from tests.house.bench_of_everything import furnish

MARK = "gravy-boat"


@pytest.fixture
def kept(tmp_path):
    """What all loggers that are kept write while a test runs, line by line."""
    handler = DayFiles(str(tmp_path / "log"), "wattfare", 14)
    handler.setFormatter(JsonLines())
    loggers = [logging.getLogger(name) for name in ("", "wattfare.requests", "django")]
    for logger in loggers:
        logger.addHandler(handler)
    yield lambda: [json.loads(line) for path in (tmp_path / "log").glob("*") for line in path.read_text().splitlines()]
    for logger in loggers:
        logger.removeHandler(handler)
    handler.close()


def requests_in(lines):
    return [line for line in lines if line["logger"] == "wattfare.requests"]


def test_a_request_is_kept_by_number_and_pattern_and_without_a_word_of_whose_it_was(kept, owner_client, other_cook):
    link = cook_link(cook=other_cook)
    answers = [
        owner_client.get("/bench/foods/", {"q": MARK}, headers={"user-agent": MARK}, REMOTE_ADDR="203.0.113.9"),
        Client().get(f"/bench/join/{link.uid}/{link.token}/"),
        Client().post("/bench/sign-in/", {"username": MARK, "password": MARK}),
        Client().get(f"/r/{MARK}/"),
    ]
    lines = requests_in(kept())
    assert [line["request"] for line in lines] == [answer.headers["X-Request-Number"] for answer in answers]
    assert len({line["request"] for line in lines}) == 4
    assert [line.get("route", "") for line in lines[:3]] == [
        "bench/foods/",
        "bench/join/<str:uid>/<str:token>/",
        "bench/sign-in/",
    ]
    assert [line["status"] for line in lines] == [200, 200, 200, 404]
    assert {*lines[0]} == {"at", "level", "logger", "request", "method", "route", "status", "ms"}
    everything = json.dumps(kept())
    for word in (MARK, "203.0.113.9", "owner", "other", link.token):
        assert word not in everything, word


def test_a_mistake_is_kept_by_kind_and_place_under_the_number_that_the_page_tells(kept, owner_client, monkeypatch):
    def fail(*_args):
        raise ValueError(f"the name {MARK} is odd")

    monkeypatch.setattr("kitchen.views.foods.foods_listed", fail)
    owner_client.raise_request_exception = False
    answer = owner_client.get("/bench/foods/", {"q": MARK})
    number = answer.headers["X-Request-Number"]
    assert number in answer.content.decode()
    told = [line for line in kept() if line["request"] == number]
    (mistake,) = [line for line in told if "error" in line]
    assert mistake["error"] == "ValueError"
    assert re.search(r"kitchen/views/foods.py:\d+ foods", " ".join(mistake["where"]))
    assert MARK not in json.dumps(told)


def record(at, words="said"):
    made = logging.LogRecord("wattfare.requests", logging.INFO, "x", 1, words, (), None)
    made.created = at.timestamp()
    return made


def test_a_day_has_its_file_and_old_ones_go(tmp_path):
    handler = DayFiles(str(tmp_path), "wattfare", 3)
    (tmp_path / "sign-ins-2020-01-01.log").write_text("another log's")
    start = datetime(2026, 10, 14, 23, 59, tzinfo=UTC)
    for days in range(6):
        handler.emit(record(start + timedelta(days=days)))
        handler.emit(record(start + timedelta(days=days)))
    handler.close()
    held = sorted(path.name for path in tmp_path.iterdir())
    assert held == ["sign-ins-2020-01-01.log", *(f"wattfare-2026-10-{day}.log" for day in (17, 18, 19))]
    assert (tmp_path / "wattfare-2026-10-19.log").read_text() == "said\nsaid\n"
    assert (tmp_path / "wattfare-2026-10-19.log").stat().st_mode & 0o777 == 0o600


def test_one_name_follows_the_days(tmp_path):
    handlers = [DayFiles(str(tmp_path), "sign-ins", 3, "sign-ins.log") for _ in range(2)]
    start = datetime(2026, 10, 14, 23, 59, tzinfo=UTC)
    for days in range(2):
        for handler in (*handlers, *handlers):
            handler.emit(record(start + timedelta(days=days), f"day {days}"))
        assert (tmp_path / "sign-ins.log").read_text() == f"day {days}\n" * 4
    for handler in handlers:
        handler.close()
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        "sign-ins-2026-10-14.log",
        "sign-ins-2026-10-15.log",
        "sign-ins.log",
    ]


def test_what_a_person_reads_names_its_zone(settings):
    plain = settings.LOGGING["formatters"]["plain"]
    line = logging.Formatter(plain["format"], plain["datefmt"], plain["style"]).format(record(datetime.now(UTC)))
    assert re.match(r"\d{4}-\d\d-\d\d \d\d:\d\d:\d\d[+-]\d{4} INFO ", line)


def test_where_nothing_can_be_written_nothing_fails(tmp_path):
    (tmp_path / "file").write_text("")
    handler = DayFiles(str(tmp_path / "file" / "log"), "wattfare", 3)
    handler.emit(record(datetime.now(UTC)))
    handler.close()


def test_many_write_whole_lines_at_once(tmp_path):
    handlers = [DayFiles(str(tmp_path), "wattfare", 3) for _ in range(4)]
    at = datetime.now(UTC)

    def go(handler, letter):
        for _ in range(200):
            handler.emit(record(at, letter * 300))

    threads = [threading.Thread(target=go, args=[one, letter]) for one, letter in zip(handlers, "abcd", strict=True)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    for handler in handlers:
        handler.close()
    (path,) = tmp_path.iterdir()
    lines = path.read_text().splitlines()
    assert len(lines) == 800
    assert {(len(line), len({*line})) for line in lines} == {(300, 1)}


def test_a_full_queue_fills_no_log(kept, owner, other_cook, noon, settings, tmp_path, monkeypatch):
    settings.MEDIA_ROOT = tmp_path / "photos"
    recipe = furnish(owner, other_cook, noon).recipe
    full = Turns(at_once=1, waiting=0, longest_s=0.01, again_s=10)
    monkeypatch.setattr("kitchen.views.public.PRINTING_FOR_STRANGERS", full)
    monkeypatch.setattr("kitchen.publish.paper._kept", LastFew(4))
    with full.turn():
        assert Client().get(f"/r/{recipe.slug}/card.pdf").status_code == 503
    assert [line["logger"] for line in kept()] == ["wattfare.requests"]
