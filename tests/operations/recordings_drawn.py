"""Recordings of circuits that are known: an ODE of battery, path, winding and plunger, and a meter.

Written without sight of what reads them. SI units throughout.
"""

from dataclasses import dataclass, field, replace

import numpy as np
from scipy.integrate import solve_ivp

COPPER_PER_K = 0.00393  # at 20 degC: IEC 60028


@dataclass(frozen=True)
class Truth:
    """A battery, a path, a winding with a plunger, and when it is on."""

    open_v: float = 12.6
    inside_ohm: float = 0.02
    path_ohm: float = 0.11
    winding_ohm: float = 0.55  # when it is switched on
    start_c: float = 20.0
    warms_k_per_s: float = 0.0
    far_henry: float = 4e-3  # plunger out
    near_henry: float = 9e-3  # plunger home
    travel_m: float = 6e-3
    mass_kg: float = 0.05
    spring_n: float = 15.0
    spring_n_per_m: float = 2500.0
    on_s: float = 0.05
    off_s: float = 0.45
    end_s: float = 0.5
    moves: bool = True
    bounces: tuple[tuple[float, float], ...] = ()  # opens and closes, after on_s

    def ohms(self, time_s):
        warm_k = self.warms_k_per_s * np.maximum(time_s - self.on_s, 0.0)
        at_20 = self.winding_ohm / (1 + COPPER_PER_K * (self.start_c - 20))
        return at_20 * (1 + COPPER_PER_K * (self.start_c + warm_k - 20))

    def run(self, time_s):
        """Amperes, volts at the winding, at the battery and along the path at these times."""
        slope = (self.near_henry - self.far_henry) / self.travel_m

        def rates(t, state):
            amperes, place, speed = state
            henry = self.far_henry + slope * place
            volts = self.open_v - (self.inside_ohm + self.path_ohm + self.ohms(t)) * amperes
            amperes_rate = (volts - slope * speed * amperes) / henry
            force = 0.5 * slope * amperes**2 - self.spring_n - self.spring_n_per_m * place
            at_rest = place <= 0 and force < 0
            if not self.moves or at_rest or place >= self.travel_m:
                return [amperes_rate, 0.0, 0.0]
            return [amperes_rate, speed, force / self.mass_kg]

        def home(_t, state):
            return state[1] - self.travel_m

        home.terminal, home.direction = True, 1
        amperes = np.zeros_like(time_s)
        self_home_s = None
        opened = [*(self.on_s + a for a, _ in self.bounces), self.off_s]
        starts = [self.on_s, *(self.on_s + b for _, b in self.bounces)]
        state = [0.0, 0.0, 0.0]
        for begin, end in zip(starts, opened, strict=True):
            state[0] = 0.0  # the arc is over at once
            t = begin
            while t < end:
                events = home if self_home_s is None else None
                found = solve_ivp(
                    rates, (t, end), state, events=events, rtol=1e-7, atol=1e-9, dense_output=True
                )
                last = found.t[-1]
                here = (time_s >= t) & (time_s < last)
                if here.any():
                    amperes[here] = found.sol(time_s[here])[0]
                state, t = list(found.y[:, -1]), last
                if found.status == 1:
                    self_home_s, state = last, [state[0], self.travel_m, 0.0]
        at_battery = self.open_v - self.inside_ohm * amperes
        is_on = np.zeros(len(time_s), bool)
        for begin, end in zip(starts, opened, strict=True):
            is_on |= (time_s >= begin) & (time_s < end)
        at_load = np.where(is_on, at_battery - self.path_ohm * amperes, 0.0)
        return Traces(time_s, amperes, at_load, at_battery, self.path_ohm * amperes, self_home_s)


@dataclass(frozen=True)
class Traces:
    time_s: np.ndarray
    amperes: np.ndarray
    at_load: np.ndarray
    at_battery: np.ndarray
    along_path: np.ndarray
    home_s: float | None


@dataclass(frozen=True)
class Channel:
    """What a meter makes of it: noise in a row or new each time, scale, zero, digits, range."""

    noise: float = 0.0
    follows: float = 0.0  # of the noise, from one sample to the next
    scale_percent: float = 0.0
    zero: float = 0.0
    digit: float = 0.0
    most: float = np.inf

    def read(self, values, random):
        new = random.normal(size=len(values))
        errors = np.empty_like(new)
        last = random.normal()
        for place, each in enumerate(new):
            last = self.follows * last + np.sqrt(1 - self.follows**2) * each
            errors[place] = last
        read = values * (1 + self.scale_percent / 100) + self.zero + self.noise * errors
        if self.digit:
            read = np.round(read / self.digit) * self.digit
        return np.clip(read, -self.most, self.most)


@dataclass(frozen=True)
class Recorder:
    """Both channels and how often they are read; the volts may come late."""

    step_s: float = 1e-3
    volts: Channel = field(default_factory=lambda: Channel(noise=0.01, digit=0.001))
    amperes: Channel = field(default_factory=lambda: Channel(noise=0.05, digit=0.01))
    late_s: float = 0.0

    def record(self, truth, random, *, between="load"):
        """A request, and what was true at its samples."""
        time_s = np.arange(0.0, truth.end_s, self.step_s) + random.uniform(0, self.step_s)
        traces = truth.run(time_s)
        late = truth.run(time_s - self.late_s) if self.late_s else traces
        volts = {"load": late.at_load, "battery": late.at_battery, "path": late.along_path}
        body = {
            "time_s": [round(t, 9) for t in time_s.tolist()],
            "volts_v": self.volts.read(volts[between], random).tolist(),
            "current_a": self.amperes.read(traces.amperes, random).tolist(),
            "between": between,
            "volts_resolution_v": max(self.volts.digit, 1e-6),
            "current_resolution_a": max(self.amperes.digit, 1e-6),
        }
        return body, traces


def changed(item, **values):
    return replace(item, **values)
