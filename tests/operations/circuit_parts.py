"""Parts of circuits, for tests."""

SOURCE = {"plus": "post", "open_circuit_v": 12.6, "internal_resistance_ohm": 0.004}


def contact(name, start, end, ohm, part="connector", **fields):
    made = {"name": name, "kind": "contact", "nodes": [start, end], "part": part}
    return {**made, "resistance_ohm": ohm, **fields}


def wire(name, start, end, size, length_m, **fields):
    made = {"name": name, "kind": "wire", "nodes": [start, end], "size": size}
    return {**made, "length_m": length_m, **fields}


def resistance(name, start, end, ohm):
    return {"name": name, "kind": "resistance", "nodes": [start, end], "resistance_ohm": ohm}


def load(name, start, end, **value):
    (quantity,) = value.keys() & {"resistance_ohm", "current_a", "power_w"}
    kind = {"resistance_ohm": "resistance", "current_a": "current", "power_w": "power"}[quantity]
    return {"name": name, "kind": kind, "nodes": [start, end], **value}


def ask(run, branches, loads, *cases, source=SOURCE, **fields):
    made = {"source": source, "branches": branches, "loads": loads}
    return run(
        "circuit-check", circuit=made, cases=list(cases) or [{"name": "only"}], **fields
    ).cases


def checks(state):
    return {(check.code, check.part): check for check in state.checks}
