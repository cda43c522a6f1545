"""The lift over the turn of the cam as a job has it: from its table, from a law, or estimated from two durations."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from loadbench.errors import InputError, UnreadableFileError
from loadbench.job.cam_checks import FLANK, KNOWN_LAWS, POLYDYNE, POWER, RAMP, law_named
from loadbench.motion.lift import Lift
from loadbench.motion.lobe import LawLobe, PowerLobe, Ramp, hydraulic_ramp, solid_ramp
from loadbench.motion.power_lift import even_at_nose, fitted
from loadbench.motion.ratio import ByRatioCurve, scaled, with_ratio_curve
from loadbench.readings.polydyne_lift import polydyne_found

if TYPE_CHECKING:
    from loadbench.arrays import Floats, Real
    from loadbench.job.stated import LineStated
    from loadbench.motion.lift_table import LiftTable
    from loadbench.motion.polydyne import Polydyne
    from loadbench.motion.smoothing import SmoothLift


FINE_STEP = math.radians(1.02)
"""Coarser readings show a kink and a plain bend alike: none is named."""
MOST_KINKS = 8


class How(StrEnum):
    """Where a lift comes from; the value is how it is told."""

    TABLE = "from the lift table, smoothed"
    LAW = "from the lift law"
    POLYDYNE = "from the polydyne law, for the design's speed and spring"
    DURATIONS = "estimated from the greatest lift and two durations"
    NONE = ""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CamLift:
    """A line's lift; `lobe` at the follower and `valve` at the valve with zero lash, None where wanting.

    `ramps` tells whether it was made with stated ramps; a table has its own. `polydyne` is such a lobe as felt at the
    valve behind the rocker ratio that it was made for, `made_ratio`.

    `missing` names the fields it waits for, `note` tells why entries that are there give no lift.
    """

    how: How = How.NONE
    lobe: Lift | None = None
    valve: Lift | None = None
    table: LiftTable | None = None
    smoothed: SmoothLift | None = None
    ramps: bool = False
    polydyne: Polydyne | None = None
    made_ratio: float = 1.0
    missing: tuple[str, ...] = ()
    note: str = ""


def cam_lift(line: LineStated, ratio: float | None) -> CamLift:
    """The lift of one line.

    Args:
        line: as stated.
        ratio: R; None where it is not known.

    Returns:
        The lift, or what it waits for. A table comes before a law, a law before durations; the power law has its
        exponents from durations where there are any.
    """
    if line.rows("cam.profile")[1]:
        return _of_table(line, ratio)
    if law_named(line) == POLYDYNE:
        return _of_polydyne(line, ratio)
    if law_named(line) == POWER and line.rows("cam.durations")[1] >= 2:
        return _of_durations(line, ratio)
    if any(line.entered(f"cam.law.{name}") for name in ("name", "opening", "closing")):
        return _of_law(line, ratio)
    if line.rows("cam.durations")[1] >= 2:
        return _of_durations(line, ratio)
    return CamLift(missing=(line.path("cam.profile"),))


def table_cells(line: LineStated) -> tuple[str, Floats | None]:
    """Where a line's lift table stands, and its angles, rad of the cam, and lifts, m, shape (2, rows).

    Args:
        line: as stated.

    Returns:
        The path, and the cells in their order; None where one is wanting or faulty, or the angle's kind is not stated.
    """
    path, count = line.rows("cam.profile")
    values, turn = line.stated.values, line.value("cam.profile_angle")
    cells = [(values.get(f"{path}.{row}.0"), values.get(f"{path}.{row}.1")) for row in range(count)]
    if not cells or turn is None or any(None in each for each in cells):
        return path, None
    found = np.array(cells, dtype=np.float64).T
    found[0] *= 0.5 if turn == "crank" else 1.0
    return path, found


def _of_table(line: LineStated, ratio: float | None) -> CamLift:
    path, cells = table_cells(line)
    unstated = [line.path(f) for f in ("cam.profile_angle", "cam.profile_side") if line.value(f) is None]
    if unstated or cells is None:
        return CamLift(missing=tuple(unstated) or (path,))
    from loadbench.motion.lift_table import lift_table
    from loadbench.motion.smoothing import smooth

    try:
        table = lift_table(cells[0], cells[1])
        lift = smooth(table.angles, table.lifts)
    except (InputError, UnreadableFileError):
        return CamLift(missing=(path,), note="The lift table gives no lift: see what is told at its rows.")
    note = " ".join((*table.told, *_kinks_told(table, lift)))
    found = CamLift(how=How.TABLE, table=table, smoothed=lift, note=note)
    if line.value("cam.profile_side") == "valve":
        return _from_valve(line, found, lift, ratio)
    return _from_lobe(line, found, lift, ratio)


def _kinks_told(table: LiftTable, lift: SmoothLift) -> list[str]:
    if not lift.kinks or float(np.median(np.diff(table.angles))) > FINE_STEP:
        return []
    rows = sorted(int(table.places[place]) + 1 for place in lift.kinks)
    named = ", ".join(map(str, rows[:MOST_KINKS]))
    return [f"The lift bends sharply, or a reading stands off it, in row {named} of the table."]


def _of_polydyne(line: LineStated, ratio: float | None) -> CamLift:
    made = polydyne_found(line)
    if made.lobe is None:
        return CamLift(missing=made.missing, note=made.note)
    found = CamLift(how=How.POLYDYNE, ramps=True, polydyne=made.lobe, made_ratio=made.ratio)
    return _from_lobe(line, found, scaled(made.lobe, 1 / made.ratio), ratio)


def _of_law(line: LineStated, ratio: float | None) -> CamLift:
    name, opening, closing = (line.value(f"cam.law.{part}") for part in ("name", "opening", "closing"))
    lift = _lobe_lift(line, ratio)
    if name is not None and law_named(line) not in KNOWN_LAWS:
        return CamLift(
            missing=(line.path("cam.law.name"),),
            note=f'The lift law gives no lift: no law of motion is called "{name}" '
            f"(expected: one of {', '.join(KNOWN_LAWS)}).",
        )
    wanting = [line.path(f"cam.law.{n}") for n, v in (("name", name), ("opening", opening)) if v is None]
    if line.faulty("cam.law.closing"):
        wanting.append(line.path("cam.law.closing"))
    if lift is None or wanting:
        return CamLift(missing=(*wanting, *(() if lift is not None else (line.path("valve_gear.lobe_lift"),))))
    flanks = {"opening": float(opening), "closing": float(opening if closing is None else closing)}
    for part, flank in flanks.items():
        if not FLANK[0] <= flank <= FLANK[1]:
            least, most = (f"{math.degrees(limit):g}" for limit in FLANK)
            note = (
                f"The lift law gives no lift: its {part} flank is {math.degrees(flank):.4g} deg of the crank "
                f"(expected: {least} to {most} deg)."
            )
            return CamLift(missing=(line.path(f"cam.law.{part}"),), note=note)
    ramps = _ramps(line)
    if isinstance(ramps, CamLift):
        return ramps
    try:
        # angles of a law are durations of each flank in crank degrees, as on a cam's sheet
        lobe = _lobe_of_law(law_named(line), lift, (flanks["opening"] / 2, flanks["closing"] / 2), ramps)
    except InputError as error:
        field = "cam.law.name" if ramps is None else "cam.ramps.height"
        return CamLift(missing=(line.path(field),), note=f"The lift law gives no lift: {error}.")
    return _from_lobe(line, CamLift(how=How.LAW, ramps=ramps is not None), lobe, ratio)


def _lobe_of_law(
    law: str, lift: float, flanks: tuple[float, float], ramps: tuple[Ramp, Ramp] | None
) -> LawLobe | PowerLobe:
    opening, closing = ramps or (None, None)
    if law != POWER:
        return LawLobe(
            law=law, lift=lift, opening=flanks[0], closing=flanks[1], opening_ramp=opening, closing_ramp=closing
        )
    up, down = even_at_nose(*flanks)
    return PowerLobe(
        powers=up, closing_powers=down, lift=lift, half_opening=flanks[0], half_closing=flanks[1],
        opening_ramp=opening, closing_ramp=closing,
    )  # fmt: skip


def _ramps(line: LineStated) -> tuple[Ramp, Ramp] | CamLift | None:
    """The ramps at the lobe, opening and closing; None where none is stated, what they wait for where not all is.

    Their kind goes by what the lobe is ground for, else by the follower; where neither is stated, for lash.
    """
    fields = [f"cam.ramps.{name}" for name in ("height", "opening", "closing")]
    if not any(line.entered(field) for field in fields):
        return None
    height, opening, closing = (line.value(field) for field in fields)
    wanting = [line.path(field) for field, value in zip(fields[:2], (height, opening), strict=True) if value is None]
    if line.faulty(fields[2]):
        wanting.append(line.path(fields[2]))
    if wanting:
        return CamLift(missing=tuple(wanting), note="The ramps give no lift: they want a height and an angle.")
    for part, angle in (("opening", opening), ("closing", closing)):
        if angle is not None and not RAMP[0] <= angle <= RAMP[1]:
            note = f"The ramps give no lift: {math.degrees(angle):.4g} deg of the crank is none of a ramp."
            return CamLift(missing=(line.path(f"cam.ramps.{part}"),), note=note)
    kind = line.value("cam.lash_kind")
    family = str(line.value("follower.family") or "")
    made = hydraulic_ramp if kind == "hydraulic" or (kind is None and family.endswith("hydraulic")) else solid_ramp
    try:
        # crank degrees, as those of a law
        return made(height, opening / 2), made(height, (opening if closing is None else closing) / 2)
    except InputError as error:
        return CamLift(missing=(line.path(fields[0]),), note=f"The ramps give no lift: {error}.")


def _of_durations(line: LineStated, ratio: float | None) -> CamLift:
    path, count = line.rows("cam.durations")
    values = line.stated.values
    rows = [(values.get(f"{path}.{row}.lift"), values.get(f"{path}.{row}.crank")) for row in range(count)]
    known = sorted((lift, crank / 2) for lift, crank in rows if lift and crank)
    lift = _lobe_lift(line, ratio)
    if lift is None:
        return CamLift(missing=(line.path("valve_gear.lobe_lift"),))
    if len(known) < 2:
        return CamLift(missing=(path,), note="Two durations at two lifts above zero are wanted.")
    ramps = _ramps(line)
    if isinstance(ramps, CamLift):
        return ramps
    try:
        lobe = _power_lobe(known[0], known[-1], lift, ramps, _closing_share(line))
    except InputError as error:
        beside = "" if ramps is None else " and ramps"
        return CamLift(missing=(path,), note=f"The durations{beside} give no lift: {error}.")
    return _from_lobe(line, CamLift(how=How.DURATIONS, ramps=ramps is not None), lobe, ratio)


def _closing_share(line: LineStated) -> float:
    """The closing flank over the opening one, where the power law states both; durations alone tell nothing of it."""
    opening, closing = (line.value(f"cam.law.{part}") for part in ("opening", "closing"))
    stated = law_named(line) == POWER and opening is not None and closing is not None and opening > 0 < closing
    return float(closing / opening) if stated else 1.0


def _power_lobe(
    first: tuple[float, float], last: tuple[float, float], lift: float, ramps: tuple[Ramp, Ramp] | None, share: float
) -> PowerLobe:
    """The lobe of two durations, each at its lift, of the whole lobe: its ramps are in them where it has any."""
    (low, long), (high, short) = first, last
    if ramps is not None or share != 1.0:
        from loadbench.motion.ramped_fit import fitted_lobe

        return fitted_lobe((low, high), (long, short), lift, ramps, share)
    found = fitted((low, high), (long, short), lift)
    return PowerLobe(powers=found.powers, lift=lift, half_opening=found.half_duration, half_closing=found.half_duration)


def _lobe_lift(line: LineStated, ratio: float | None) -> float | None:
    lobe, valve = line.value("valve_gear.lobe_lift"), line.value("valve_gear.valve_lift")
    if valve is not None and ratio:
        return float(valve / ratio)
    return None if lobe is None else float(lobe)


def valve_lift(line: LineStated, lobe: Lift, ratio: float | None) -> Lift | None:
    """What a line's valve gear makes of a lobe.

    Args:
        line: as stated.
        lobe: lift at the follower.
        ratio: R; None where it is not known.

    Returns:
        The lift at the valve with zero lash, by the ratio curve where one is stated; None without any ratio.
    """
    return _from_lobe(line, CamLift(), lobe, ratio).valve


def _from_lobe(line: LineStated, found: CamLift, lobe: Lift, ratio: float | None) -> CamLift:
    by_curve, why = _by_curve(line, lobe)
    if why:
        return replace(
            found, lobe=lobe, missing=(line.path("valve_gear.ratio_curve"),), note=f"{found.note} {why}".strip()
        )
    valve = by_curve or (None if ratio is None else scaled(lobe, ratio))
    missing = () if valve is not None else (line.path("valve_gear.rocker_ratio"),)
    return replace(found, lobe=lobe, valve=valve, missing=missing)


def _by_curve(line: LineStated, lobe: Lift) -> tuple[Lift | None, str]:
    """The valve's lift by the ratio curve, or why it gives none; neither where no curve is stated."""
    path, count = line.rows("valve_gear.ratio_curve")
    values = line.stated.values
    curve = [(values.get(f"{path}.{row}.0"), values.get(f"{path}.{row}.1")) for row in range(count)]
    if not curve:
        return None, ""
    unread = [row + 1 for row, each in enumerate(curve) if None in each]
    if unread:
        return None, f"The ratio curve cannot be used: row {unread[0]} wants a lift and a ratio."
    lifts, ratios = np.array(curve, dtype=np.float64).T
    try:
        return with_ratio_curve(lobe, lifts, ratios), ""
    except InputError as error:
        return None, f"The ratio curve cannot be used: {error}."


