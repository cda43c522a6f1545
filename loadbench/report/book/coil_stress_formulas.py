"""Where a coil stands, what it carries, its stress, its wire's strength and its fatigue, as live formulas."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from loadbench.analysis.coils.stress_figures import LANDED
from loadbench.report.book.blocks import offset_formula
from loadbench.report.book.coil_cells import CoilCells
from loadbench.report.book.coil_formulas import HIGH, LOW, Formulas
from loadbench.report.book.formulas import DASH, member_cell, when
from loadbench.report.book.inputs import cell_name
from loadbench.report.book.strand_columns import interval_formula, load_formula
from loadbench.spring.fatigue import ULTIMATE_SHEAR_SHARE, ZIMMERLI_MOST_DIAMETER, zimmerli
from loadbench.spring.strength import EDGE, PowerLaw, Steps
from loadbench.spring.stress import EN_BIND_SHARE
from loadbench.units import Kind, Style, to_display

ENDS = {"seat": "closed_load", "open": "open_load", "bind": "bind_load"}
UNCHANGED = 1e-9
"""A cell that differs by less than this share from what it was at export is unchanged."""
RANGES = ("stress_range", "en_stress_range")
FACTORS = tuple(f"fatigue_factor_{way}" for way in ("goodman", "gerber", "sines"))
BOTH = ("closed_load", "open_load")
ON_LOADS: dict[str, tuple[str, ...]] = {
    "surge_frequency": (),
    **{f"shear_stress_{end}": (load,) for end, load in ENDS.items()},
    **{f"stress_share_{end}": (load,) for end, load in ENDS.items()},
    **{f"en_stress_{end}": (ENDS[end],) for end in ("seat", "open")},
    **dict.fromkeys((*RANGES, *FACTORS), BOTH),
    "en_bind_share": ("bind_load",),
}
"""The loads that a figure of a tapered coil rests on, which goes through the coil turn by turn."""


def stress_formulas(of: CoilCells) -> Formulas:
    """What rests on the coil's heights and loads, and on the strength of its wire.

    Args:
        of: the coil.

    Yields:
        Name and formula.
    """
    yield from _standing(of)
    yield from _strength(of)
    if of.by_coil:
        return
    yield from _stresses(of)
    yield from _shares(of)
    yield from _fatigue(of)


def _standing(of: CoilCells) -> Formulas:
    """Its heights and its loads; those that the sheet Figures has are taken from there."""
    line, member, own = of.line, of.member, of.own
    height, lift = f"{line.name}_installed_height", f"{line.name}_net_valve_lift"
    offset = None if member.offset is None else offset_formula(member)
    yield "closed_height", DASH if offset is None else when(height, f"{height}-{offset}")
    yield "open_height", when((own("closed_height"), lift), f"{own('closed_height')}-{lift}")
    bind, faulty = cell_name(member.bind_field), line.stated.faulty(member.bind_field)
    yield "bind_height", when(bind, bind, DASH if faulty else own("geometric_bind_height"))
    judged = next((place for place, each in enumerate(line.members) if each.stated is member), None)
    for end in ("closed", "open"):
        name = "member_seat_load" if end == "closed" else "member_open_load"
        taken = judged is not None and name in line.members[judged].figures and of.block is not None
        cell = member_cell(line, judged, name) if taken and judged is not None else ""
        yield f"{end}_load", cell or _load(of, own(f"{end}_height"))
    landed = of.coil.figures["bind_load"]
    if landed.evidence == LANDED and landed.value is not None:
        at_export = repr(to_display(landed.value, Kind.FORCE, of.book.style))
        yield "bind_load", when(own("as_exported"), f"IF({own('as_exported')}=1,{at_export},{DASH})")
        return
    load = _load(of, own("bind_height"))
    yield "bind_load", when(own("as_exported"), f"IF({own('as_exported')}=1,{load},{DASH})") if of.by_curve else load


def _load(of: CoilCells, x: str) -> str:
    return DASH if of.block is None else load_formula(of.block, x, interval_formula(of.block, x))


def _stresses(of: CoilCells) -> Formulas:
    for end, name in ENDS.items():
        yield f"shear_stress_{end}", _stress(of, of.own("wahl_factor"), of.own(name))
        if end != "bind":
            yield f"en_stress_{end}", _stress(of, of.own("bergstraesser_factor"), of.own(name))
    for name, stem in zip(RANGES, ("shear_stress", "en_stress"), strict=True):
        low, high = of.own(f"{stem}_seat"), of.own(f"{stem}_open")
        yield name, when((low, high), f"{high}-{low}")
    strength, cells = of.own("tensile_strength"), _rests_on(of, of.own("bind_load"))
    yield "en_bind_share", when((*cells, strength), f"{_plain(of, of.own('bind_load'))}/({EN_BIND_SHARE!r}*{strength})")


def _stress(of: CoilCells, factor: str, load: str) -> str:
    return when((*_rests_on(of, load), factor), f"{factor}*{_plain(of, load)}")


def _rests_on(of: CoilCells, load: str) -> tuple[str, ...]:
    return (load, of.own("mean_diameter"), of.own("small_diameter"), of.own("torsion_modulus"))


def _plain(of: CoilCells, load: str) -> str:
    """Load x D / (2 W), in kpsi or MPa."""
    kilo = "/1000" if of.book.style is Style.INCH_POUND else ""
    return f"{load}*{of.own('mean_diameter')}/(2*{of.own('torsion_modulus')}){kilo}"


def _shares(of: CoilCells) -> Formulas:
    strength = of.own("tensile_strength")
    for end in ENDS:
        stress = of.own(f"shear_stress_{end}")
        yield f"stress_share_{end}", when((stress, strength), f"{stress}/{strength}")


def _strength(of: CoilCells) -> Formulas:
    """The wire's law within its range, or the steps of its table."""
    wire, d, style = of.geometry.material, of.own("round_diameter"), of.book.style
    if wire is None:
        yield "tensile_strength", DASH
        return

    def length(value: float) -> str:
        return repr(to_display(value, Kind.LENGTH, style))

    def stress(value: float) -> str:
        return repr(to_display(value, Kind.STRESS, style))

    if isinstance(wire.strength, PowerLaw):
        law = wire.strength
        inside = f"AND({d}>={length(law.least_diameter_m)}*{LOW},{d}<={length(law.most_diameter_m)}*{HIGH})"
        found = f"IF({inside},{stress(law.at_one_mm_Pa)}*({d}/{length(1e-3)})^(-{law.exponent!r}),{DASH})"
    else:
        found = _steps(wire.strength, f"{d}*{1 - EDGE!r}", length, stress)
    yield "tensile_strength", when(d, found)


