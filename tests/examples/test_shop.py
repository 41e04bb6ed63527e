"""The shop software's call, in JavaScript, to a server."""

import subprocess

from lastvolt import Client, types

from .conftest import EXAMPLES

# The job as it stands in the example.
JOB = {
    "supply_v": 12.4,
    "load_current_a": 18,
    "length_m": 6.2,
    "return_path": "body",
    "ambient_c": 60,
    "insulation": "GXL",
    "limit_drop_percent": 3,
}


def run(node: str, url: str) -> "subprocess.CompletedProcess[str]":
    command = [node, str(EXAMPLES / "shop.mjs"), url]
    return subprocess.run(command, capture_output=True, text=True, timeout=60)


def test_it_prints_the_line_for_the_work_order(node: str, server_url: str) -> None:
    with Client(server_url) as client:
        wire = types.WireSizing.from_json(client.call("wire-sizing", JOB))
    assert wire.size is not None
    done = run(node, server_url)
    assert done.returncode == 0, done.stderr
    order, *cautions = done.stdout.splitlines()
    assert order == f"Wire {wire.size}, GXL, fuse {wire.fuse_rating_a:g} A."
    assert cautions == [f"Mind: {caution}" for caution in wire.cautions]


def test_without_a_server_it_fails_in_one_line(node: str) -> None:
    done = run(node, "http://127.0.0.1:9")  # the port of the discard service
    assert (done.returncode, done.stdout) == (1, "")
    assert len(done.stderr.splitlines()) == 1
