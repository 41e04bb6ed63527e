"""The application for a WSGI server."""

from lastvolt_service.app import create_app
from lastvolt_service.config import or_exit

application = or_exit(create_app)
