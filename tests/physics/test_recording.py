"""What samples tell: against independent solvers, and on signals that are known."""

import math

import numpy as np
import pytest
from scipy import optimize, stats

from lastvolt_service.physics.recording import (
    Stretch,
    level,
    peak,
    rest_level,
    switching,
)
from lastvolt_service.physics.recording_estimate import (
    combined,
    correlated_over,
    coverage_factor,
    noise,
)
from lastvolt_service.physics.recording_line import line, slope
from lastvolt_service.physics.recording_shape import flat_top, kink
from lastvolt_service.physics.recording_skew import skew


def lasting(random, count, follows):
    """Noise of standard deviation 1 that follows itself, settled before it begins."""
    found, last = np.empty(count), random.normal()
    for place, new in enumerate(random.normal(size=count)):
        last = follows * last + math.sqrt(1 - follows**2) * new
        found[place] = last
    return found


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 5, 7, 10, 30, 100, 1e4])
def test_the_coverage_factor_is_students(freedom):
    assert coverage_factor(freedom=freedom) == pytest.approx(stats.t.ppf(0.975, freedom), rel=2e-3)


def test_the_coverage_factor_never_falls_short_between_whole_numbers():
    for freedom in np.linspace(1, 3, 21):
        assert coverage_factor(freedom=freedom) >= stats.t.ppf(0.975, freedom) * (1 - 2e-3)
    assert coverage_factor(freedom=math.inf) == pytest.approx(stats.norm.ppf(0.975), rel=1e-12)


def test_errors_are_joined_as_the_guide_says():
    # By hand: u = sqrt(0.03^2 + 0.12^2/3) = 0.075498; freedom 9 (u / 0.03)^4 = 361.
    found = combined(value=5.0, sampled=0.03, freedom=9, limits=(0.12,))
    assert found.standard_uncertainty == pytest.approx(0.0754983)
    assert found.freedom == pytest.approx(9 * (0.0754983 / 0.03) ** 4, rel=1e-5)
    assert combined(value=5.0, sampled=0.0, freedom=9, limits=(0.12,)).freedom == math.inf


@pytest.mark.parametrize("seed", range(12))
def test_a_line_is_that_of_another_solver(seed):
    random = np.random.default_rng(seed)
    count = int(random.integers(4, 60))
    slope_ohm, intercept = random.uniform(-2, 2), random.uniform(-5, 5)
    x_error = random.uniform(0.05, 0.4, count)
    y_error = random.uniform(0.05, 0.4, count)
    true = random.uniform(0, 10, count)
    x = true + x_error * random.normal(size=count)
    y = intercept + slope_ohm * true + y_error * random.normal(size=count)
    found = line(x=x, y=y, x_error=x_error, y_error=y_error)

    def misfit(asked):
        at_none, ohm = asked
        return float(np.sum((y - at_none - ohm * x) ** 2 / (y_error**2 + ohm**2 * x_error**2)))

    other = optimize.minimize(
        misfit, [intercept, slope_ohm], method="Nelder-Mead",
        options={"xatol": 1e-10, "fatol": 1e-12, "maxiter": 4000},
    )  # fmt: skip
    assert [found.intercept, found.slope] == pytest.approx(other.x, rel=1e-5, abs=1e-6)
    assert float(found.left @ found.left) == pytest.approx(other.fun, rel=1e-8)


@pytest.mark.parametrize("follows", [0.0, 0.5, 0.8])
def test_noise_that_lasts_is_told(follows):
    """Of noise that fades as powers of `follows`, (1 + f) / (1 - f) samples tell as much as one."""
    random = np.random.default_rng(7)
    found = [correlated_over(values=lasting(random, 2000, follows)) for _ in range(40)]
    assert np.mean(found) == pytest.approx((1 + follows) / (1 - follows), rel=0.2)


def test_noise_is_told_beside_a_step_and_a_slope():
    random = np.random.default_rng(2)
    values = 0.1 * random.normal(size=2000) + np.linspace(0, 30, 2000)
    values[1000:] += 50
    assert noise(values=values) == pytest.approx(0.1, rel=0.1)


@pytest.mark.parametrize("late", [-2.3, -0.5, 0.0, 0.4, 3.0])
def test_skew_is_found_within_its_uncertainty(late):
    """Volts of the same swing, late; the current rings, so that no shift is like another."""
    random = np.random.default_rng(4)
    time = np.arange(600) * 1e-3

    def amperes(at):
        return 20 + 10 * np.exp(-at * 4) * np.cos(60 * at)

    inside = []
    for _ in range(60):
        current = amperes(time) + 0.05 * random.normal(size=600)
        volts = 12 - 0.1 * amperes(time - late * 1e-3) + 0.005 * random.normal(size=600)
        found = skew(
            time_s=time, volts_v=volts, current_a=current, volts_noise_v=0.005, current_noise_a=0.05
        )
        inside.append(abs(found.value - late * 1e-3) <= 2 * found.standard_uncertainty)
        assert found.standard_uncertainty < 0.5e-3
    assert np.mean(inside) >= 0.9


