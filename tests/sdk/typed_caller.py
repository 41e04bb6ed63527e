"""A program as a user writes it; strict type checking must find nothing in it."""

import sys

import requests

import lastvolt
from lastvolt import types


def feed(client: lastvolt.Client, length_m: float) -> float:
    """Work out what reaches the solenoid of the coach."""
    segments: list[types.Segment] = [
        {"kind": "wire", "name": "feed", "size": "12 AWG", "length_m": length_m},
        {"kind": "contact", "name": "key switch", "part": "switch", "resistance_ohm": 0.06},
    ]
    segments.append({"kind": "resistance", "name": "shunt", "resistance_ohm": "1 mohm"})
    drop = client.voltage_drop(supply_v=12.2, load_current_a=8, segments=segments)
    worst: str | None = drop.worst_segment
    print(drop.verdict, worst, [check.message for check in drop.failing()])
    return drop.load_voltage_v + sum(part.drop_v for part in drop.segments)


def main() -> int:
    """Ask a server, and tell people what is wrong."""
    with lastvolt.Client(timeout=5.0, retries=1, session=requests.Session()) as client:
        try:
            coil = client.relay_coil(
                nominal_v=12,
                coil_resistance_ohm=90,
                pick_up_v=6.9,
                ambient_c=85,
                available_v=feed(client, 6.5),
                suppression={"kind": "resistor", "resistance_ohm": 680},
            )
        except lastvolt.InvalidRequest as error:
            print(*(field.argument for field in error.field_errors))
            return 2
        except lastvolt.RateLimited as error:
            wait: float | None = error.retry_after_s
            print(wait)
            return 3
        except lastvolt.LastvoltError as error:
            print(error, error.request_id, lastvolt.__version__)
            return 4
    hold: float | None = coil.hold_margin_v
    print(hold, coil.suppression.peak_v)
    return 0


if __name__ == "__main__":
    sys.exit(main())
