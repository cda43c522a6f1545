"""Valve travel from lobe travel, at rest: ratio, lash, plunger.

R = valve travel / follower travel; lash is measured at the valve tip.
"""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats, Real


def gross_valve_lift(lobe_lift: Real, ratio: Real) -> Floats:
    """Valve lift at zero lash.

    Args:
        lobe_lift: lift of the lobe, m.
        ratio: R, valve travel over follower travel.

    Returns:
        Gross valve lift, m.

    Source:
        own derivation: the definition of the ratio.
    """
    return np.asarray(np.asarray(lobe_lift) * ratio)


def net_valve_lift(gross_lift: Real, lash: Real = 0.0) -> Floats:
    """Valve lift that is left when the lash is taken up.

    Args:
        gross_lift: valve lift at zero lash, m.
        lash: at the valve tip, m; zero for a hydraulic follower that does not leak down.

    Returns:
        Net valve lift, m.

    Source:
        own derivation: the lash is taken up before the valve moves.
    """
    return np.asarray(np.asarray(gross_lift) - lash)


def pump_up_lift(plunger_depth: Real, ratio: Real) -> Floats:
    """How far a pumped-up plunger can add to the valve lift.

    Args:
        plunger_depth: depth below its stop at which the plunger is set, m.
        ratio: R.

    Returns:
        Added lift at the valve, m.

    Source:
        own derivation: the plunger rises to its stop, and the rocker multiplies it.
    """
    return np.asarray(np.asarray(plunger_depth) * ratio)
