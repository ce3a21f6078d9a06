"""Every page of the program against the rules of HTML (``tests/published/html_rules.py``)."""

import pytest

from tests.house.bench_of_everything import addresses, furnish
from tests.published.html_rules import faults_of

pytestmark = [pytest.mark.django_db, pytest.mark.any_engine]


@pytest.fixture
def kitchen(owner, other_cook, noon, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    return furnish(owner, other_cook, noon)


def test_no_page_has_a_fault(kitchen, owner_client, stranger_client):
    slug = kitchen.recipe.slug
    asked = [one.path for one in addresses(kitchen)]
    asked += ["/?q=nothing", "/?energy_per_serving_wh=x", f"/r/{slug}/?for=x&battery_wh=x", f"/r/{slug}/for-8/?battery_wh=1024"]
    faults, seen = {}, set()
    for client in (owner_client, stranger_client):
        for path in asked:
            answer = client.get(path)
            if not answer.headers.get("Content-Type", "").startswith("text/html"):
                continue
            page = answer.content.decode()
            if page.lstrip().lower().startswith("<!doctype"):
                seen.add(path)
                faults |= {f"{path}: {fault}": 1 for fault in faults_of(page)}
    assert "\n".join(faults) == ""
    assert len(seen) > 95
