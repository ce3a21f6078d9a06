"""From the first start to a printed card, in three windows."""
from django.utils import timezone
from kitchen.operations import first_link_token, load_reference_foods
from tests.journeys import road

def test_the_main_road(window):
    load_reference_foods()
    road.open_first_link(window, first_link_token(at=timezone.now()))
    road.write_recipe(window)
    window.screenshot(path="/tmp/j1.png", full_page=True)
    open("/tmp/j1.html","w").write(window.content())
