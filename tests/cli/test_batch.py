"""The command for lists: files in and out, exit status, and going on after an interrupt."""

import csv
import json
import os
import signal
from pathlib import Path
from typing import Any

import pyarrow
import pytest
from click.testing import CliRunner, Result
from pyarrow import parquet

from lastvolt import Client, embedded
from lastvolt.cli.commands import lastvolt
from lastvolt_service.operations.circuits.check import CircuitCheckRequest

HEADER = "segments_1_size,segments_1_length_m,segments_1_temperature_c,load_current_a"
GOOD = ["12 AWG,15 ft,104 degF,8", "10 AWG,3.2,,500 mA"]
FAILS = "16 AWG,9 m,40,12"
FEED = ("--set", "segments_1_kind=wire", "--set", "segments_1_name=feed")
FIXED = ("--set", "supply_v=13.2 V", *FEED)


@pytest.fixture(autouse=True)
def fresh_application() -> None:
    embedded.application.cache_clear()


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(lastvolt, ["batch", *map(str, arguments)], env={"LASTVOLT_URL": None})


def drop(folder: Path, lines: list[str], *options: str, out: str = "out.csv") -> Result:
    (folder / "in.csv").write_text("\n".join([HEADER, *lines]) + "\n", encoding="utf-8")
    return run("voltage-drop", folder / "in.csv", "-o", folder / out, *FIXED, *options)


def rows(folder: Path, out: str = "out.csv") -> list[dict[str, str]]:
    with (folder / out).open(newline="", encoding="utf-8") as file:
        return [*csv.DictReader(file)]


def test_passed_rows_end_with_0_and_cells_may_carry_units(tmp_path: Path) -> None:
    result = drop(tmp_path, GOOD)
    assert result.exit_code == 0, result.output
    first, second = rows(tmp_path)
    with Client() as client:
        alone = client.voltage_drop(
            supply_v=13.2,
            load_current_a=8,
            segments=[
                {
                    "name": "feed",
                    "kind": "wire",
                    "size": "12 AWG",
                    "length_m": 4.572,
                    "temperature_c": 40,
                }
            ],
        )
    assert float(first["drop_v"]) == pytest.approx(alone.drop_v, rel=1e-12)
    assert first["segments_1_length_m"] == "15 ft"
    assert float(second["current_a"]) == 0.5
    assert first["verdict"] == "pass"  # 12 AWG bears that wherever it lies
    assert "2 rows: 2 pass" in result.stderr
    assert not [*tmp_path.glob("*.resume")]


def test_a_failed_row_ends_with_1(tmp_path: Path) -> None:
    result = drop(tmp_path, [*GOOD, FAILS])
    assert result.exit_code == 1
    assert "1 fail, 2 pass" in result.stderr


def test_only_fail_writes_these_and_the_refused(tmp_path: Path) -> None:
    result = drop(tmp_path, [*GOOD, FAILS, "12 AWG,15 parsec,,1", "99 AWG,1,,1"], "--only", "fail")
    assert result.exit_code == 1
    failed, unread, unknown = rows(tmp_path)
    assert failed["verdict"] == "fail"
    assert "15 parsec" in unread["errors"]
    assert unread["drop_v"] == unknown["drop_v"] == ""
    assert "segments_1_size" in unknown["errors"]
    assert "2 refused" in result.stderr


@pytest.mark.parametrize(
    "cell", ["nan", "inf", "1_0", "٣", "0x10", "1e999", "9**9", "2 furlong", "1 ohm"]
)
def test_odd_numbers_are_refused_in_their_row(tmp_path: Path, cell: str) -> None:
    result = drop(tmp_path, [f"12 AWG,{cell},20,1", GOOD[0]])
    assert result.exit_code == 1
    odd, good = rows(tmp_path)
    assert "segments_1_length_m" in odd["errors"]
    assert (odd["verdict"], good["verdict"]) == ("", "pass")


