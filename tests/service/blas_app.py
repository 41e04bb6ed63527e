"""The service with one more path, which tells how many threads linear algebra has."""

import os

from flask import Response, jsonify
from threadpoolctl import threadpool_info

from lastvolt_service.wsgi import application


@application.get("/threads")
def threads() -> Response:
    return jsonify(process=os.getpid(), threads=[pool["num_threads"] for pool in threadpool_info()])
