"""One line's motion: lift, masses, force balance, and all that a dynamic run needs."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from loadbench.analysis.builder import Bench
from loadbench.analysis.coils.kept import kept
from loadbench.analysis.coils.result import CoilAnalysis
from loadbench.analysis.motion.balance_figures import add_balance, add_unknown_balance
from loadbench.analysis.motion.held_lift import HeldLift, Same
from loadbench.analysis.motion.lobe_figures import add_design, add_lobe
from loadbench.analysis.motion.moving_masses import MovingMasses, moving_masses
from loadbench.analysis.motion.pushrod_figures import add_pushrod
from loadbench.analysis.motion.result import Dynamic, LiftShown, MotionAnalysis
from loadbench.arrays import Floats
from loadbench.job.stated import LineStated
from loadbench.motion.gear import Gear
from loadbench.motion.lift import Lift
from loadbench.motion.ratio import scaled
from loadbench.motion.stations import gas_load
from loadbench.readings.cam_lift import CamLift, cam_lift, valve_lift

ANGLES = np.linspace(-np.pi, np.pi, 721)
"""Of the cam, rad: every half degree."""

WINDOW_SHARE = 0.1
"""The least force counts where the valve is lifted by more than this share of its greatest lift: nearer to its seat the
ramps carry next to nothing, and a loss there is the seat's doing."""

BLOW_DOWN = math.radians(20)
"""Turn of the cam in which the gas in the cylinder goes, rad: common practice."""

STIFFNESS = {"pushrod": 6e6, "bucket": 2.5e7}
"""Of a gear at the valve, N/m: common practice."""

DAMPING_SHARE = 0.1
"""Of critical damping in the linkage: common practice."""

SEAT_STIFFNESS, SEAT_DAMPING = 5e7, 2000.0
"""Of head and seat, N/m and N s/m: common practice."""


@dataclass(frozen=True, slots=True)
class Closing:
    """What closes the valve besides its spring, N: ports all the time, gas as it opens. Equal ones compare equal."""

    ports: float
    gas_pressure: float
    head: float
    opening: float

    def __call__(self, angles: Floats) -> Floats:
        """The load against the cam's angle, N."""
        steady = np.full(np.shape(angles), self.ports)
        if not self.gas_pressure:
            return steady
        return np.asarray(steady + gas_load(angles, self.gas_pressure, self.head, self.opening, BLOW_DOWN))


def motion_of(bench: Bench, coils: tuple[CoilAnalysis, ...]) -> MotionAnalysis:
    """The motion of one line; its figures join the line's.

    Args:
        bench: the line, with its lifts and loads found.
        coils: of its springs.

    Returns:
        What is known.
    """
    line, ratio = bench.line, bench.value("ratio")
    found = _lift(bench, ratio)
    masses = moving_masses(bench, coils)
    if found.valve is None or found.lobe is None:
        add_unknown_balance(bench, found.missing, found.note)
        add_pushrod(bench, None, None)
        return MotionAnalysis(missing=found.missing, note=found.note)
    valve = found.valve
    held = kept("held lift", line.name, (Same(valve),), lambda: HeldLift(valve))
    shown = _shown(bench, found, held)
    shown = add_lobe(bench, shown, found.lobe)
    if found.polydyne is not None:
        add_design(bench, found.polydyne, found.lobe)
    lash, wanting = lash_of(bench.line)
    gear, typical, waits = _gear(bench, masses)
    missing = tuple(dict.fromkeys((*found.missing, *wanting, *waits)))
    if gear is None or lash is None or masses is None or missing:
        add_unknown_balance(bench, missing, found.note)
        add_pushrod(bench, None, None)
        return MotionAnalysis(shown=shown, lobe=found.lobe, valve=held, missing=missing)
    window = _window(shown)
    closing = _closing(bench, shown)
    dynamic = Dynamic(
        gear=gear,
        lift=held,
        lash=lash,
        window=window,
        closing=closing,
        key=(gear, Same(held), lash, window, closing),
        typical=(*(_words(masses)), *typical),
        waves_wait=() if gear.surging else _wire(line, coils),
        made_lift=_made_lift(line, found, ratio),
    )
    idle, limit = add_balance(bench, dynamic, masses, shown, found)
    add_pushrod(bench, limit or idle, masses)
    return MotionAnalysis(
        shown=shown,
        lobe=found.lobe,
        valve=held,
        idle=idle,
        limit=limit,
        dynamic=dynamic,
        idle_speed=line.value("duty.idle_speed"),
        speed_limit=line.value("duty.speed_limit"),
        typical=masses.typical,
    )


def _made_lift(line: LineStated, found: CamLift, ratio: float | None) -> Lift | None:
    """The lift for which a polydyne lobe was made, behind the ratio or the ratio curve of now."""
    lobe = found.polydyne
    if lobe is None:
        return None

    def make() -> Lift | None:
        moved = valve_lift(line, scaled(lobe.valve, 1 / found.made_ratio), ratio)
        return None if moved is None else HeldLift(moved)

    return kept("made lift", line.name, (Same(found),), make)


def _wire(line: LineStated, coils: tuple[CoilAnalysis, ...]) -> tuple[str, ...]:
    """What the springs' waves wait for."""
    fields = dict.fromkeys(field for coil in coils for field in coil.figures["moving_mass"].missing)
    return tuple(fields) or (line.path("spring.coils"),)


