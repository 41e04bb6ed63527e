"""What *protects* means: no current leaves a wire hotter than it bears before its fuse has opened.

The heat of the wires is reckoned here once more, step by step in time, with insulation in many
rings; the longest times of the fuses are read here once more,
straight between their gates on logarithmic scales.
"""

import math

import numpy as np
import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from lastvolt_service.operations.fuses.overload import FusedWire, overload
from lastvolt_service.operations.wires.heated_wire import heated_wire
from lastvolt_service.physics.cooling import surface_cooling
from lastvolt_service.physics.heating import permissible_current_a
from lastvolt_service.tables import fuses
from lastvolt_service.tables.sizes import STANDARDS, trade_sizes
from lastvolt_service.words import catalogue

TIMED = [family for family in fuses.fuse_families() if fuses.gates(family)]
SHORT_TIME_S = 5.0  # so long the short-time limit of an insulation counts
STEPS = 400
RINGS = 10
# Both walk along the same heat balance; what differs is the step, the points between gates, and
# that the service has three layers of insulation for ten.
NEAR = 0.02


def ask(run, **fields):
    return run("fuse-selection", **{"ambient_c": 30, "load_profile": "steady", **fields})


def check(found, code):
    return next((each for each in found.checks if each.code == code), None)


def longest_s(family, multiple):
    """Longest time in which a fuse opens; above the last gate with its melting integral."""
    gates = [gate for gate in fuses.gates(family) if math.isfinite(gate.longest_s)]
    if multiple < gates[0].rating_multiple:
        return math.inf
    last = gates[-1]
    if multiple >= last.rating_multiple:
        return last.longest_s * (last.rating_multiple / multiple) ** 2
    place = sum(gate.rating_multiple <= multiple for gate in gates)
    below, above = gates[place - 1], gates[place]
    share = math.log(multiple / below.rating_multiple) / math.log(
        above.rating_multiple / below.rating_multiple
    )
    return below.longest_s * (above.longest_s / below.longest_s) ** share


class Warming:
    """A wire that warms up, one small step of time after the other: metal, and rings round it."""

    def __init__(self, wire, start_a):
        self.wire = wire
        physics = wire.physics
        ratio = physics.outer_diameter_mm / physics.conductor_diameter_mm
        edges = ratio ** (np.arange(RINGS + 1) / RINGS)
        shares = np.diff(edges**2) / (ratio**2 - 1.0)
        self.capacity = np.concatenate(
            ([physics.metal_j_per_m_k], shares * physics.insulation_j_per_m_k)
        )
        ring = physics.insulation_k_m_per_w / RINGS  # each in the middle of its resistance
        link = 1.0 / np.concatenate(([ring / 2], np.full(RINGS - 1, ring)))
        self.flow = np.diag(np.concatenate((link, [0.0])) + np.concatenate(([0.0], link)))
        self.flow -= np.diag(link, 1) + np.diag(link, -1)
        self.top_k = max(wire.limit_c, wire.short_circuit_c) + 50.0 - wire.ambient_c
        surface_k = np.concatenate(([0.0], np.geomspace(1e-3, self.top_k, 300)))
        self.off = surface_k * surface_cooling(rise_k=surface_k, wire=physics).w_per_m_k
        self.last_k = surface_k + self.off * ring / 2
        metal_k = surface_k + self.off * physics.insulation_k_m_per_w
        at_rest = np.interp(start_a**2, self.off / self._ohm_per_m(metal_k), self.off)
        inside = np.concatenate(([RINGS], RINGS - 0.5 - np.arange(RINGS))) * ring
        self.start_k = np.interp(at_rest, self.off, surface_k) + at_rest * inside

    def _ohm_per_m(self, rise_k):
        above_20 = self.wire.ambient_c + rise_k - 20.0
        return self.wire.resistance_20_ohm_per_m * (
            1.0 + self.wire.temperature_coefficient_per_k * above_20
        )

    def after_c(self, current_a, time_s):
        stored = self.capacity * (STEPS / np.asarray(time_s))[:, None]
        step = np.linalg.inv(stored[:, :, None] * np.eye(RINGS + 1) + self.flow)
        rise_k = np.tile(self.start_k, (len(current_a), 1))
        for _ in range(STEPS):
            heat = stored * rise_k
            heat[:, 0] += current_a**2 * self._ohm_per_m(rise_k[:, 0])
            heat[:, -1] -= np.interp(rise_k[:, -1], self.last_k, self.off)
            rise_k = np.minimum(np.einsum("rij,rj->ri", step, heat), self.top_k)
        return self.wire.ambient_c + rise_k[:, 0]