def _steps(strength: Steps, d: str, length: Callable[[float], str], stress: Callable[[float], str]) -> str:
    found = DASH
    for step in reversed(strength.steps):
        found = f"IF({d}<={length(step.to_m)},{stress(step.low_Pa)},{found})"
    return f"IF({d}<={length(strength.steps[0].over_m)},{DASH},{found})"


def _fatigue(of: CoilCells) -> Formulas:
    """Zimmerli's data, the lines through them, and the three factors."""
    wire, style = of.geometry.material, of.book.style
    low, high = of.own("en_stress_seat"), of.own("en_stress_open")
    yield "amplitude", when((low, high), f"({high}-{low})/2")
    yield "mean_stress", when((low, high), f"({high}+{low})/2")
    tensile, d = of.own("tensile_strength"), of.own("round_diameter")
    yield "ultimate_shear", when(tensile, f"{ULTIMATE_SHEAR_SHARE!r}*{tensile}")
    if wire is None or not wire.zimmerli:
        yield from ((name, DASH) for name in ("zimmerli_amplitude", "goodman_endurance", "gerber_endurance", *FACTORS))
        return
    amplitude, mean = (repr(to_display(each, Kind.STRESS, style)) for each in zimmerli(bool(of.geometry.peened)))
    most = repr(to_display(ZIMMERLI_MOST_DIAMETER, Kind.LENGTH, style))
    yield "zimmerli_amplitude", when(d, f"IF({d}<{most}*(1-1E-9),{amplitude},{DASH})")
    known, ultimate = of.own("zimmerli_amplitude"), of.own("ultimate_shear")
    for name, power in (("goodman_endurance", ""), ("gerber_endurance", "^2")):
        line = f"{known}/(1-({mean}/{ultimate}){power})"
        yield name, when((known, ultimate), f"IF({ultimate}>{mean},{line},{DASH})")
    yield from _factors(of)


def _factors(of: CoilCells) -> Formulas:
    swing, mean, ultimate = (of.own(each) for each in ("amplitude", "mean_stress", "ultimate_shear"))
    goodman, gerber = of.own("goodman_endurance"), of.own("gerber_endurance")
    x, y = f"({swing}/{gerber})", f"({mean}/{ultimate})"
    found = (
        (f"{swing}/{goodman}+{mean}/{ultimate}", "1"),
        (f"{x}+SQRT({x}^2+4*{y}^2)", "2"),
        (f"{swing}/{of.own('zimmerli_amplitude')}", "1"),
    )
    for name, (below, above) in zip(FACTORS, found, strict=True):
        formula = f"IF({below}>0,{above}/({below}),{DASH})"
        yield name, when((swing, mean, ultimate, goodman, gerber), formula)


def kept_formula(of: CoilCells, name: str, value: float, loads: Mapping[str, float | None]) -> str:
    """A figure as it was worked out at export; a dash once something that it rests on has changed.

    Args:
        of: the coil.
        name: of the figure.
        value: at export, in the workbook's unit.
        loads: those at export by the name of their cell, in the workbook's unit.

    Returns:
        A formula.
    """
    known = {load: worth for load in ON_LOADS.get(name, BOTH) if (worth := loads[load]) is not None}
    same = [f"{of.own('as_exported')}=1", *(unchanged(of.own(load), worth) for load, worth in known.items())]
    cells = (of.own("as_exported"), *(of.own(load) for load in known))
    return when(cells, f"IF(AND({','.join(same)}),{value!r},{DASH})")


def unchanged(cell: str, value: float) -> str:
    """Whether a cell with a number still holds what it did at export."""
    return f"ABS({cell}-{value!r})<={UNCHANGED * abs(value) + 1e-12!r}"
