"""Readings and recordings from files: headings with units, and what is wrong in which line."""

import json

import pytest
from click.testing import CliRunner

from lastvolt.cli import coach
from lastvolt.cli.commands import lastvolt

COACH = coach.coach()
ROWS = [(k, 12.6 if k < 5 else 11.9, 0.0 if k < 5 else 35.0) for k in range(20)]


def run(folder, text, *flags):
    file = folder / "recording.csv"
    file.write_bytes(text.encode() if isinstance(text, str) else text)
    return CliRunner().invoke(
        lastvolt, ["meter", "recording", str(file), *flags], env={"LASTVOLT_URL": None}
    )


def table(heading, rows=ROWS, scale=(1, 1, 1)):
    lines = [",".join(f"{each * by:g}" for each, by in zip(row, scale, strict=True))
             for row in rows]  # fmt: skip
    return "\n".join([heading, *lines]) + "\n"


@pytest.mark.parametrize(
    ("heading", "scale"),
    [
        ("time/s,volts/V,current/A", (1, 1, 1)),
        ("time_s,volts_v,current_a", (1, 1, 1)),
        ("time/ms, voltage/mV, amperes/mA", (1e3, 1e3, 1e3)),
        ("\ufefftime/s,volts/V,current/A", (1, 1, 1)),
    ],
)
def test_units_stand_in_the_headings(tmp_path, heading, scale):
    result = run(tmp_path, table(heading, scale=scale), "--between", "battery", "--as", "json")
    assert result.exit_code == 0, result.output
    answer = json.loads(result.output)
    # By hand: 0.7 V less at 35 A.
    assert answer["resistance"]["value_ohm"] == pytest.approx(0.02, rel=1e-6)
    assert answer["sampling"] == {"samples": 20, "step_s": 1.0, "longest_step_s": 1.0, "gaps": 0}


def test_it_is_told_in_words(tmp_path):
    result = run(tmp_path, table("time/s,volts/V,current/A"), "--between", "battery")
    assert "35 A flow, between" in result.output
    assert "The battery has 0.02 Ω inside" in result.output


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (table("time/s,volts/V,current/kg"), "'current/kg' is no heading here"),
        (table("time/s,volts/V,temperature/degC"), "'temperature/degC' is no heading here"),
        (table("volts/V,current/A,volts/V"), "each once"),
        ("", "each once"),
        ("time/s,current/A\n0,1\n1\n", "line 3: 1 cells, 2 columns"),
        ("time/s,current/A\n0,1\n1,nan\n", "line 3, current_a: 'nan A' is not understood"),
        ("time/s,current/A\n0,1\n1,\n", "line 3, current_a"),
        (b"time/s,current/A\n0,\xff\n", "recording.csv"),
    ],
)
def test_what_is_wrong_is_told_by_line(tmp_path, text, said):
    result = run(tmp_path, text)
    assert result.exit_code == 2
    assert said in result.output
    assert "Traceback" not in result.output


def test_what_the_service_refuses_is_told(tmp_path):
    result = run(tmp_path, "time/s,current/A\n0,1\n2,1\n1,1\n")
    assert result.exit_code == 2
    assert "#/time_s/2" in result.output


@pytest.mark.parametrize(
    ("command", "body", "told"),
    [
        ("plan", coach.plan_of(COACH), "1. Neutral or park, brake on, wheels chocked"),
        ("fit", coach.fit_of(COACH), "19 times of 20"),
        ("proof", coach.proof_of(COACH, ["engine strap"]), "Proven: starter solenoid gets between"),
    ],
)
def test_what_is_posted_may_be_a_file(tmp_path, command, body, told):
    """Answered in words and whole."""
    file = tmp_path / "request.json"
    file.write_text(json.dumps(body), encoding="utf-8")
    asked = ["meter", command, str(file)]
    in_words = CliRunner().invoke(lastvolt, asked, env={"LASTVOLT_URL": None})
    assert told in in_words.output
    whole = CliRunner().invoke(lastvolt, [*asked, "--as", "json"], env={"LASTVOLT_URL": None})
    assert json.loads(whole.output)["headline"]
    assert in_words.exit_code == whole.exit_code


@pytest.mark.parametrize("text", ["[]", "{", ""])
def test_a_file_that_holds_no_request(tmp_path, text):
    file = tmp_path / "request.json"
    file.write_text(text, encoding="utf-8")
    result = CliRunner().invoke(lastvolt, ["meter", "proof", str(file)])
    assert result.exit_code == 2
    assert "request.json" in result.output


def test_a_plan_is_a_page_to_print_too(tmp_path):
    file = tmp_path / "request.json"
    file.write_text(json.dumps(coach.plan_of(COACH)), encoding="utf-8")
    asked = ["meter", "plan", str(file), "--as", "html"]
    found = CliRunner().invoke(lastvolt, asked, env={"LASTVOLT_URL": None})
    assert found.output.startswith("<!doctype html>")
    assert "start relay" in found.output
