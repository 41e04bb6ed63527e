"""A usual relay of the trade, as a way for a load: near it, its wires and fuse sized for it."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from lastvolt_service.fields import changed, with_defaults
from lastvolt_service.operations.circuits.cases import Case
from lastvolt_service.operations.circuits.fields import Circuit, RelayData
from lastvolt_service.operations.circuits.parts import ChainWire, CircuitWire
from lastvolt_service.operations.decision import blades
from lastvolt_service.operations.decision.choice_request import (
    RelayCandidate,
    RelayChoiceRequest,
    RelayPlace,
    relay_in,
    unused,
)
from lastvolt_service.operations.decision.choice_wires import Wired, highest_c, wired
from lastvolt_service.operations.decision.given_ways import GivenWay
from lastvolt_service.operations.relays.data import DeratingPoint, Suppression
from lastvolt_service.operations.wires.conductors import conductor
from lastvolt_service.tables.usual import UsualRelay, relays
from lastvolt_service.units import high_end, low_end

WAY, PLACE, RELAY = "relay at the load", "near the load", "new relay"
INSULATION = "GXL"
# Of such a relay: rise of its coil per watt, and the highest ambient that its maker allows. Common
# practice.
RISE_K_PER_W, HIGHEST_C = 30.0, 125.0
NEXT_TO_NOTHING_M = 1e-3
# Worth drawing anew is what has so many times the metal then. Common practice.
THICKER = 2.0
# Of the nominal voltage, what a wire may take where a thicker one is more than anyone fits: charts
# go by 3 % in a usual day, and in the heat of an engine copper has a quarter more. Common practice.
WIRE_SHARE = 0.04
# A relay of twice the size, for wire that its blades take, is not bought for less than this share
# of the nominal voltage. Common practice.
WORTH_SHARE = 0.02
# Ambients for which its contact's rating is told. [degC]
DERATED_C = (85.0, 125.0)


def usual_relays(
    nominal_v: float, lasting_a: float, first_a: float, ambient_c: float
) -> list[UsualRelay]:
    """List those that carry a current in the heat of their place, the smallest first.

    Parameters
    ----------
    nominal_v : float
        Of its coil. [V]
    lasting_a, first_a : float
        The most that lasts, and the most that it closes on. [A]
    ambient_c : float
        The highest there. [degC]
    """
    fitting = (each for each in relays() if each.nominal_v == nominal_v)
    return [
        each
        for each in fitting
        if each.make_rating_a >= first_a
        and np.interp(ambient_c, DERATED_C, (each.at_85_c_a, each.at_125_c_a)) >= lasting_a
    ]


def relay_data(relay: UsualRelay, name: str) -> RelayCandidate:
    """Say what is known of it, as one of a parts list."""
    return with_defaults(
        RelayCandidate,
        name=name,
        nominal_v=relay.nominal_v,
        coil_resistance_ohm=relay.coil_ohm,
        pick_up_v=relay.pick_up_v,
        drop_out_v=relay.drop_out_v,
        thermal_resistance_k_per_w=RISE_K_PER_W,
        highest_ambient_c=HIGHEST_C,
        suppression=with_defaults(Suppression, kind="diode"),
        contact_resistance_ohm=relay.contact_ohm,
        rating_a=relay.rating_a,
        derating=[
            with_defaults(DeratingPoint, ambient_c=ambient_c, current_a=current_a)
            for ambient_c, current_a in zip(
                DERATED_C, (relay.at_85_c_a, relay.at_125_c_a), strict=True
            )
        ],
        make_rating_a=relay.make_rating_a,
        rated_v=relay.nominal_v,
    )


def usual_way(
    circuit: Circuit,
    cases: Sequence[Case],
    load: str,
    switch: str,
    *,
    nominal_v: float,
    fitting: Sequence[UsualRelay],
    feed_node: str,
    zone: str,
    lengths_m: tuple[float, float],
    load_kind: str | None,
    standard: str,
    back: str | None = None,
    one_for_each: str | None = None,
    lasting_a: float,
) -> GivenWay | None:
    """Wire a relay there by the house's own sizing; None where no wire or fuse does.

    The smallest is taken whose terminals grip the wire, else the largest with what they grip; of a
    small load the smallest, its wire spliced to a tail that they grip. A thin wire back is drawn
    anew with it: what it takes, no relay gives.

    Parameters
    ----------
    circuit, cases : Circuit, sequence of Case
        As it is, with the most that the load may take.
    load, switch : str
        That is helped, and that is spared.
    nominal_v : float
        Of the system. [V]
    fitting : sequence of UsualRelay
        Those to choose from, the smallest first.
    feed_node, zone : str
        Where its contact is fed from, and where it lies.
    lengths_m : tuple of float
        Of wire to it, and from it to the load. [m]
    load_kind : str or None
        For the inrush on its contact.
    standard : str
        Of the sizes of its wires.
    back : str or None
        Wire that the current comes back through, all the way; None where it does by the body.
    one_for_each : str or None
        What the load takes such a relay for each of; None where one serves it.
    lasting_a : float
        The most that the load takes for long. [A]
    """
    name = unused({each.name for each in circuit.parts}, RELAY)
    candidates = [relay_data(each, name) for each in fitting]
    feed_m, outlet_m = lengths_m
    place = with_defaults(
        RelayPlace,
        name=PLACE,
        zone=zone,
        exposure="splash",
        feed_node=feed_node,
        feed_length_m=feed_m,
        outlet_length_m=outlet_m,
        insulation=INSULATION,
    )
    wires = {each.name: each for each in circuit.branches if isinstance(each, CircuitWire)}
    old = wires.get(back) if back else None
    asked = with_defaults(
        RelayChoiceRequest,
        circuit=_without(circuit, old),
        cases=cases,
        nominal_v=nominal_v,
        load=load,
        switch=switch,
        candidates=candidates[:1],
        places=[place],
        load_kind=load_kind,
        standard=standard,
    )
    loop = changed(place, feed_length_m=feed_m + high_end(old.length_m)) if old else place
    found, candidate = _gripped(asked, loop, candidates, lasting_a)
    if found.size is None or found.fuse_family is None:
        return None
    fitted: RelayData = relay_in(asked, candidate, place)
    proposal = replace(found, place=place).proposal(asked, fitted)
    redrawn = _drawn_anew(old, found.size, standard)
    proposal = changed(proposal, one_for_each=one_for_each, wires=redrawn)
    return with_defaults(GivenWay, name=WAY, relay=proposal)


def _gripped(
    asked: RelayChoiceRequest,
    loop: RelayPlace,
    candidates: Sequence[RelayCandidate],
    lasting_a: float,
) -> tuple[Wired, RelayCandidate]:
    """The wire, and the smallest relay whose terminals grip it, or one that loses little more."""
    found, candidate = wired(asked, loop, None, lasting_a), candidates[0]
    metres, hottest_c = loop.feed_length_m + loop.outlet_length_m, highest_c(asked, loop.zone)
    if lasting_a <= blades.TAILED_A:
        candidates = candidates[:1]
    for place, candidate in enumerate(candidates):
        thickest = _thickest(candidate, asked.standard)
        wire = conductor(thickest)
        if found.size is None or conductor(found.size).area_mm2 <= wire.area_mm2:
            break
        larger = candidates[place + 1 :]
        takes_v = lasting_a * metres * wire.resistance_ohm_per_m(hottest_c)
        if larger and takes_v > WIRE_SHARE * asked.system_v:
            sizes = (found.size, _thickest(larger[0], asked.standard))
            thicker = min(map(conductor, sizes), key=lambda each: each.area_mm2)
            saves_v = takes_v - lasting_a * metres * thicker.resistance_ohm_per_m(hottest_c)
            if saves_v > WORTH_SHARE * asked.system_v:
                continue
        thinner = wired(asked, loop, thickest, lasting_a)
        if thinner.size is not None or not larger:  # it bears the current
            return thinner, candidate
    return found, candidate


def _thickest(candidate: RelayCandidate, standard: str) -> str:
    """Size of the thickest wire that its terminals grip."""
    return blades.thickest(float(low_end(candidate.rating_a)), standard)


def _without(circuit: Circuit, old: CircuitWire | None) -> Circuit:
    """The circuit with next to nothing of a wire: what is drawn in its place counts as new."""
    branches = [changed(e, length_m=NEXT_TO_NOTHING_M) if e is old else e for e in circuit.branches]
    return changed(circuit, branches=branches)


def _drawn_anew(old: CircuitWire | None, size: str, standard: str) -> list[ChainWire]:
    """The wire back, as thick as the others, where it has half of their metal or less."""
    if old is None or conductor(size).area_mm2 < THICKER * conductor(str(old.size)).area_mm2:
        return []
    values = {key: each for key, each in vars(old).items() if key != "nodes"}
    return [ChainWire(**{**values, "size": size, "standard": standard})]
