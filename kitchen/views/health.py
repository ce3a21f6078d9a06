"""Whether the program is alive and ready, for whatever watches it."""

from __future__ import annotations

from django.db import DatabaseError, connection
from django.db.migrations.executor import MigrationExecutor
from django.http import HttpRequest, HttpResponse
from django.views.decorators.cache import never_cache

from kitchen.views.doors import of_anybody


@never_cache
@of_anybody
def healthz(request: HttpRequest) -> HttpResponse:
    """Alive. Address ``/healthz``; anybody; always 200, touches no table."""
    return HttpResponse("ok", content_type="text/plain")


@never_cache
@of_anybody
def readyz(request: HttpRequest) -> HttpResponse:
    """Ready. Address ``/readyz``; anybody; 503 while the database does not answer or lacks its newest tables."""
    try:
        plan = MigrationExecutor(connection)
        waiting = plan.migration_plan(plan.loader.graph.leaf_nodes())
    except DatabaseError:
        return HttpResponse("the database does not answer", status=503, content_type="text/plain")
    if waiting:
        return HttpResponse(
            "the database waits for its newest tables: run manage.py migrate", status=503, content_type="text/plain"
        )
    return HttpResponse("ready", content_type="text/plain")
