"""The variables: what each may say, and that every mistake is told at once."""

import tempfile
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from deploy.environment import PREFIX, VARIABLES, EnvironmentMistakes, gather, parse_bind, read_env_file, read_environment

TOP = Path("/srv/kitchen")
GOOD_KEY = "0123456789abcdefghijklmnopqrstuvwxyz" * 2


def mistakes_of(**values: str) -> list[str]:
    with pytest.raises(EnvironmentMistakes) as caught:
        read_environment(values, TOP)
    return caught.value.mistakes


def test_nothing_set_serves_this_computer_alone():
    environment = read_environment({}, TOP)
    assert (environment.bind_host, environment.bind_port) == ("127.0.0.1", 8000)
    assert environment.hosts == ("127.0.0.1", "localhost", "[::1]")
    assert environment.data == TOP / ".data"
    assert environment.venv == TOP / ".venv"
    assert not environment.debug
    assert not environment.https
    assert environment.workers == 2
    assert environment.time_zone == "UTC"


def test_an_empty_variable_means_its_default():
    assert read_environment(dict.fromkeys(VARIABLES, ""), TOP) == read_environment({}, TOP)


def test_everything_set():
    environment = read_environment(
        {
            "WATTFARE_DATA": "/var/lib/wattfare",
            "WATTFARE_BIND": "0.0.0.0:9000",
            "WATTFARE_HOSTS": "recipes.example.org, .van.example",
            "WATTFARE_HTTPS": "yes",
            "WATTFARE_BEHIND_PROXY": "1",
            "WATTFARE_TIME_ZONE": "Europe/Vienna",
            "WATTFARE_WORKERS": "4",
            "WATTFARE_SECRET_KEY": GOOD_KEY,
            "DATABASE_URL": "postgresql://cook:p%40ss@db:5432/wattfare",
        },
        TOP,
    )
    assert environment.data == Path("/var/lib/wattfare")
    assert environment.hosts[:2] == ("recipes.example.org", ".van.example")
    assert environment.origins == ("https://recipes.example.org", "https://*.van.example")
    assert environment.behind_proxy
    assert environment.secret_key == GOOD_KEY


@pytest.mark.parametrize(
    ("name", "value", "word"),
    [
        ("WATTFARE_BIND", "8000", "no address with a port"),
        ("WATTFARE_BIND", "127.0.0.1:70000", "no address with a port"),
        ("WATTFARE_BIND", "127.0.0.1:²", "no address with a port"),
        ("PORT", "70000", "no port"),
        ("PORT", "tcp://10.0.0.1:8000", "no port"),
        ("WATTFARE_DEBUG", "maybe", "1 for yes"),
        ("WATTFARE_HTTPS", "2", "1 for yes"),
        ("WATTFARE_BEHIND_PROXY", "perhaps", "1 for yes"),
        ("WATTFARE_HOSTS", "https://recipes.example.org", "host names alone"),
        ("WATTFARE_HOSTS", "recipes.example.org:8000", "host names alone"),
        ("WATTFARE_ORIGINS", "recipes.example.org", "whole origins"),
        ("WATTFARE_ORIGINS", "https://recipes.example.org/path", "whole origins"),
        ("WATTFARE_WORKERS", "0", "from 1 to 64"),
        ("WATTFARE_WORKERS", "two", "from 1 to 64"),
        ("WATTFARE_LOG_DAYS", "0", "from 1 to 365"),
        ("WATTFARE_LOG_DAYS", "forever", "from 1 to 365"),
        ("WATTFARE_SECRET_KEY", "swordfish", "too easy to guess"),
        ("WATTFARE_SECRET_KEY", "ab" * 40, "too easy to guess"),
        ("WATTFARE_TIME_ZONE", "Fernhollow", "no known time zone"),
        ("WATTFARE_TIME_ZONE", "../etc/passwd", "no known time zone"),
        ("DATABASE_URL", "oracle://x/y", "no address of a database"),
        ("DATABASE_URL", "postgresql://cook:pass@db:port/kitchen", "no address of a database"),
        ("DATABASE_URL", "postgresql://cook:pass@db:5432", "names no database"),
    ],
)
def test_each_mistake_is_a_sentence_that_names_its_variable(name, value, word):
    (mistake,) = mistakes_of(**{name: value})
    assert mistake.startswith(f"{name} ")
    assert word in mistake


def test_every_mistake_is_told_together():
    mistakes = mistakes_of(WATTFARE_BIND="x", WATTFARE_DEBUG="x", WATTFARE_TIME_ZONE="x", DATABASE_URL="x")
    assert [mistake.split()[0] for mistake in mistakes] == [
        "WATTFARE_BIND",
        "WATTFARE_DEBUG",
        "DATABASE_URL",
        "WATTFARE_TIME_ZONE",
    ]


def test_a_database_address_is_never_repeated():
    with pytest.raises(EnvironmentMistakes) as caught:
        read_environment({"DATABASE_URL": "mysql://cook:gravy-boat@db/kitchen"}, TOP)
    assert "gravy-boat" not in str(caught.value)


