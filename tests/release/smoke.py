"""Ask the service that is installed for everything; any fault or warning ends this with an error.

Writes the OpenAPI document, which holds a worked answer of every operation, on standard output.
"""

import sys
import warnings

warnings.simplefilter("error")

from lastvolt_service.api import OPERATIONS
from lastvolt_service.api.reports import forms
from lastvolt_service.app import create_app
from lastvolt_service.config import Config
from lastvolt_service.openapi import written

client = create_app(Config(rate_limit="100000/minute")).test_client()
wrong = []


def ask(method, path, status, **given):
    answer = client.open(path, method=method, **given)
    if answer.status_code != status:
        wrong.append(f"{path}: {answer.status_code} {answer.text[:300]}")


for operation in OPERATIONS:
    example, reports = operation.schema.example, f"/v1/reports/{operation.name}."
    if operation.method == "GET":
        ask("GET", operation.path, 200, query_string=example)
        continue
    ask("POST", operation.path, 200, json=example)
    ask("POST", operation.path, 200, json={**example, "explain": True})
    ask("POST", operation.path, 422, json={**dict.fromkeys(example), "other": 1})
    ask("POST", operation.path, 415, data=b"{}")
    for form in forms(operation):
        ask("POST", f"{reports}{form}", 200, json=example)
for path, status in (("/", 200), ("/docs", 200), ("/livez", 200), ("/readyz", 200), ("/x", 404)):
    ask("GET", path, status)
if wrong:
    sys.exit("\n".join(wrong))
sys.stdout.write(written())
