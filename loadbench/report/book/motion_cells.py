"""The motion of a line as live formulas: masses, float margin, pushrod; and whether all the rest still holds."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.analysis.motion.moving_masses import FIELDS, WORDS
from loadbench.motion.masses import TYPICAL, TYPICAL_BUCKET
from loadbench.motion.pushrod import STEEL
from loadbench.report.book.coil_cells import coil_cell
from loadbench.report.book.coil_stress_formulas import unchanged
from loadbench.report.book.formulas import DASH, when
from loadbench.report.book.inputs import cell_name
from loadbench.report.book.paper import Book
from loadbench.units import Kind, from_display, to_display

PUSHROD = tuple(f"valve_gear.pushrod.{name}" for name in ("diameter", "wall", "length"))
SPEEDS = ("duty.speed_limit", "duty.idle_speed")
GEAR = {
    "valve_gear.stiffness": Kind.RATE,
    "valve_gear.damping": Kind.DAMPING,
    "cam.base_radius": Kind.LENGTH,
    "follower.roller_diameter": Kind.LENGTH,
    "follower.offset": Kind.LENGTH,
}
RESTS_ON = (
    "ratio", "seat_load", "effective_seat_load", "open_load", "net_valve_lift", "gross_valve_lift", "referred_mass",
)  # fmt: skip
"""Figures on which all that stands as at export rests; the shape of the lift itself has no cell."""

KINDS = {"rocker_inertia": Kind.INERTIA, "valve_arm": Kind.LENGTH}


def moving_lines(analysis: Analysis) -> tuple[LineAnalysis, ...]:
    """The lines that have a lift, in order."""
    return tuple(line for line in analysis.lines if line.motion.shown is not None)


def motion_entries(analysis: Analysis) -> tuple[str, ...]:
    """The paths of the entries that the motion's formulas read."""
    fields = (*FIELDS.values(), *PUSHROD, *SPEEDS, *GEAR)
    return tuple(line.stated.path(field) for line in moving_lines(analysis) for field in fields)


class Counted(NamedTuple):
    """A part's mass as it counts: the name of its cell without the line's, its value at export, SI, and its formula."""

    name: str
    label: str
    kind: Kind
    value: float | None
    formula: str
    came: str