@dataclass(frozen=True, slots=True)
class _BehindCurve:
    """Lobe lift from a valve lift that was measured, by the ratio curve."""

    valve: Lift
    curve: ByRatioCurve

    def __call__(self, angle: Real, derivative: int = 0) -> Floats:
        """As in Lift: the chain rule on s(y), y over the angle; 0 to 3."""
        if not 0 <= derivative <= 3:
            raise InputError(f"derivative {derivative} of a lobe behind a ratio curve", expected="0 to 3")
        y = [self.valve(angle, order) for order in range(derivative + 1)]
        s = [self.curve.lobe_lift(y[0], order) for order in range(derivative + 1)]
        if derivative == 0:
            return s[0]
        if derivative == 1:
            return np.asarray(s[1] * y[1])
        if derivative == 2:
            return np.asarray(s[2] * y[1] ** 2 + s[1] * y[2])
        return np.asarray(s[3] * y[1] ** 3 + 3 * s[2] * y[1] * y[2] + s[1] * y[3])


def _from_valve(line: LineStated, found: CamLift, valve: Lift, ratio: float | None) -> CamLift:
    """A lift at the valve, taken as at zero lash; the lobe's own lift is that behind the ratio."""
    # what the curve may be asked for is the valve's lift, whatever the lobe: a ratio of 1 will do
    curve, why = _by_curve(line, valve)
    if why:
        return replace(found, missing=(line.path("valve_gear.ratio_curve"),), note=f"{found.note} {why}".strip())
    if isinstance(curve, ByRatioCurve):
        return replace(found, lobe=_BehindCurve(valve, curve), valve=valve)
    if curve is not None:  # one row: a constant ratio
        ratio = float(line.stated.values[f"{line.rows('valve_gear.ratio_curve')[0]}.0.1"])
    if ratio is None:
        return replace(found, valve=valve, missing=(line.path("valve_gear.rocker_ratio"),))
    return replace(found, lobe=scaled(valve, 1 / ratio), valve=valve)
