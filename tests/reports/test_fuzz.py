"""Whatever an operation answers can be told and drawn; whatever it refuses is refused alike."""

from xml.etree import ElementTree

import pytest
from flask import Flask
from hypothesis import HealthCheck, given, settings

from lastvolt_service.api.reports import forms
from lastvolt_service.reports.drawing import PICTURES

from ..api.test_fuzz import bodies
from ..cost import tries
from .conftest import POSTED

OFFERED = [
    (name, form, kind)
    for name, operation in POSTED.items()
    for form in forms(operation)
    if form in {"md", "svg"}
    for kind in (PICTURES[name] if form == "svg" else ("",))
]


@pytest.mark.hypothesis
@pytest.mark.parametrize(("name", "form", "kind"), OFFERED)
def test_every_answer_can_be_told_and_drawn(app: Flask, name: str, form: str, kind: str) -> None:
    client = app.test_client()
    path = f"/v1/reports/{name}.{form}{f'?picture={kind}' if kind else ''}"

    @settings(max_examples=tries(name, 40), deadline=None, suppress_health_check=list(HealthCheck))
    @given(bodies(POSTED[name].schema))
    def check(body: dict[str, object]) -> None:
        answer, report = client.post(f"/v1/{name}", json=body), client.post(path, json=body)
        assert report.status_code == answer.status_code, (body, report.text[:500])
        if report.status_code != 200:
            return
        if form == "md":
            told, *_ = report.text.partition("\n## ")  # a sheet follows
            assert 3 <= len([line for line in told.split("\n") if line]) <= 6
        else:
            drawing = ElementTree.fromstring(report.text)
            places = [value for each in drawing.iter() for value in each.attrib.values()]
            assert not {"nan", "inf", "-inf"} & set(places)

    check()
