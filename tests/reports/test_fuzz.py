"""Whatever an operation answers can be told and drawn; whatever it refuses is refused alike."""

from xml.etree import ElementTree

import pytest
from flask import Flask
from hypothesis import HealthCheck, given, settings

from lastvolt_service.api.reports import forms
from lastvolt_service.reports.drawing import PICTURES

from ..api.test_fuzz import bodies
from ..cost import some, tries
from .conftest import POSTED

# What tells and what draws an answer, each with its query.
OFFERED = {
    name: [
        (form, f"{form}?picture={kind}" if kind else form)
        for form in forms(operation)
        if form in {"md", "svg"}
        for kind in (PICTURES[name] if form == "svg" else ("",))
    ]
    for name, operation in POSTED.items()
}


@pytest.mark.hypothesis
@pytest.mark.parametrize("name", OFFERED)
def test_every_answer_can_be_told_and_drawn(app: Flask, name: str) -> None:
    client = app.test_client()
    assert OFFERED[name]

    @settings(
        max_examples=tries(name, some(16, 40)),
        deadline=None,
        suppress_health_check=list(HealthCheck),
    )
    @given(bodies(POSTED[name].schema))
    def check(body: dict[str, object]) -> None:
        status = client.post(f"/v1/{name}", json=body).status_code
        for form, asked in OFFERED[name]:
            report = client.post(f"/v1/reports/{name}.{asked}", json=body)
            assert report.status_code == status, (body, asked, report.text[:500])
            if status == 200:
                hold(form, report.text)

    check()


def hold(form: str, text: str) -> None:
    if form == "md":
        told, *_ = text.partition("\n## ")  # a sheet follows
        _, *others = [line for line in told.split("\n") if line]
        assert 2 <= len([line for line in others if not line[0].isdigit()]) <= 5
    else:
        drawing = ElementTree.fromstring(text)
        places = [value for each in drawing.iter() for value in each.attrib.values()]
        assert not {"nan", "inf", "-inf"} & set(places)
