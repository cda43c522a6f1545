"""Jobs whose motion is known, for the report's tests. The numbers are invented."""

from __future__ import annotations

from typing import Any

from loadbench.job.model import Job
from tests.report.cases import FIVE, SOLID, job

MASSES = {
    "valve": "108 g", "retainer": "17 g", "locks": "6 g", "pushrod": "62 g", "follower": "120 g",
    "rocker_inertia": "0.00009 kg·m²", "rocker_valve_arm": "1.45 in",
}  # fmt: skip
PUSHROD = {"diameter": "0.375 in", "wall": "0.080 in", "length": "8.2 in"}
COIL = {
    "name": "single", "wire": {"shape": "round", "diameter": "0.190 in"}, "mean_diameter": "1.250 in",
    "active_coils": 4.5, "total_coils": 6.5, "free_height": "2.300 in", "ends": "closed and ground",
    "material": "chrome-silicon",
}  # fmt: skip
"""A spring whose waves are known."""

DURATIONS = [{"lift": "0.050 in", "crank": "248 deg"}, {"lift": "0.200 in", "crank": "166 deg"}]
DUTY = {"speed_limit": "6500 rpm", "idle_speed": "900 rpm"}


def moving(changes: dict[str, Any] | None = None, gear: dict[str, Any] | None = None, **more: Any) -> Job:
    """A job with a lobe estimated from durations, all masses and a pushrod."""
    own = {"lobe_lift": "0.345 in", "masses": MASSES, "pushrod": PUSHROD} | (gear or {})
    cam = {"kind": "roller", "base_radius": "0.55 in", "durations": DURATIONS}
    follower = {**SOLID, "roller_diameter": "0.75 in"}
    return job({"readings": FIVE, "mass": "118 g"} | (changes or {}), follower, gear=own, cam=cam, duty=DUTY, **more)


def of_lines(changes: dict[str, Any] | None = None) -> Job:
    """The same with lines apart: the exhaust has more lift."""
    return moving(changes, lines={"exhaust": {"valve_gear": {"lobe_lift": "0.360 in"}}})
