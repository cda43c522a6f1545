"""How a spring loses load over hours, passes or days: a straight line through its checks, and when it meets a limit."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats
from loadbench.readings.regression import fit_polynomial, student_factor


@dataclass(frozen=True, slots=True, kw_only=True)
class Trend:
    """A straight line of load against time in use.

    `start` is the first check's time, `start_load`, N, what the line carries there. `loss_per_unit` is the share of
    that load lost per unit of time, above zero for a loss; `loss_per_unit_U` its expanded uncertainty (k = 2;
    Student's t for few checks), None with two checks. `last` is the latest check's time.
    """

    count: int
    start: float
    last: float
    start_load: float
    loss_per_unit: float
    loss_per_unit_U: float | None  # noqa: N815 - the sign of the expanded uncertainty

    @property
    def significant(self) -> bool:
        """Whether a loss is larger than its own uncertainty."""
        return self.loss_per_unit_U is not None and self.loss_per_unit > self.loss_per_unit_U

    def share_lost(self, at: float) -> float:
        """Share of the start load lost by a time; below zero where the line gained."""
        return self.loss_per_unit * (at - self.start)

    def reaches(self, share: float) -> float | None:
        """The time at which a share is lost, such as 0.10; None unless the loss is significant."""
        return self.start + share / self.loss_per_unit if self.significant else None


def loss_trend(at: Floats, loads: Floats, deviations: Floats | None = None) -> Trend | None:
    """The trend of one spring's load, or of a set's mean, over its checks.

    Args:
        at: hours, passes or days of each check, shape (n,), in any order.
        loads: at one height, N, shape (n,); what is not above zero is no check.
        deviations: standard uncertainty of each load, N, shape (n,), above zero; weights are 1/u^2, equal when None.

    Returns:
        The trend; None under two checks at different times, or where the line starts at no load.

    Source:
        gum H.3 for the line, 5.1.2 for the share; annex G for Student's t. With stated deviations U is not less than
        they give.
    """
    x, y = np.asarray(at, dtype=np.float64), np.asarray(loads, dtype=np.float64)
    u = np.ones_like(y) if deviations is None else np.asarray(deviations, dtype=np.float64)
    fit_for = np.isfinite(x) & np.isfinite(y) & np.isfinite(u) & (y > 0) & (u > 0)
    x, y, u = x[fit_for], y[fit_for], u[fit_for]
    if len(x) < 2 or float(np.ptp(x)) <= 0:
        return None
    start = float(np.min(x))
    line = fit_polynomial(x - start, y, 1, 1 / u**2)
    load, slope = (float(each) for each in line.coefficients)
    if load <= 0:
        return None
    # share = -slope/load: its variance takes in that slope and start load are found together
    per_unit = np.array([slope / load**2, -1 / load])
    bare = math.sqrt(float(per_unit @ line.covariance @ per_unit))
    expanded = None
    if (spread := line.residual_deviation) is not None:
        expanded = student_factor(line.freedom) * spread * bare
        if deviations is not None:
            expanded = max(expanded, 2 * bare)
    return Trend(
        count=len(x),
        start=start,
        last=float(np.max(x)),
        start_load=load,
        loss_per_unit=-slope / load,
        loss_per_unit_U=expanded,
    )
