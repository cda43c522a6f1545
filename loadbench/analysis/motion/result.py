"""What is known of one line's motion: the lift, the gear that follows it, and what a dynamic sweep found."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from loadbench.analysis.figure import Figure
from loadbench.arrays import Floats
from loadbench.motion.bands import LossBand
from loadbench.motion.gear import Gear
from loadbench.motion.lift import Lift
from loadbench.motion.sweep import Sweep


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LiftShown:
    """The lift as pictures draw it, over one turn of the cam.

    `angles` are of the cam from the nose, rad, shape (angles,); `lobe` and `valve` hold lift, velocity, acceleration
    and jerk, m per rad to the power 0 to 3, shape (4, angles): of the follower, and of the valve at zero lash.
    `net` is the valve's lift, m. `table_angles`, `table_lifts` and `residuals` are there where a table was smoothed;
    `ramps` tells of stated ones.
    """

    how: str
    angles: Floats
    lobe: Floats
    valve: Floats
    net: Floats
    table_angles: Floats | None = None
    table_lifts: Floats | None = None
    residuals: Floats | None = None
    ramps: bool = False
    pressure_angle: Floats | None = None
    cam_radius: Floats | None = None

    @property
    def has_ramps(self) -> bool:
        """Whether it tells how the valve is set down: a table has its ramps, other lobes where stated."""
        return self.ramps or self.table_angles is not None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Balanced:
    """The force balance of a rigid linkage over the turn at one engine speed; stations as the design names them, N."""

    speed: float
    tip: Floats
    pushrod: Floats
    lobe: Floats
    contact: Floats
    axle: Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Dynamic:
    """All that a dynamic run needs: equal keys give equal answers.

    `typical` names the quantities that are not stated and were taken as is typical, each with its text; `waves_wait`
    the fields that the springs' waves wait for, where none of them has any. `made_lift` is the valve's own lift,
    without lash, where the lobe was made for it and counts on what the linkage gives.
    """

    gear: Gear
    lift: Lift
    lash: float
    window: float
    closing: Callable[[Floats], Floats] | None
    key: tuple[object, ...]
    typical: tuple[str, ...] = ()
    waves_wait: tuple[str, ...] = ()
    made_lift: Lift | None = None

    def as_rigid(self) -> Dynamic:
        """The same for a force balance: over a lobe that counts on the linkage's give the valve has its own lift."""
        if self.made_lift is None:
            return self
        return replace(self, lift=self.made_lift, lash=0.0, made_lift=None)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MotionAnalysis:
    """One line's motion; figures stand among the line's own.

    `missing` are the fields that the dynamics wait for, `note` why entries that are there give no lift.
    """

    shown: LiftShown | None = None
    lobe: Lift | None = None
    valve: Lift | None = None
    idle: Balanced | None = None
    limit: Balanced | None = None
    dynamic: Dynamic | None = None
    idle_speed: float | None = None
    speed_limit: float | None = None
    typical: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Dynamics:
    """What a sweep found: `found` over `SPEEDS`, the bands of lost contact, and the figures at the speed limit.

    Where the follower is a mass of its own, `bands` are of the lobe, and `slack_bands` of the linkage above it.
    """

    found: Sweep
    bands: tuple[LossBand, ...]
    figures: dict[str, Figure] = field(default_factory=dict)
    slack_bands: tuple[LossBand, ...] = ()