@pytest.mark.parametrize("follows", [0.0, 0.7])
def test_slopes_lie_within_their_intervals(follows):
    """Two levels and noise in both channels, 200 times: 95 % within, 88 to 99 % of so few."""
    random = np.random.default_rng(11)
    time = np.arange(400) * 1e-3
    current = np.where((time > 0.1) & (time < 0.3), 15.0, 0.0)
    hits = 0
    for _ in range(200):
        found = slope(
            time_s=time,
            volts_v=12.6 - 0.02 * current + 0.01 * lasting(random, 400, follows),
            current_a=current + 0.1 * lasting(random, 400, follows),
            volts_noise_v=0.01, current_noise_a=0.1, gain_percent=(0.0, 0.0), zero_v=0.0,
        ).slope  # fmt: skip
        hits += abs(found.value + 0.02) <= found.half
    assert 0.88 <= hits / 200 <= 0.99


def test_scales_that_are_off_widen_the_slope():
    """By hand: 1 % and 2 %, rectangular: sqrt(1 + 4) / sqrt(3) = 1.29 % of the slope."""
    time = np.arange(100) * 1e-3
    current = np.where(time > 0.05, 10.0, 0.0)
    found = slope(
        time_s=time, volts_v=0.5 * current, current_a=current, volts_noise_v=1e-6,
        current_noise_a=1e-6, gain_percent=(1.0, 2.0), zero_v=0.0,
    ).slope  # fmt: skip
    assert found.value == pytest.approx(0.5, rel=1e-6)
    assert found.standard_uncertainty == pytest.approx(0.5 * 0.0129099, rel=1e-3)


def test_a_train_of_bounces_is_counted():
    time = np.arange(0, 0.1, 1e-4)
    signal = np.zeros(len(time))
    for begin, end in ((0.01, 0.0113), (0.0121, 0.0149), (0.0152, 0.08)):
        signal[(time >= begin) & (time < end)] = 10.0
    found = switching(time_s=time, signal=signal, resolution=0.01)
    assert found.times == 1
    # Of a gap of 0.8 ms samples 0.1 ms apart see from 0.8 ms to 0.9 ms.
    assert found.gaps_s(time) == pytest.approx([0.0009, 0.0004], abs=1e-4)
    assert found.on.low_s <= 0.01 <= found.on.high_s
    assert found.off.low_s <= 0.08 <= found.off.high_s


def test_pulses_are_no_bounces():
    time = np.arange(0, 1, 1e-3)
    signal = np.where((time % 0.05) < 0.02, 5.0, 0.0)
    assert switching(time_s=time, signal=signal, resolution=0.01).times == 20


@pytest.mark.parametrize("follows", [0.0, 0.9, 0.98])
def test_noise_alone_switches_nothing(follows):
    random = np.random.default_rng(3)
    for _ in range(100):
        values = lasting(random, 500, follows)
        signal = values - rest_level(values=values)
        assert switching(time_s=np.arange(500.0), signal=signal, resolution=0) is None


@pytest.mark.parametrize("tau_steps", [1.5, 3, 10])
@pytest.mark.parametrize("phase", [0.02, 0.3, 0.6, 0.95])
def test_a_peak_between_two_samples_lies_within_its_limit(tau_steps, phase):
    """A rise at once and a fall as an exponential: the true peak is at the edge."""
    at = np.arange(60) - 20 - phase + 1
    signal = np.where(at >= 0, 10 + 50 * np.exp(-np.maximum(at, 0) / tau_steps), 0.0)
    found = peak(
        time_s=np.arange(60.0), signal=signal, within=Stretch(int(np.argmax(at >= 0)), 59),
        plateau=10.0,
    )  # fmt: skip
    assert found.is_inrush
    assert found.value <= 60.0 <= found.limit
    assert found.limit < 130.0


def test_of_a_peak_on_one_sample_nothing_is_known():
    signal = np.array([0.0] * 10 + [60.0] + [10.0] * 20)
    found = peak(time_s=np.arange(31.0), signal=signal, within=Stretch(10, 30), plateau=10.0)
    assert found.is_inrush
    assert math.isinf(found.limit)


def test_a_rise_without_a_dip_has_no_kink():
    time = np.arange(0, 0.2, 1e-3)
    random = np.random.default_rng(5)
    for _ in range(50):
        signal = 10 * (1 - np.exp(-time / 0.02)) + 0.05 * random.normal(size=len(time))
        where = Stretch(0, len(time) - 1)
        assert kink(
            time_s=time, signal=signal, within=where, plateau=10.0, resolution=0.01
        ) is None  # fmt: skip


def test_a_flat_top_is_told_from_a_round_one():
    time = np.arange(200)
    on = time >= 50
    round_one = np.where(on, 10 + 40 * np.exp(-((time - 80.0) ** 2) / 200), 0.0)
    assert flat_top(values=np.round(round_one, 1), on=on, plateau=10.0) == 0
    cut = np.minimum(round_one, 30.0)
    assert flat_top(values=cut, on=on, plateau=10.0) == int((round_one >= 30).sum())
    plain = np.where(on, 10.0, 0.0)
    assert flat_top(values=plain, on=on, plateau=10.0) == 0


def test_what_a_level_drifts_counts_as_an_error():
    """By hand: 1 A from its first third to its last, half of it to either side, rectangular."""
    values = np.where(np.arange(300) < 101, 9.0, 10.0) + 1e-3 * np.random.default_rng(5).normal(
        size=300
    )
    found = level(values=values, limits=())
    assert found.value == pytest.approx(10.0, abs=2e-3)
    assert found.standard_uncertainty == pytest.approx(0.5 / math.sqrt(3.0), rel=1e-2)