@dataclass(frozen=True, slots=True)
class MotionCells:
    """The formulas of one line's motion."""

    book: Book
    line: LineAnalysis

    def own(self, name: str) -> str:
        """The name of a cell of this line."""
        return f"{self.line.name}_{name}"

    def entry(self, field: str) -> str:
        """The name of the cell of an entry that holds for this line."""
        return cell_name(self.line.stated.path(field))

    def worth(self, kind: Kind) -> float:
        """SI of one unit of the workbook."""
        return from_display(1.0, kind, self.book.style)

    @property
    def typical(self) -> dict[str, float]:
        """What each part weighs as is typical for the kind of gear, SI."""
        bucket = self.line.stated.value("follower.family") == "bucket"
        return {name: each.value for name, each in (TYPICAL_BUCKET if bucket else TYPICAL).items()}

    def masses(self) -> Iterator[Counted]:
        """Each part's mass, or what it follows from, as it counts."""
        for name, usual in self.typical.items():
            kind, field = KINDS.get(name, Kind.MASS), FIELDS[name]
            cell, value = self.entry(field), self.line.stated.value(field)
            rest, came = repr(to_display(usual, kind, self.book.style)), "typical" if value is None else "as stated"
            weighed = self._weighed() if name == "spring" else ()
            if weighed:
                rest = when(weighed, "+".join(weighed), rest)
                each = [coil.value("wire_mass") for coil in self.line.coils]
                if value is None and None not in each:
                    value, came = sum(mass or 0.0 for mass in each), "by the wire"
            if self.line.stated.faulty(field):
                rest, came = DASH, ""
            elif value is None:
                value = usual
            yield Counted(f"moving_{name}", f"Counted: {WORDS[name]}", kind, value, when(cell, cell, rest), came)

    def _weighed(self) -> tuple[str, ...]:
        """The cells with the springs' masses by their wires, where all of them have one."""
        coils = self.line.coils
        if not all(coil.concerned for coil in coils):
            return ()
        return tuple(coil_cell(self.line, place, "wire_mass") for place in range(len(coils)))

    def live(self) -> dict[str, str]:
        """The formulas of the figures that a spreadsheet can compute, by the figure's name."""
        part = {name: self.own(f"moving_{name}") for name in self.typical}
        side = f"{part['valve']}+{part['retainer']}+{part['locks']}+{part['spring']}/3"
        ratio, cells = self.own("ratio"), tuple(part.values())
        if "pushrod" in part:
            grams = self.worth(Kind.INERTIA) / self.worth(Kind.LENGTH) ** 2 / self.worth(Kind.MASS)
            rocker = f"{grams!r}*{part['rocker_inertia']}/{part['valve_arm']}^2"
            total = f"{side}+{rocker}+({part['pushrod']}+{part['follower']})/{ratio}^2"
        else:
            total = f"{side}+{part['follower']}/{ratio}^2"
        apart, limit = self.own("separation_speed"), self.entry("duty.speed_limit")
        return {
            "valve_side_mass": when((*cells, ratio), side),
            "referred_mass": when((*cells, ratio), total),
            "float_margin": when((apart, limit), f"{apart}/{limit}-1"),
            **self._pushrod(),
        }

    def _pushrod(self) -> dict[str, str]:
        if "pushrod" not in self.typical:
            return {}
        outer, wall, length = (self.entry(field) for field in PUSHROD)
        sizes, sound = (outer, wall, length), f"{wall}<={outer}/2*(1+1E-12)"
        inner = f"MAX({outer}-2*{wall},0)"
        metre, newton = self.worth(Kind.LENGTH), self.worth(Kind.FORCE)
        steel = math.pi**3 / 64 * STEEL * metre**2 / newton
        stress = newton / metre**2 / self.worth(Kind.STRESS)
        load, euler = self.own("pushrod_load"), self.own("pushrod_buckling_load")
        area = f"(PI()/4*({outer}^2-{inner}^2))"
        return {
            "pushrod_buckling_load": when(
                sizes, f"IF({sound},{steel!r}*({outer}^4-{inner}^4)/{length}^2,{DASH})"
            ),
            "pushrod_factor": when((euler, load), f"{euler}/{load}"),
            "pushrod_stress": when((*sizes, load), f"IF({sound},{stress!r}*{load}/{area},{DASH})"),
        }  # fmt: skip

    def kept(self, name: str, value: float) -> str:
        """A figure as it was at export; a dash once something that it rests on has changed.

        Args:
            name: of the figure.
            value: at export, in the workbook's unit.

        Returns:
            A formula.
        """
        of = "motion_as_exported" if name in RIGID else "motion_at_speed_as_exported"
        return f"IF({self.own(of)}=1,{value!r},{DASH})"

    def as_exported(self) -> Iterator[tuple[str, str, str]]:
        """Whether all is as it was.

        Yields:
            The name of a cell without the line's, its label, and its formula, which gives 1 or 0.
        """
        held: dict[str, float | None] = {}
        for name in RESTS_ON:
            figure = self.line.figures[name]
            held[self.own(name)] = self.book.shown(figure.value, figure.kind)
        for field, kind in GEAR.items():
            held[self.entry(field)] = self.book.shown(self.line.stated.value(field), kind)
        yield "motion_as_exported", "Loads, masses, lifts and sizes are as at export (1 yes)", _all_as(held)
        for field in SPEEDS:
            held[self.entry(field)] = self.book.shown(self.line.stated.value(field), Kind.SPEED)
        yield "motion_at_speed_as_exported", "Speed limit and idle speed too (1 yes)", _all_as(held)


RIGID = frozenset(
    {
        "separation_speed",
        "onset_speed",
        "greatest_pressure_angle",
        "least_cam_radius",
        "hollow_radius",
        "face_needed",
        "design_valve_lift",
        "design_ramp_height",
    }
)
"""Figures that no speed of the duty changes."""


def _all_as(held: dict[str, float | None]) -> str:
    known = {cell: value for cell, value in held.items() if value is not None}
    same = [unchanged(cell, value) for cell, value in known.items()]
    same += [f"COUNT({cell})=0" for cell, value in held.items() if value is None]
    return when(tuple(known), f"IF(AND({','.join(same)}),1,0)", "0")
