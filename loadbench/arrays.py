"""The two array types of the physics: what a formula takes and what it gives."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
"""What a formula gives; a scalar comes back 0-dimensional and float() takes it."""

Indices = NDArray[np.intp]
"""Places in an array."""

Real = float | Floats
"""What a formula takes. Not ArrayLike, which lets a string through the type checker."""
