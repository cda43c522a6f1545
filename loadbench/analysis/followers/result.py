"""What is known of one line's follower; its figures stand among the line's own."""

from __future__ import annotations

from dataclasses import dataclass, field

from loadbench.arrays import Floats


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Cycle:
    """What the follower carries over one turn of the cam at one speed of the engine, rad/s.

    `angles` are of the cam from the nose, rad, shape (angles,). `contact` is the force normal to the lobe, `axle` what
    of it reaches the roller's axle (the contact again without a roller), N, zero where nothing presses; both already
    from the force balance. The rest is None where it cannot be had: `radius` of the lobe at the contact, m, negative
    where hollow; `entrainment`, the mean speed of the two surfaces through the contact, and `sliding`, m/s;
    `spin` of the roller, rad/s. Without a lobe there is one angle, the nose, with the static load: `static` says so.
    """

    speed: float
    angles: Floats
    contact: Floats
    axle: Floats
    radius: Floats | None = None
    entrainment: Floats | None = None
    sliding: Floats | None = None
    spin: Floats | None = None
    static: bool = False

    @property
    def nose(self) -> int:
        """The place of the nose among the angles."""
        return int(abs(self.angles).argmin())


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ContactCurve:
    """Contact of lobe and follower over the turn at one speed: shapes (angles,), NaN where nothing presses.

    `pressure` is the greatest Hertz pressure, Pa; `half_width` of the contact along the lobe, m; `depth` of
    the greatest shear, m; `film` the least oil film, m, and `film_ratio` that over the roughness of both; None without
    oil or speeds.
    """

    cycle: Cycle
    pressure: Floats
    half_width: Floats
    depth: Floats | None = None
    film: Floats | None = None
    film_ratio: Floats | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Allowed:
    """What a pair of materials is said to bear, Pa; None where no source speaks of it."""

    stress: float | None
    pair: str
    source: str
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class TravelShown:
    """One plunger travel at the job's load and speed: SI; None where it cannot be had."""

    name: str
    travel: float
    depth: float
    stiffness: float | None
    squeeze: float | None
    leak_down_time: float | None
    lift_loss: float | None
    pump_up: float | None
    recovery_time: float | None
    stated: bool = False


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FollowerAnalysis:
    """One line's follower. `typical` names in words what was taken as is typical; `missing` are fields waited for.

    `travels` compares the stated travel with the other one, at the same load and speed.
    """

    idle: Cycle | None = None
    limit: Cycle | None = None
    contact_idle: ContactCurve | None = None
    contact_limit: ContactCurve | None = None
    allowed: Allowed | None = None
    viscosity: float | None = None
    travels: tuple[TravelShown, ...] = ()
    typical: tuple[str, ...] = ()
    missing: tuple[str, ...] = field(default=())
