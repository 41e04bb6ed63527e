"""A line through points with errors in both coordinates, against the published example."""

import numpy as np
import pytest

from lastvolt_service.physics.recording_line import line

# K. Pearson, Philosophical Magazine 2, 559 (1901): the points. D. York, Canadian Journal of Physics
# 44, 1079 (1966), Tables I and II: the weights, inverse squares of the errors.
X = [0.0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4]
Y = [5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5]
X_WEIGHTS = [1000, 1000, 500, 800, 200, 80, 60, 20, 1.8, 1]
Y_WEIGHTS = [1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500]


def test_pearsons_points_with_yorks_weights():
    found = line(
        x=np.array(X), y=np.array(Y),
        x_error=1 / np.sqrt(X_WEIGHTS), y_error=1 / np.sqrt(Y_WEIGHTS),
    )  # fmt: skip
    # All digits as the tests of a public library for such lines print them; its errors are those
    # of the weights times the scatter about the line.
    assert found.intercept == pytest.approx(5.47991022403286, rel=1e-10)
    assert found.slope == pytest.approx(-0.48053340744620, rel=1e-10)
    scale = np.sqrt(found.left @ found.left / (len(X) - 2))
    assert scale == pytest.approx(1.217905640539398, rel=1e-10)
    assert found.intercept_uncertainty * scale == pytest.approx(0.359246522551112, rel=1e-6)
    assert found.slope_uncertainty * scale == pytest.approx(0.070620269528771, rel=1e-6)