@pytest.mark.parametrize(
    ("content", "options"),
    [
        pytest.param("segments_1_size,unknown_m\n12 AWG,1\n", (), id="unknown column"),
        pytest.param("a,a\n1,2\n", (), id="name twice"),
        pytest.param("", (), id="empty"),
        pytest.param("load_current_a\n1\n", ("--set", "supply_v"), id="no value"),
        pytest.param("load_current_a\n1\n", ("--url", "ftp://nowhere"), id="no server"),
    ],
)
def test_what_cannot_be_run_ends_with_2(
    tmp_path: Path, content: str, options: tuple[str, ...]
) -> None:
    (tmp_path / "in.csv").write_text(content, encoding="utf-8")
    out = tmp_path / "out.csv"
    result = run("voltage-drop", tmp_path / "in.csv", "-o", out, *FIXED, *options)
    assert result.exit_code == 2, result.output
    assert result.stderr


def interrupt_after(monkeypatch: pytest.MonkeyPatch, pieces: int) -> None:
    """Send Ctrl-C to this process while a piece is under way."""
    whole, asked = Client._post, []

    def post(self: Any, path: str, body: bytes, media_type: str) -> bytes:
        asked.append(path)
        if len(asked) == pieces:
            os.kill(os.getpid(), signal.SIGINT)
        return whole(self, path, body, media_type)

    monkeypatch.setattr(Client, "_post", post)


@pytest.mark.parametrize("only", [(), ("--only", "fail")])
@pytest.mark.parametrize("out", ["out.csv", "out.parquet"])
def test_an_interrupted_run_goes_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, out: str, only: tuple[str, ...]
) -> None:
    lines = [GOOD[0], FAILS, GOOD[1]] * 8
    options = ("--piece-rows", "4", "--connections", "1", *only)
    whole = drop(tmp_path, lines, *options, out=f"whole.{out}")
    assert whole.exit_code == 1
    with monkeypatch.context() as patch:
        interrupt_after(patch, 3)
        broken = drop(tmp_path, lines, *options, out=out)
    assert broken.exit_code == 130
    done = json.loads((tmp_path / f"{out}.resume").read_text().splitlines()[-1])["rows"]
    assert 0 < done < len(lines)
    assert f"row {done + 1}" in broken.stderr
    assert not (tmp_path / out).exists()
    rest = drop(tmp_path, lines, *options, "--resume", out=out)
    assert rest.exit_code == 1
    assert read(tmp_path / out) == read(tmp_path / f"whole.{out}")
    assert rest.stderr == whole.stderr


def read(file: Path) -> list[dict[str, Any]]:
    if file.suffix == ".parquet":
        from pyarrow import parquet

        found: list[dict[str, Any]] = parquet.read_table(file).to_pylist()
        return found
    return rows(file.parent, file.name)


def test_parquet_in_and_out(tmp_path: Path) -> None:
    given = {"size": ["12 AWG", "10 AWG"], "length_m": [1.0, None]}
    parquet.write_table(pyarrow.table(given), tmp_path / "in.parquet")
    out = tmp_path / "out.parquet"
    assert run("wire-resistance", tmp_path / "in.parquet", "-o", out).exit_code == 1
    first, second = read(out)
    assert first["resistance_ohm"] > 0
    assert first["errors"] is None
    assert second["errors"] == "length_m: This is required."


@pytest.mark.parametrize("suffix", [".csv", ".parquet"])
def test_a_piece_without_a_row_to_write(tmp_path: Path, suffix: str) -> None:
    """Nor does a column that is empty in the first piece lose its type."""
    given = {"size": ["12 AWG", "12 AWG"], "length_m": ["1", None], "material": [None, "copper"]}
    file = tmp_path / f"in{suffix}"
    if suffix == ".csv":
        file.write_text("size,length_m,material\n12 AWG,1,\n12 AWG,,copper\n", encoding="utf-8")
    else:
        types = [(name, pyarrow.string()) for name in given]
        parquet.write_table(pyarrow.table(given, schema=pyarrow.schema(types)), file)
    out = tmp_path / "out.parquet"
    result = run("wire-resistance", file, "-o", out, "--piece-rows", "1", "--only", "fail")
    assert result.exit_code == 1, result.stderr
    assert [row["material"] for row in read(out)] == ["copper"]


