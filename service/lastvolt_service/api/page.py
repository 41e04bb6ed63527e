"""How a page is sent: from this origin alone, and asked for anew each time."""

from flask import Response, make_response, render_template

from lastvolt_service.api.operations import cacheable

# Everything comes from this origin; no script and no style stands in a page itself.
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; "
    "connect-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
)


def page(template: str, **values: object) -> Response:
    """Write a page, which browsers may keep."""
    return fresh(bare(template, **values))


def bare(template: str, **values: object) -> Response:
    """Write a page that is not to be kept."""
    response = make_response(render_template(template, **values))
    response.headers["Content-Security-Policy"] = POLICY
    return response


def fresh(response: Response) -> Response:
    """Let browsers keep it and ask each time, so that no page meets the script of another one."""
    response.headers["Cache-Control"] = "no-cache"
    return cacheable(response)