@settings(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    size=st.sampled_from([(each, size) for each in STANDARDS for size in trade_sizes(each)]),
    insulation=st.sampled_from(["GPT", "TXL", "GXL", "SXL", "ISO class B", "ISO class C"]),
    ambient_c=st.floats(-20, 80),
    fuse_ambient_c=st.floats(-40, 85),
    share=st.floats(0.05, 1.0),
    family=st.none() | st.sampled_from(TIMED),
)
@example(("AWG", "14 AWG"), "TXL", 30.0, 25.0, 0.5, "blade E")
def test_every_current_that_a_fuse_lets_through_is_borne(
    run, size, insulation, ambient_c, fuse_ambient_c, share, family
):
    standard, size = size
    wire = heated_wire(
        size=size, standard=standard, insulation_kind=insulation, ambient_c=ambient_c
    )
    bears_a = float(permissible_current_a(limit_c=wire.limit_c, wire=wire.physics))
    if bears_a < 1.0:
        return
    load_a = 0.6 * share * bears_a
    found = ask(
        run,
        size=size,
        standard=standard,
        insulation=insulation,
        ambient_c=ambient_c,
        fuse_ambient_c=fuse_ambient_c,
        load_current_a=load_a,
        **({} if family is None else {"fuse_family": family}),
    )
    if found.fuse_rating_a is None:
        return
    assert check(found, "fuse_overload").verdict == "pass"
    cold_a = found.fuse_rating_a * max(1.0, fuses.ambient_factor(fuse_ambient_c))
    gates = [g for g in fuses.gates(found.fuse_family) if math.isfinite(g.longest_s)]
    opening = gates[0].rating_multiple
    # Without limit of time up to the conventional opening current, by the wire's own answer...
    assert found.permissible_current_a >= opening * cold_a
    # ...and each larger one for the longest time.
    multiples = np.geomspace(opening, 40.0, 60)
    times_s = np.array([longest_s(found.fuse_family, multiple) for multiple in multiples])
    warming = Warming(wire, load_a)
    hot_c = warming.after_c(multiples * cold_a, times_s)
    short_c = wire.short_circuit_c if wire.short_circuit_c > wire.limit_c else wire.limit_c
    limit_c = np.where(times_s <= SHORT_TIME_S, short_c, wire.limit_c)
    assert (hot_c - limit_c).max() <= NEAR * (limit_c - ambient_c).max()


@pytest.mark.parametrize("insulation", ["TXL", "GPT", "ISO class C"])
@pytest.mark.parametrize("time_s", [1.0, 5.0, 5.01, 60.0])
def test_a_short_time_limit_counts_up_to_five_seconds(insulation, time_s):
    """And none where the material, and so its limit, is not stated."""
    wire = heated_wire(size="14 AWG", insulation_kind=insulation, ambient_c=30.0)
    band = fuses.Band(1.5, 2.0, np.array([3.0]), np.array([time_s]), "made up")
    found = overload(FusedWire(40.0, True, wire, 30.0), band, 20.0)
    is_short = time_s <= SHORT_TIME_S and wire.short_circuit_c > wire.limit_c
    assert found.judged.limit == (wire.short_circuit_c if is_short else wire.limit_c)
    assert is_short == (time_s <= SHORT_TIME_S and insulation != "ISO class C")
    assert (found.current_a, found.time_s) == (60.0, time_s)


