"""What gunicorn serves."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "deploy.settings")
site = get_wsgi_application()
from deploy.at_hand import AtHand  # noqa: E402  # what it asks for is there once the site is set up
from deploy.last_resort import LastResort  # noqa: E402

application = LastResort(AtHand(site))
