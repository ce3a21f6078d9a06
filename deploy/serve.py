"""How gunicorn serves the site: a few worker processes with threads, forked from one that has everything loaded.

``python -m deploy.serve`` starts it. Here are gunicorn's settings, too.
"""

from __future__ import annotations

import gc
import os
import sys
from pathlib import Path
from typing import Any

from deploy.place import Refused, find_place, say

try:
    _place = find_place(Path(__file__).resolve().parent.parent)
except Refused as refusal:
    sys.exit(str(refusal))

bind = f"{_place.environment.bind_host}:{_place.environment.bind_port}"
workers = _place.environment.workers
# Reads and writes for all connections beside each other: only a whole request takes a thread (deploy/patience.py).
worker_class = "deploy.patience.PatientWorker"
# Strangers fill five at most with work that takes long (kitchen/operations/turns.py); the others are for everybody.
threads = 8
timeout = 60
graceful_timeout = 10
preload_app = True
worker_tmp_dir = "/dev/shm" if os.access("/dev/shm", os.W_OK) else None  # a heartbeat must not wait for a disk
control_socket_disable = True
loglevel = "warning"
proc_name = "wattfare"


def when_ready(server: Any) -> None:
    """Say where the site is, once it can be reached."""
    from django.db import connections

    from deploy.warm import warm_up
    from deploy.welcome import welcome_lines
    from deploy.wsgi import site

    warm_up(site)  # what holds pages at hand opens the database in each worker
    for line in welcome_lines(_place.environment):
        say(line)
    connections.close_all()  # the workers are forked next: a connection must not be shared with them
    gc.collect()
    gc.freeze()  # what is loaded by now stays shared between the workers


def on_exit(server: Any) -> None:
    """Say that the server has stopped."""
    say("Stopped.")


def main() -> None:
    """Serve until told to stop."""
    from gunicorn.app.wsgiapp import run

    sys.argv = ["wattfare", "--config", "python:deploy.serve", "deploy.wsgi:application"]
    run()


if __name__ == "__main__":
    try:
        main()
    except KeyboardInterrupt:  # before gunicorn listens for signals
        sys.exit(130)