@pytest.mark.parametrize("insulation", ["TXL", "GPT"])
def test_a_fuse_that_never_need_open_protects_nothing(run, insulation):
    """35 A on 14 AWG: the fuse may carry 1.34 times that without end, and the wire bears 40 A."""
    found = ask(run, load_current_a=26, size="14 AWG", insulation=insulation)
    assert found.fuse_rating_a is None
    assert found.verdict == "fail"


def test_a_wire_without_inertia_is_gone_before_a_slow_fuse_opens(run):
    """A thin wire bears the opening current, and not half as much again for the fuse's minutes."""
    thin = {"load_current_a": 14, "size": "1.5 mm2", "insulation": "TXL", "fuse_ambient_c": 25}
    found = ask(run, **thin, fuse_family="blade E")
    assert found.upper_a > found.lower_a
    assert (found.fuse_rating_a, check(found, "fuse_overload").verdict) == (None, "fail")
    assert "larger wire" in check(found, "fuse_overload").message
    quick = ask(run, **thin)
    assert (quick.fuse_family, check(quick, "fuse_overload").verdict) == ("blade C", "pass")


@pytest.mark.parametrize("load_a", [22.5, 60, 140])
def test_a_family_of_unknown_times_is_never_passed_in_silence(run, load_a):
    heavy = {"size": "4/0 AWG", "insulation": "SGX", "fuse_family": "bolt-in SF30"}
    found = ask(run, load_current_a=load_a, **heavy)
    assert found.fuse_family == "bolt-in SF30"
    assert check(found, "fuse_protects_wire").verdict == "unknown"
    assert "curve" in check(found, "fuse_protects_wire").message
    assert found.verdict == "unknown"
    # And nobody gets one who has not asked for it.
    del heavy["fuse_family"]
    free = ask(run, load_current_a=load_a, **heavy)
    assert free.fuse_family in TIMED


@pytest.mark.parametrize("load_a", [10, 26, 29])
def test_not_knowing_when_a_fuse_opens_allows_no_more(run, load_a):
    """12 AWG in 50 degC bears no 35 A of any family of known times, so none of another either."""
    thin = {"load_current_a": load_a, "size": "12 AWG", "insulation": "GXL", "ambient_c": 50}
    found = ask(run, **thin, fuse_family="bolt-in SF30")
    most_a = min(ask(run, **thin, fuse_family=family).upper_a for family in TIMED)
    assert found.upper_a <= most_a
    assert (found.fuse_rating_a or 0) <= most_a
    overload = check(found, "fuse_overload")
    if overload is not None:
        assert "give size" not in overload.message
        assert "maker's curve" in overload.message


def test_small_ratings_have_no_published_times(run):
    """The operating times of blades are those of 3 to 40 A."""
    found = ask(run, load_current_a=0.2, size="18 AWG", insulation="TXL")
    assert found.fuse_rating_a == 3


def test_times_from_memory_make_it_unverified_and_not_unknown(run):
    found = ask(run, load_current_a=9, size="14 AWG", insulation="TXL")
    for code in ("fuse_protects_wire", "fuse_overload"):
        assert check(found, code).verdict == "pass"
        assert "(unverified)" in check(found, code).basis


def test_a_current_alone_says_nothing_of_overloads(run):
    found = ask(run, load_current_a=9, permissible_current_a=40)
    assert check(found, "fuse_protects_wire").verdict == "pass"
    assert check(found, "fuse_overload").verdict == "unknown"
    assert "size and insulation" in check(found, "fuse_overload").message


# Short circuits. --------------------------------------------------------------------------------

BLADE = fuses.band("blade C")
SHORTED = {"load_current_a": 14, "size": "10 AWG", "insulation": "TXL", "supply_v": 12.0}


