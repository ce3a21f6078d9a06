"""The bench page on keeping: the last backup, and what a look at the house finds."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from deploy.backup.places import last_backup
from deploy.doctor.examining import QUICK, THOROUGH, examine
from deploy.doctor.findings import ILL, MIND
from deploy.doctor.reached import as_it_was_asked
from kitchen.views.doors import of_owner


@never_cache
@of_owner
@require_http_methods(["GET", "HEAD", "POST"])
def keeping(request: HttpRequest) -> HttpResponse:
    """The last backup, and what is well or not. Address ``/bench/keeping/``; the owner.

    Shown at once is what is quick to look at; sending the form looks at every row and file and asks the public address.
    """
    thorough = request.method == "POST"
    found = [as_it_was_asked(request), *examine((*QUICK, *THOROUGH) if thorough else QUICK)]
    states = [finding.state for finding in found]
    context = {
        "found": sorted(found, key=lambda finding: (finding.state != ILL, finding.state != MIND)),
        "ill": states.count(ILL),
        "thorough": thorough,
        "last": last_backup(),
    }
    return render(request, "deploy/keeping.html", context)