def test_https_needs_a_public_host():
    (mistake,) = mistakes_of(WATTFARE_HTTPS="1")
    assert "WATTFARE_HOSTS is empty" in mistake


def test_opening_to_the_network_needs_a_host():
    (mistake,) = mistakes_of(WATTFARE_BIND="0.0.0.0:8000")
    assert "WATTFARE_HOSTS is empty" in mistake


def test_a_port_alone_stays_on_this_computer_and_yields_to_a_whole_address():
    alone = read_environment({"PORT": "9000"}, TOP)
    beside = read_environment({"PORT": "9000", "WATTFARE_BIND": "[::1]:8100"}, TOP)
    assert (alone.bind_host, alone.bind_port) == ("127.0.0.1", 9000)
    assert (beside.bind_host, beside.bind_port) == ("[::1]", 8100)


@pytest.mark.parametrize(
    ("text", "address"),
    [("127.0.0.1:8000", ("127.0.0.1", 8000)), (":9000", ("127.0.0.1", 9000)), ("[::1]:80", ("[::1]", 80))],
)
def test_addresses_to_listen_on(text, address):
    assert parse_bind(text) == address


def test_an_env_file_is_read(tmp_path):
    path = tmp_path / ".env"
    path.write_text("\ufeff# WATTFARE_DEBUG=1\n\nexport WATTFARE_WORKERS = 3\nWATTFARE_HOSTS='a.example'\nDATABASE_URL=x?a=b\n")
    read = read_env_file(path)
    assert read.values == {"WATTFARE_WORKERS": "3", "WATTFARE_HOSTS": "a.example", "DATABASE_URL": "x?a=b"}
    assert read.mistakes == ()


def test_no_env_file_says_nothing(tmp_path):
    assert read_env_file(tmp_path / ".env").values == {}


def test_every_odd_line_and_name_is_told_at_once_and_no_value_is_repeated(tmp_path):
    lines = [
        b"WATTFARE_WORKERS=none",
        b"=",
        b"= gravy-boat",
        b"WATTFARE_SECRET_KEY=gravy\xff\xfeboat",
        b"gravy-boat",
        b"WATT FARE=1",
        b"WATTFARE_PROXY=10.0.0.1",
        b"WATTFARE_TIME_ZONE=UT\x07C",
        b"wattfare_hosts=a.example",
        b"WATTFARE_GRAVY=1",
        b"OTHER_PROGRAM=1",
    ]
    (tmp_path / ".env").write_bytes(b"\r\n".join(lines))
    with pytest.raises(EnvironmentMistakes) as caught:
        gather(tmp_path, {"PORT": "x", f"{PREFIX}DATE": "y"})
    mistakes = caught.value.mistakes
    assert [mistake.split(" ")[2] for mistake in mistakes if mistake.startswith(".env, line")] == ["2", "3", "4", "5", "6"]
    told = "\n".join(mistakes)
    for words in (
        "PORT is 'x'",
        "WATTFARE_WORKERS is 'none'",
        "WATTFARE_TIME_ZONE holds bytes that are no text",
        "WATTFARE_PROXY is no setting of Wattfare. Did you mean WATTFARE_PROXIES?",
        "WATTFARE_DATE is no setting of Wattfare. Did you mean WATTFARE_DATA?",
        "wattfare_hosts is no setting of Wattfare. Did you mean WATTFARE_HOSTS?",
        "WATTFARE_GRAVY is no setting of Wattfare.",
    ):
        assert words in told
    assert len(mistakes) == 12
    assert "gravy" not in told
    assert "OTHER_PROGRAM" not in told


@pytest.mark.parametrize("data", ["\0", "~nobody-of-this-name/x", "a\udcffb", "\n/x\ny"])
def test_a_folder_that_is_none_is_told(data):
    assert mistakes_of(WATTFARE_DATA=data)[0].startswith("WATTFARE_DATA ")


def test_an_env_file_that_cannot_be_read_is_told(tmp_path):
    (tmp_path / ".env").mkdir()
    with pytest.raises(EnvironmentMistakes, match="cannot be read"):
        gather(tmp_path, {})


@settings(max_examples=200)
@given(st.binary(max_size=300))
def test_no_bytes_in_an_env_file_end_in_a_traceback(held):
    with tempfile.TemporaryDirectory() as folder:
        Path(folder, ".env").write_bytes(held + b"\nWATTFARE_DATA=" + held)
        with suppress(EnvironmentMistakes):
            gather(Path(folder), {})


def test_proxies_are_networks_and_this_computer_where_a_proxy_is_said_to_be():
    assert read_environment({}, TOP).proxies == ()
    assert read_environment({"WATTFARE_BEHIND_PROXY": "1"}, TOP).proxies == ("127.0.0.1/32", "::1/128")
    assert read_environment({"WATTFARE_PROXIES": "10.1.2.3/8, fd00::/8"}, TOP).proxies == ("10.0.0.0/8", "fd00::/8")
    (mistake,) = mistakes_of(WATTFARE_PROXIES="proxy.example")
    assert "Give the addresses of your own proxies" in mistake
