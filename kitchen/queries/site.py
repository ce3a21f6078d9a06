"""The one row that says whose kitchen this is."""

from kitchen.models import Site


def the_site() -> Site:
    """Return the site's row, or an unsaved one with the defaults before anybody has set it up. One query."""
    return Site.objects.first() or Site(pk=1)