def test_circuits_as_lines(tmp_path: Path) -> None:
    example = json.dumps(CircuitCheckRequest.example)
    (tmp_path / "in.ndjson").write_text(f"{example}\nnothing\n{{}}\n{example}\n")
    result = run("circuit-check", tmp_path / "in.ndjson", "-o", tmp_path / "out.ndjson")
    assert result.exit_code == 1
    found = [json.loads(line) for line in (tmp_path / "out.ndjson").read_text().splitlines()]
    assert [(each["row"], each["status"]) for each in found] == [
        (1, 200), (2, 400), (3, 422), (4, 200),
    ]  # fmt: skip
    assert "2 refused" in result.stderr


def test_no_bar_in_a_pipe(tmp_path: Path) -> None:
    result = drop(tmp_path, GOOD)
    assert "rows/s" not in result.output


POISON = [
    pytest.param(b'{"circuit": NaN}', id="NaN"),
    pytest.param(b'{"circuit": {"x": 1e999}}', id="1e999"),
    pytest.param(b'{"length_m": "12 parsecs"}', id="12 parsecs"),
    pytest.param(b'{"circuit": 1' + b"0" * 40 + b"}", id="integer of 41 digits"),
    pytest.param(b'{"circuit": 1' + b"0" * 10_000 + b"}", id="integer of 10,001 digits"),
    pytest.param(b"[" * 100_000 + b"]" * 100_000, id="nested"),
    pytest.param(b'{"circuit": ' * 500 + b"1" + b"}" * 500, id="objects nested"),
    pytest.param(b'{"circuit": "\xff"}', id="bad UTF-8"),
    pytest.param('{"circuit": 1}'.encode("utf-16"), id="UTF-16"),
    pytest.param(b'{"circuit": "\\ud800"}', id="half a surrogate pair"),
    pytest.param(b'{"circuit": {}, "circuit": {}}', id="a key twice"),
    pytest.param(b"[1]", id="list"),
    pytest.param(b"null", id="null"),
    pytest.param(b'"text"', id="text"),
    pytest.param(b'{"circuit": "' + b"x" * (1 << 20) + b'"}', id="more than a megabyte"),
    pytest.param(b'{"circuit": 1', id="cut off"),
    pytest.param(b"\x00", id="NUL"),
]


@pytest.mark.parametrize("line", POISON)
def test_a_poisoned_line_is_refused_alone(tmp_path: Path, line: bytes) -> None:
    good = json.dumps(CircuitCheckRequest.example).encode()
    (tmp_path / "in.ndjson").write_bytes(b"\n".join([good, b"", line, b" ", good, b""]))
    result = run("circuit-check", tmp_path / "in.ndjson", "-o", tmp_path / "out.ndjson")
    assert result.exit_code == 1, result.output
    first, refused, last = map(json.loads, (tmp_path / "out.ndjson").read_text().splitlines())
    assert [each["row"] for each in (first, refused, last)] == [1, 2, 3]
    assert first["answer"] == last["answer"]
    assert refused["status"] in {400, 422}
    assert refused["problem"]["detail"]
    assert "answer" not in refused


def test_a_key_that_stands_twice_is_refused_as_over_http(tmp_path: Path) -> None:
    line = json.dumps(CircuitCheckRequest.example)
    (tmp_path / "in.ndjson").write_text(line[:-1] + ', "cases": []}\n')
    run("circuit-check", tmp_path / "in.ndjson", "-o", tmp_path / "out.ndjson")
    found = json.loads((tmp_path / "out.ndjson").read_text())
    assert found["problem"]["type"] == "/problems/not-json"
    assert "'cases' stands twice" in found["problem"]["detail"]


def test_lines_may_carry_units_and_begin_with_a_mark(tmp_path: Path) -> None:
    example = CircuitCheckRequest.example
    words = json.loads(json.dumps(example), object_hook=metres_in_words)
    assert words != example
    lines = [json.dumps(words), json.dumps(example)]
    (tmp_path / "in.ndjson").write_text("\ufeff" + "\n".join(lines), encoding="utf-8")
    run("circuit-check", tmp_path / "in.ndjson", "-o", tmp_path / "out.ndjson")
    first, second = map(json.loads, (tmp_path / "out.ndjson").read_text().splitlines())
    assert first["answer"] == second["answer"]


