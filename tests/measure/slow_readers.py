"""Measure what a visitor waits while slow and idle connections stand open, and what the workers take of memory: a table.

    .venv/bin/python -m tests.measure.slow_readers          200 slow and 200 idle connections
    .venv/bin/python -m tests.measure.slow_readers 500      500 of each

Makes a data folder of its own with the example kitchen, serves it as ``deploy.serve`` does from two workers, and throws it away.
Slow ones send a head, or a body, byte by byte, or take nothing of an answer. The visitor opens a new connection for each page.
Nothing here judges.
"""

from __future__ import annotations

import socket
import sys
import time
from pathlib import Path

from tests.measure.kept_pages import PORT, RECIPE, served_kitchen

SLOW = 200
PAGES = 60
BEGUN = (
    b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Slow: ",
    b"POST /bench/sign-in/ HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 90000\r\n\r\n",
    f"GET {RECIPE} HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n".encode(),
)


def main(arguments: list[str]) -> None:
    """Print the table."""
    slow = int(arguments[0]) if arguments else SLOW
    with served_kitchen("deploy.wsgi:application") as master:
        print(f"{'connections beside the visitor':34}{'median ms':>11}{'longest ms':>12}{'workers MB':>12}")
        _print_row("none", master, [])
        dripping = [_open(BEGUN[number % len(BEGUN)]) for number in range(slow)]
        _print_row(f"{slow} slow", master, dripping)
        idle = [_open(b"") for _ in range(slow)]
        _print_row(f"{slow} slow, {len(idle)} idle", master, dripping)


def _open(begun: bytes) -> socket.socket:
    line = socket.create_connection(("127.0.0.1", PORT))
    line.sendall(begun)
    return line


def _print_row(words: str, master: int, dripping: list[socket.socket]) -> None:
    spans = []
    for number in range(PAGES):
        for line in dripping[number % 10 :: 10]:
            _drip(line)
        began = time.perf_counter()
        _look("/" if number % 2 else RECIPE)
        spans.append(time.perf_counter() - began)
    spans.sort()
    memory = sum(_own_mb(worker) for worker in _children(master))
    print(f"{words:34}{spans[len(spans) // 2] * 1000:>11.1f}{spans[-1] * 1000:>12.1f}{memory:>12.0f}", flush=True)


def _drip(line: socket.socket) -> None:
    try:
        line.send(b"x")
    except OSError:  # its time was up
        return


def _look(address: str) -> None:
    with socket.create_connection(("127.0.0.1", PORT)) as line:
        line.sendall(f"GET {address} HTTP/1.1\r\nHost: 127.0.0.1:{PORT}\r\nConnection: close\r\n\r\n".encode())
        answer = b"".join(iter(lambda: line.recv(1 << 16), b""))
    if b" 200 " not in answer[:20]:
        raise ValueError(f"{address}: {answer[:80]!r}")


def _children(master: int) -> list[str]:
    return Path(f"/proc/{master}/task/{master}/children").read_text().split()


def _own_mb(process: str) -> float:
    """Return a process's share of memory, with what it shares divided among those who share it. [MB]"""
    rolled = Path(f"/proc/{process}/smaps_rollup").read_text().splitlines()
    return sum(int(line.split()[1]) for line in rolled if line.startswith("Pss:")) / 1024


if __name__ == "__main__":
    main(sys.argv[1:])
