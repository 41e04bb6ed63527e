"""lastvolt's REST service: automotive DC circuit calculations.

Importing it before numpy sets numpy to one thread; `lastvolt_service.blas` says why, and how to
have it otherwise.
"""

import lastvolt_service.blas  # noqa: F401  (first: before anything here imports numpy)