def test_largest_short_circuit_is_that_of_a_full_battery(run):
    """A full 12 V battery has 12.65 V (at 26.7 degC); IS 2577-5 (ISO 8820-5): 2000 A at 32 V."""
    shared = {**SHORTED, "fuse_family": "bolt-in SF51", "load_current_a": 45, "size": "2 AWG"}
    limit_ohm = 12.65 / 2000
    for ohm, verdict in ((limit_ohm * 1.001, "pass"), (limit_ohm * 0.999, "fail")):
        found = check(ask(run, **shared, source_resistance_ohm=ohm), "breaking_capacity")
        assert (found.verdict, found.limit) == (verdict, 2000)
        assert found.value == pytest.approx(12.65 / ohm)
    assert check(ask(run, **shared), "breaking_capacity").verdict == "unknown"
    # 24 V: two such batteries; a generator that charges is above either.
    at_24 = ask(run, **{**shared, "supply_v": 25}, source_resistance_ohm=0.02)
    assert check(at_24, "breaking_capacity").value == pytest.approx(25.3 / 0.02)
    charging = ask(run, **{**shared, "supply_v": 14.4}, source_resistance_ohm=0.02)
    assert check(charging, "breaking_capacity").value == pytest.approx(14.4 / 0.02)


@pytest.mark.parametrize(("supply_v", "verdict"), [(32, "pass"), (32.1, "fail")])
def test_rated_voltage(run, supply_v, verdict):
    found = ask(run, **{**SHORTED, "supply_v": supply_v})
    assert (check(found, "fuse_voltage").verdict, check(found, "fuse_voltage").limit) == (
        verdict, 32,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("short_a", "verdict"),
    [
        (20 * BLADE.short_multiple * 1.001, "pass"),
        (20 * BLADE.short_multiple * 0.99, "marginal"),
        (20 * BLADE.opening_multiple * 0.99, "fail"),
    ],
)
def test_short_circuit_at_the_far_end(run, short_a, verdict):
    """A cold battery has 1 / 0.40 of its resistance: TM 5-4210-230-14&P-1, Table 3.

    A good one has 10 mohm at most; the rest of 20 mohm is cable.
    """
    loop_ohm = 12.0 / short_a - 0.01 / 0.40 - 0.01
    found = ask(run, **SHORTED, source_resistance_ohm=0.02, loop_resistance_ohm=loop_ohm)
    assert found.fuse_rating_a == 20
    assert check(found, "far_short").verdict == verdict
    assert check(found, "far_short").value == pytest.approx(short_a)
    # Without the battery's resistance a good one has 10 mohm at most.
    found = ask(run, **SHORTED, loop_resistance_ohm=loop_ohm)
    assert check(found, "far_short").value == pytest.approx(12 / (0.025 + loop_ohm))
    assert check(ask(run, **SHORTED), "far_short").verdict == "unknown"


# Holders. ---------------------------------------------------------------------------------------


def test_holder_caps_the_fuse(run):
    """Common practice: sockets of flat blade fuses are made for 30 A."""
    asked = {"load_current_a": 24, "size": "8 AWG", "insulation": "TXL"}
    found = ask(run, **asked, fuse_family="blade C")
    assert (found.fuse_rating_a, check(found, "fuse_holder").verdict) == (None, "fail")
    assert (check(found, "fuse_holder").value, check(found, "fuse_holder").limit) == (35, 30)
    strong = ask(run, **asked, fuse_family="blade C", holder_rating_a=40)
    assert (strong.fuse_rating_a, check(strong, "fuse_holder").verdict) == (35, "pass")
    other = ask(run, **asked)
    assert (other.fuse_family, other.fuse_rating_a) == ("blade E", 40)
    weak = ask(run, load_current_a=9, size="8 AWG", insulation="TXL", holder_rating_a=10)
    assert (weak.fuse_rating_a, weak.verdict) == (None, "fail")


# Words. -----------------------------------------------------------------------------------------


def test_no_sentence_of_fuses_says_for_ever():
    for operation in ("fuse-selection", "circuit-check"):
        assert "for ever" not in repr(catalogue()[operation])
