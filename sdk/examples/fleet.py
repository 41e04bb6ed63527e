"""Check a list of circuits in one go: the mobile library of Lindwater County (invented).

``python fleet.py fleet.csv`` prints a line for each circuit, the worst first, and ends with 1 if
one of them fails. Each wire goes out and comes back through the body.
"""

import csv
import sys
from pathlib import Path

from lastvolt import Client, LastvoltError

LABELS = ("coach", "what")  # of the list; every other column is a field of the request
# What every circuit of the list is: a wire, and then a switch.
ALIKE = {
    "segments_1_kind": "wire",
    "segments_1_name": "wire",
    "segments_2_kind": "contact",
    "segments_2_name": "switch",
}
WORST_FIRST = ("fail", "undecided", "unknown", "marginal", "pass")


def check(rows: list[dict[str, str]], client: Client) -> list[tuple[str, str]]:
    """Ask about all circuits.

    Parameters
    ----------
    rows : list of dict of str to str
        Lines of the list; quantities are text with their units, as people wrote them.
    client : Client
        Asks the service.

    Returns
    -------
    list of tuple of str
        Verdict and a line to print, the worst first.
    """
    fields = [name for name in rows[0] if name not in LABELS]
    columns = {name: [row[name] for row in rows] for name in fields}
    found = []
    for piece in client.batch("voltage-drop", columns, constants=ALIKE):
        wrong = {error.row: error.detail for error in piece.errors}
        for place in range(piece.rows):
            number = piece.first_row + place
            name = " ".join(rows[number][label] for label in LABELS)
            if number in wrong:
                found.append(("unknown", f"{name}: {wrong[number]}"))
                continue
            answer = {field: values[place] for field, values in piece.columns.items()}
            found.append(
                (
                    piece.verdicts[answer["verdict"]],
                    f"{name}: {answer['load_voltage_v']:.1f} V arrive, "
                    f"{answer['drop_v']:.2f} V of {answer['limit_drop_v']:.2f} V are lost",
                )
            )
    return sorted(found, key=lambda each: WORST_FIRST.index(each[0]))


def main(path: Path) -> int:
    """Check the list.

    Parameters
    ----------
    path : Path
        CSV with the columns of ``fleet.csv``.

    Returns
    -------
    int
        0 if nothing fails, 1 if something does, 2 if there is no answer.
    """
    with path.open(newline="", encoding="utf-8") as lines:
        rows = list(csv.DictReader(lines))
    try:
        with Client() as client:
            found = check(rows, client)
    except LastvoltError as error:
        print(error, file=sys.stderr)
        return 2
    for verdict, line in found:
        print(f"{verdict:<9}{line}")
    return int(any(verdict == "fail" for verdict, _ in found))


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
