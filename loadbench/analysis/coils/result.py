"""What was computed of one spring's coil, and of the nest's surge: figures, and the arrays that pictures draw."""

from __future__ import annotations

from dataclasses import dataclass, field

from loadbench.analysis.figure import Figure, FigureKind, Plain
from loadbench.arrays import Floats
from loadbench.motion.waves import WaveShape
from loadbench.readings.coil_geometry import CoilGeometry
from loadbench.units import Kind

FIGURES: dict[str, tuple[str, FigureKind]] = {
    "geometric_rate": ("Rate from the geometry", Kind.RATE),
    "active_coils": ("Active coils", Plain.NUMBER),
    "total_coils": ("Total coils", Plain.NUMBER),
    "spring_index": ("Spring index", Plain.NUMBER),
    "outer_diameter": ("Outside diameter", Kind.LENGTH),
    "inner_diameter": ("Inside diameter", Kind.LENGTH),
    "pitch": ("Pitch", Kind.LENGTH),
    "free_height": ("Free height", Kind.LENGTH),
    "geometric_bind_height": ("Bind height from the wire", Kind.LENGTH),
    "wire_mass": ("Mass of the wire", Kind.MASS),
    "moving_mass": ("Mass of the moving coils", Kind.MASS),
    "bind_load": ("Load at bind", Kind.FORCE),
    "wahl_factor": ("Wahl factor", Plain.NUMBER),
    "bergstraesser_factor": ("Bergsträsser factor", Plain.NUMBER),
    "shear_stress_seat": ("Stress, closed", Kind.STRESS),
    "shear_stress_open": ("Stress, full lift", Kind.STRESS),
    "shear_stress_bind": ("Stress at bind", Kind.STRESS),
    "stress_range": ("Stress range", Kind.STRESS),
    "tensile_strength": ("Tensile strength", Kind.STRESS),
    "stress_share_seat": ("Stress over tensile strength, closed", Plain.SHARE),
    "stress_share_open": ("Stress over tensile strength, full lift", Plain.SHARE),
    "stress_share_bind": ("Stress over tensile strength, at bind", Plain.SHARE),
    "fatigue_factor_goodman": ("Fatigue factor, Goodman", Plain.NUMBER),
    "fatigue_factor_gerber": ("Fatigue factor, Gerber", Plain.NUMBER),
    "fatigue_factor_sines": ("Fatigue factor, Sines", Plain.NUMBER),
    "en_stress_seat": ("EN 13906-1 stress, closed", Kind.STRESS),
    "en_stress_open": ("EN 13906-1 stress, full lift", Kind.STRESS),
    "en_stress_range": ("EN 13906-1 stress range", Kind.STRESS),
    "en_bind_share": ("EN 13906-1 bind stress over the allowed", Plain.SHARE),
    "hot_load_share": ("Load left when hot", Plain.SHARE),
    "surge_frequency": ("First surge mode", Kind.FREQUENCY),
    "surge_frequency_open": ("First surge mode, full lift", Kind.FREQUENCY),
    "surge_ratio": ("Surge mode over cam speed", Plain.NUMBER),
    "gap_to_next": ("Gap to the next spring inside, diametral", Kind.LENGTH),
    "retainer_step_gap": ("Gap to the retainer's step, diametral", Kind.LENGTH),
    "load_tolerance": ("Load tolerance, EN 15800 grade 2", Kind.FORCE),
    "length_tolerance": ("Free height tolerance, EN 15800 grade 2", Kind.LENGTH),
    "stable_free_height": ("Tallest free height that cannot buckle", Kind.LENGTH),
}
"""Every figure of a coil: label and kind, in the order in which they are told. All are always there, known or not."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FatigueLines:
    """What the stress pictures draw, Pa: the spring's own stresses and the strengths that bound them.

    `closed` and `full_lift` are corrected by Bergsträsser; `peened` says which Zimmerli data were taken.
    """

    closed: float
    full_lift: float
    bind: float | None
    alternating: float
    mean: float
    ultimate_shear: float
    amplitude: float
    amplitude_mean: float
    endurance_goodman: float
    endurance_gerber: float
    peened: bool
    tensile: float
    static_limit: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LoadCurve:
    """Load against the coil's own height: heights falling from free to bind, m, and loads, N; marks where turns land.

    `loading` and `unloading` differ by the damper's friction where there is one.
    """

    heights: Floats
    loads: Floats
    landing_loads: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CoilAnalysis:
    """One spring of the nest. `name` is as the member's; `path` is "" where the job has no coil data for it."""

    name: str
    path: str
    geometry: CoilGeometry | None
    figures: dict[str, Figure]
    fatigue: FatigueLines | None = None
    curve: LoadCurve | None = None
    from_wire: LoadCurve | None = None
    """Where the winding is known: the curve that the geometry alone gives, free to bind, with the coils' landings."""
    modes: Floats | None = None
    """Every coil free, Hz: the lowest that it has."""
    modes_closed: Floats | None = None
    modes_open: Floats | None = None
    """With the load closed and at full lift on it, Hz; of a taper without the coils that have landed by then."""
    waves: WaveShape | None = None
    """How it swings in a dynamic run; None where its modes cannot be had."""
    heights: dict[str, float] = field(default_factory=dict)
    """The coil's own heights that are known, m: "free", "closed", "open", "bind"."""

    @property
    def concerned(self) -> bool:
        """Whether anything is stated of its wire or its turns."""
        return self.geometry is not None and self.geometry.concerned

    def value(self, name: str) -> float | None:
        """A figure's value, SI; None where it cannot be had."""
        return self.figures[name].value


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SurgeRange:
    """The engine speeds in which surge is looked at, rad/s, and the lift's harmonics where a lift curve is given.

    `harmonics[i]` is the amplitude of order i + 1 of the cam, m; None without a lift curve.
    """

    idle_speed: float | None
    speed_limit: float | None
    harmonics: Floats | None
    friction: float | None = None
    """The damper's friction, N, where stated."""
