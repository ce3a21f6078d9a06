"""Finding a PostgreSQL server for the second half of the tests. Standard library only; the question is put by psycopg."""

from __future__ import annotations

import getpass
import socket
import subprocess
from dataclasses import dataclass

from deploy.place import Place

ADDRESS = ("127.0.0.1", 5432)
# Asks whether one can sign in and make a database; says so in one word, or why not in one line.
QUESTION = """
import sys, psycopg
try:
    with psycopg.connect(sys.argv[1], connect_timeout=5) as connection:
        asked = "select rolcreatedb or rolsuper from pg_roles where rolname = current_user"
        print("yes" if connection.execute(asked).fetchone()[0] else "the user may not make a database there")
except psycopg.Error as error:
    print((str(error).strip().splitlines() or ["no reason was given"])[0])
"""


@dataclass(frozen=True)
class Server:
    """A server for the tests: its address, or why there is none; ``asked_for`` when TEST_DATABASE_URL names it."""

    url: str = ""
    why_not: str = ""
    asked_for: bool = False


def find_server(place: Place) -> Server:
    """Return the server that TEST_DATABASE_URL names, else one on this computer that lets its user in without a password."""
    named = place.variables.get("TEST_DATABASE_URL", "")
    if named:
        answer = ask(place, named)
        why_not = "" if answer == "yes" else f"the server of TEST_DATABASE_URL cannot be used: {answer}"
        return Server(named, why_not, asked_for=True)
    if not answers():
        return Server(why_not="skipped, because no server answers on 127.0.0.1:5432 and TEST_DATABASE_URL is not set")
    for user in dict.fromkeys(("postgres", getpass.getuser())):
        url = f"postgresql://{user}@127.0.0.1:5432/postgres"
        if ask(place, url) == "yes":
            return Server(url)
    return Server(why_not="skipped, because the server on 127.0.0.1:5432 asks for a password; set TEST_DATABASE_URL")


def answers() -> bool:
    """Whether anything listens where PostgreSQL usually does."""
    try:
        with socket.create_connection(ADDRESS, timeout=3):
            return True
    except OSError:
        return False


def ask(place: Place, url: str) -> str:
    """Return ``yes`` where a test database can be made, else the server's words. A password is never repeated."""
    command = [str(place.python), "-c", QUESTION, url]
    return subprocess.run(command, capture_output=True, text=True, check=False).stdout.strip() or "it cannot be asked"