def metres_in_words(found: dict[str, Any]) -> dict[str, Any]:
    return {n: f"{v * 1000} mm" if n == "length_m" else v for n, v in found.items()}


def test_a_cell_that_is_no_text_is_refused_in_its_row(tmp_path: Path) -> None:
    (tmp_path / "in.csv").write_bytes(
        b"size,length_m\n12 AWG,1\n12 \xff,1\n12 AWG,\xb5\n10 AWG,1\n"
    )
    out = tmp_path / "out.csv"
    assert run("wire-resistance", tmp_path / "in.csv", "-o", out).exit_code == 1
    errors = [row["errors"] for row in rows(tmp_path)]
    assert errors == ["", "size: This is not UTF-8 text.", "length_m: This is not UTF-8 text.", ""]
    assert "\N{REPLACEMENT CHARACTER}" in rows(tmp_path)[1]["size"]


@pytest.mark.parametrize("piece_rows", [1, 2, 100])
def test_a_row_of_another_length_is_refused_alone(tmp_path: Path, piece_rows: int) -> None:
    """A cell is missing, and a comma stands for a point; the others are answered."""
    (tmp_path / "in.csv").write_text(
        "size,length_m,temperature_c\n12 AWG,1,20\n12 AWG,1\n12 AWG,1,5,20\n12 AWG,2,20\n"
    )
    out, options = tmp_path / "out.csv", ("--piece-rows", str(piece_rows))
    assert run("wire-resistance", tmp_path / "in.csv", "-o", out, *options).exit_code == 1
    found = rows(tmp_path)
    assert [bool(row["errors"]) for row in found] == [False, True, True, False]
    assert found[1]["errors"].startswith("Line 3 has 2 cells, and the first line names 3 columns")
    assert found[2]["errors"].startswith("Line 4 has 4 cells, and the first line names 3 columns")
    assert [row["resistance_ohm"] == "" for row in found] == [False, True, True, False]
    one, two = (float(found[row]["resistance_ohm"]) for row in (0, 3))
    assert two == pytest.approx(2 * one)  # twice as long


def test_what_is_poisoned_in_parquet_is_refused_in_its_row(tmp_path: Path) -> None:
    given = {
        "size": ["12 AWG"] * 5,
        "length_m": [1.0, float("inf"), float("-inf"), 1e300, float("nan")],
        "temperature_c": ["20", "20", "20", "12 parsecs", "20"],
    }
    parquet.write_table(pyarrow.table(given), tmp_path / "in.parquet")
    out = tmp_path / "out.parquet"
    assert run("wire-resistance", tmp_path / "in.parquet", "-o", out).exit_code == 1
    found = read(out)
    assert [row["errors"] is None for row in found] == [True, False, False, False, False]
    assert "finite" in found[1]["errors"]
    assert "finite" in found[2]["errors"]
    assert "12 parsecs" in found[3]["errors"]
    assert found[4]["errors"] == "length_m: This is required."  # NaN: nothing is given


def test_a_million_columns_are_refused_before_they_are_read(tmp_path: Path) -> None:
    header = ",".join(f"column_{number}" for number in range(1_000_000))
    (tmp_path / "in.csv").write_text(f"{header}\n{',' * 999_999}\n")
    result = run("wire-resistance", tmp_path / "in.csv", "-o", tmp_path / "out.csv")
    assert result.exit_code == 2
    assert "1000000 columns are more than any operation takes" in result.stderr
    assert len(result.stderr) < 500


def test_every_operation_has_room_for_its_columns() -> None:
    from lastvolt.cli.tables import MOST_COLUMNS
    from lastvolt_service.api.batch import BATCHES
    from lastvolt_service.schemas.column_names import kinds_of, names

    def count(schema: Any) -> int:
        found = names(schema)
        items = ((each.maximum, kinds_of(each.inner)) for each in found.listed.values())
        return len(found.single) + sum(most * sum(map(count, kinds)) for most, kinds in items)

    assert max(count(operation.schema) for operation in BATCHES) < MOST_COLUMNS
