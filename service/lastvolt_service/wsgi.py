"""The application for a WSGI server."""

from lastvolt_service.app import create_app

application = create_app()
