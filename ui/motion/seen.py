"""What every view of the Motion page is drawn from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from loadbench.analysis.motion.dynamics import swept_speeds
from loadbench.analysis.motion.result import Dynamics, MotionAnalysis

if TYPE_CHECKING:
    from loadbench.analysis.motion.sensitivity import Moved, Quantity
    from loadbench.arrays import Floats
    from ui.motion.comparison import Beside


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Seen:
    """A line's motion, the last sweep of it, and the speed that the slider stands at, rad/s.

    `refined` tells whether the sweep's bands have been looked for; `stale` whether it is of an entry before; `parts`
    are of the mass at the valve, kg; `onsets` what each input does to the lowest onset; `beside` another lobe that is
    looked at; `mass` that referred to the valve, kg; `full` the sweep with the follower as a mass of its own, where
    that is looked at, and `full_stale` whether it is of an entry before.
    """

    motion: MotionAnalysis
    dynamics: Dynamics | None = None
    speed: float = 0.0
    refined: bool = False
    stale: bool = False
    parts: dict[Quantity, float] | None = None
    onsets: tuple[Moved, ...] | None = None
    beside: Beside | None = None
    mass: float | None = None
    full: Dynamics | None = None
    full_stale: bool = False

    @property
    def speeds(self) -> Floats:
        """The speeds that are swept, rad/s."""
        return speeds_of(self.motion, self.dynamics)

    @property
    def place(self) -> int:
        """Which of them the slider stands at."""
        return nearest(self.speeds, self.speed)

    @property
    def bands(self) -> bool:
        """Whether the bands are known."""
        return self.dynamics is not None and self.refined


def speeds_of(motion: MotionAnalysis, dynamics: Dynamics | None) -> Floats:
    """The speeds of a sweep that is there, else of the one to come."""
    return swept_speeds(motion.speed_limit) if dynamics is None else dynamics.found.speeds


def nearest(speeds: Floats, speed: float) -> int:
    """The place of the speed that is nearest."""
    return int(np.argmin(np.abs(speeds - speed)))