def _words(masses: MovingMasses) -> tuple[str, ...]:
    return (masses.note.removeprefix("Not stated and taken as is typical: ").rstrip("."),) if masses.note else ()


def _lift(bench: Bench, ratio: float | None) -> CamLift:
    """The line's lift, as it was where the cam and what turns it into the valve's have not changed."""
    line, job = bench.line, bench.line.stated.job
    own = getattr(job.lines, line.name, None)
    cams = [Same(job.cam), Same(None if own is None else own.cam)]
    curves = [Same(each.valve_gear.ratio_curve) for each in (job, own) if each is not None]
    lifts = tuple(line.value(f"valve_gear.{name}") for name in ("lobe_lift", "valve_lift"))
    faults = tuple(path for path in line.stated.problems if ".profile." in path or "cam." in path)
    token = (*cams, *curves, lifts, ratio, line.stated.style, faults, line.value("follower.family"))
    return kept("cam lift", line.name, token, lambda: cam_lift(line, ratio))


def _shown(bench: Bench, found: CamLift, held: Lift) -> LiftShown:
    lash = bench.line.value("valve_gear.lash") or 0.0
    lobe, table = found.lobe, found.table

    def make() -> LiftShown:
        valve = np.stack([held(ANGLES, n) for n in range(4)])
        own = valve if lobe is None else np.stack([lobe(ANGLES, n) for n in range(4)])
        return LiftShown(
            how=str(found.how),
            ramps=found.ramps,
            angles=ANGLES,
            lobe=own,
            valve=valve,
            net=np.maximum(valve[0] - lash, 0.0),
            table_angles=None if table is None else table.angles,
            table_lifts=None if table is None else table.lifts,
            residuals=None if found.smoothed is None else found.smoothed.residuals,
        )

    return kept("lift shown", bench.line.name, (Same(held), Same(found), lash), make)


def lash_of(line: LineStated) -> tuple[float | None, tuple[str, ...]]:
    """The lash of a line.

    Args:
        line: as stated.

    Returns:
        m at the valve, none for a hydraulic follower; and the field that it waits for.
    """
    hydraulic = str(line.value("follower.family") or "").endswith("hydraulic")
    if hydraulic and not line.faulty("follower.family"):
        return 0.0, ()
    lash = line.value("valve_gear.lash")
    return (None, (line.path("valve_gear.lash"),)) if lash is None else (float(lash), ())


def linkage_stiffness(line: LineStated) -> float:
    """The stiffness of a line's gear at the valve, N/m: as stated, else as is typical."""
    stated = line.value("valve_gear.stiffness")
    kind = "bucket" if line.value("follower.family") == "bucket" else "pushrod"
    return STIFFNESS[kind] if stated is None else float(stated)


def _gear(bench: Bench, masses: MovingMasses | None) -> tuple[Gear | None, tuple[str, ...], tuple[str, ...]]:
    """The gear, what of it is typical, and the fields that it waits for."""
    line = bench.line
    waits = bench.lacking("seat_load", "open_load", "net_valve_lift", "referred_mass")
    seat, full, lift = (bench.value(name) for name in ("seat_load", "open_load", "net_valve_lift"))
    if seat is None or full is None or not lift or masses is None or full <= seat:
        return None, (), waits
    typical: list[str] = []

    def stated(field: str, word: str, usual: float) -> float:
        value = line.value(field)
        if value is None:
            typical.append(word)
        return usual if value is None else float(value)

    stiffness = stated("valve_gear.stiffness", "the gear's stiffness", linkage_stiffness(line))
    total = float(masses.referred.total)
    usual = 2 * DAMPING_SHARE * math.sqrt(stiffness * total)
    damping = stated("valve_gear.damping", "the gear's damping", usual)
    # what of a third of the whole spring its waves do not carry (its dead coils) stays with the valve
    carried = sum(each.mass * each.shape.carried for each in masses.waves)
    gear = Gear(
        mass=max(total - carried, 1e-4),
        stiffness=stiffness,
        damping=damping,
        preload=seat,
        spring_rate=(full - seat) / lift,
        seat_stiffness=SEAT_STIFFNESS,
        seat_damping=SEAT_DAMPING,
        waves=masses.waves,
    )
    if not masses.waves:
        typical.append("the spring as a rate without waves")
    elif masses.still:
        typical.append(f"{' and '.join(masses.still)} as a rate without waves")
    return gear, (*typical, "the seat's stiffness", "the spring's damping"), waits


def _window(shown: LiftShown) -> float:
    high = np.flatnonzero(shown.net > WINDOW_SHARE * float(shown.net.max()))
    if not high.size:
        return math.pi / 4
    return float(min(-shown.angles[high[0]], shown.angles[high[-1]]))


def _closing(bench: Bench, shown: LiftShown) -> Closing | None:
    line = bench.line
    seat, effective = bench.value("seat_load"), bench.value("effective_seat_load")
    ports = 0.0 if seat is None or effective is None else effective - seat
    gas = line.value("duty.cylinder_pressure_at_opening") if line.name != "intake" else None
    head = line.value("valve_gear.head_diameter")
    if not ports and not (gas and head):
        return None
    open_ = np.flatnonzero(shown.net > 0)
    opening = float(shown.angles[open_[0]]) if open_.size else -math.pi / 2
    return Closing(ports, float(gas) if gas and head else 0.0, float(head or 0.0), opening)
