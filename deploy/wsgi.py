"""What gunicorn serves."""

import os

from django.core.wsgi import get_wsgi_application

from deploy.bodies import ChunkedBodies

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "deploy.settings")
application = ChunkedBodies(get_wsgi_application())
