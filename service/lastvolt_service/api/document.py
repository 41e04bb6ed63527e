"""The OpenAPI document as it is served: the committed file. To make it works every example."""

from functools import cache
from importlib.resources import files

import lastvolt_service


@cache
def document_json() -> str:
    """Read the document.

    Returns
    -------
    str
        Indented JSON, written by `lastvolt_service.openapi`; a test holds it to the code.
    """
    return files(lastvolt_service).joinpath("openapi.json").read_text("utf-8")
