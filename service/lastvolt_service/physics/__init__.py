"""DC circuit physics on numbers and numpy arrays.

Every function takes keyword arguments only, broadcasts them as numpy does, knows no table and no
framework, and does no input or output. A case without a solution gives NaN in its place, so that
one row of an array never spoils its neighbours; callers turn NaN into words.
"""

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Real: TypeAlias = float | NDArray[np.float64]
