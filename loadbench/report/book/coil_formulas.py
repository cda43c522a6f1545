"""The geometry of a coil as live formulas: turns, diameters, section, rate, lengths, masses, surge, tolerances."""

from __future__ import annotations

import math
from collections.abc import Iterator

from loadbench.job.coil_checks import LEAST_INDEX, MOST_INDEX, SLACK
from loadbench.readings.coil_line import GROUND
from loadbench.report.book.blocks import rate_path
from loadbench.report.book.coil_cells import CoilCells, coil_cell
from loadbench.report.book.formulas import DASH, when
from loadbench.report.book.inputs import cell_name
from loadbench.spring.ends import Ends, dead_coils
from loadbench.spring.section import SUM_OF_FIFTHS, Shape
from loadbench.spring.temperature import MODULUS_FALL_PER_K
from loadbench.units import Kind, Style, from_display, to_display

Formulas = Iterator[tuple[str, str]]
"""Name of a figure or of what it rests on, and its formula."""

TERMS = range(1, 18, 2)
"""Of the series of the rectangle; what they leave out is below 1e-13."""
PITCHES = {
    Ends.PLAIN: "({L0}-{b})/{n}",
    Ends.PLAIN_GROUND: "{L0}/({n}+1)",
    Ends.CLOSED: "({L0}-3*{b})/{n}",
    Ends.CLOSED_GROUND: "({L0}-2*{b})/{n}",
}
LOW, HIGH = repr(1 - SLACK), repr(1 + SLACK)


def geometry_formulas(of: CoilCells) -> Formulas:
    """What rests on the coil alone.

    Args:
        of: the coil.

    Yields:
        Name and formula.
    """
    yield from _sizes(of)
    yield from _section(of)
    yield from _turns(of)
    yield from _rate(of)
    yield from _diameters(of)
    yield from _heights(of)
    yield from _masses(of)
    yield from _tolerances(of)
    yield from _beside(of)


def _sizes(of: CoilCells) -> Formulas:
    """The diameters as far as they can be: what the program would refuse is a dash."""
    large, small, a = of.entry("mean_diameter"), of.entry("small_mean_diameter"), of.across
    used = of.own("mean_diameter")
    yield "mean_diameter", when(large, f"IF(COUNT({a})=1,{_indexed(large, a)},{large})")
    if of.by_coil:
        fits = f"IF({small}<{used}*{LOW},IF(COUNT({a})=1,{_indexed(small, a)},{small}),{DASH})"
        yield "small_diameter", when((used, small), fits)
        yield "tapered_coils", _tapered(of)
    elif of.stated("small_mean_diameter"):
        yield "small_diameter", when((used, small), f"IF(ABS({small}-{used})<={SLACK!r}*{used},{used},{DASH})")
    elif of.stated("tapered_coils"):
        yield "small_diameter", DASH
    else:
        yield "small_diameter", when(used, used)


def _indexed(diameter: str, wire: str) -> str:
    low, high = f"{diameter}>={LEAST_INDEX:g}*{LOW}*{wire}", f"{diameter}<={MOST_INDEX:g}*{HIGH}*{wire}"
    return f"IF(AND({low},{high}),{diameter},{DASH})"


def _tapered(of: CoilCells) -> str:
    tapered, active = of.entry("tapered_coils"), of.own("active_coils")
    some = f"IF({tapered}<={active}*{HIGH},MIN({tapered},{active}),{DASH})"
    return when(active, when(tapered, some, DASH if of.faulty("tapered_coils") else active))


def _section(of: CoilCells) -> Formulas:
    """Area, torsion constant and torsion modulus of the wire, and the round wire of its area."""
    a, b = of.across, of.along
    if of.faulty("wire.shape"):
        yield from (
            (name, DASH) for name in ("area", "torsion_constant", "torsion_modulus", "across", "round_diameter")
        )
        return
    long, short, area = f"MAX({a},{b})", f"MIN({a},{b})", of.own("area")
    if of.shape is Shape.ROUND:
        of_shape = (f"PI()/4*{a}^2", f"PI()/32*{a}^4", f"PI()/16*{a}^3")
    elif of.shape is Shape.OVATE:
        of_shape = (f"PI()/4*{a}*{b}", f"PI()/16*{a}^3*{b}^3/({a}^2+{b}^2)", f"PI()/16*{long}*{short}^2")
    else:
        k1, k2 = _rectangle(f"{long}/{short}", of.own("torsion_constant"), f"{long}*{short}^3")
        of_shape = (f"{a}*{b}", f"{k1}*{long}*{short}^3", f"{k2}*{long}*{short}^2")
    cells = (a,) if of.shape is Shape.ROUND else (a, b)
    for name, formula in zip(("area", "torsion_constant", "torsion_modulus"), of_shape, strict=True):
        yield name, when(cells, formula)
    yield "across", when(a, a)
    yield "round_diameter", when(cells, a if of.shape is Shape.ROUND else f"SQRT(4/PI()*{area})")


def _rectangle(ratio: str, constant: str, sides: str) -> tuple[str, str]:
    """Both coefficients of a rectangle: k1 by its series, k2 from the torsion constant that k1 gave."""
    # 1 - tanh x and 1 / cosh x, both written with e^-x: e^x would overflow for a flat strip
    rest = "+".join(f"2*EXP(-{n}*PI()*{ratio})/(1+EXP(-{n}*PI()*{ratio}))/{n}^5" for n in TERMS)
    steep = "+".join(f"2*EXP(-{n}*PI()/2*{ratio})/(1+EXP(-{n}*PI()*{ratio}))/{n}^2" for n in TERMS)
    k1 = f"(1-192/PI()^5/({ratio})*({SUM_OF_FIFTHS!r}-({rest})))/3"
    return k1, f"{constant}/({sides})/(1-8/PI()^2*({steep}))"


def _cone(of: CoilCells) -> str:
    """The mean of D^3 along a cone."""
    large, small = of.own("mean_diameter"), of.own("small_diameter")
    return f"({large}+{small})*({large}^2+{small}^2)/4"


def _turns(of: CoilCells) -> Formulas:
    """Active and total coils: as stated, by the ends, or counted from a rate that is not the geometry's."""
    active, total, n = of.entry("active_coils"), of.entry("total_coils"), of.own("active_coils")
    ends = of.geometry.ends
    yield "evidence_rate", _evidence_rate(of)
    counted = _counted(of)
    if of.faulty("active_coils"):
        rest = DASH
    elif ends is None:
        rest = counted
    else:
        dead = repr(dead_coils(ends))
        rest = when(total, f"IF({total}>{dead},{total}-{dead},{counted})", counted)
    some = f"IF({active}<={total}*{HIGH},{active},{DASH})"
    yield "active_coils", when(active, when(total, some, active), rest)
    by_ends = DASH if ends is None or of.faulty("total_coils") else when(n, f"{n}+{dead_coils(ends)!r}")
    yield "total_coils", when(total, total, by_ends)


def _evidence_rate(of: CoilCells) -> str:
    """The best rate that does not come from the geometry."""
    if of.member.evidence.faulty:
        return DASH
    stated = cell_name(rate_path(of.line, of.member))
    rest = when(stated, stated)
    if of.block is None or not of.block.readings:
        return rest
    fitted = of.block.name("fitted_rate")
    return when(fitted, fitted, rest)


def _counted(of: CoilCells) -> str:
    """As many active coils as that rate asks for."""
    rate, large, small = of.own("evidence_rate"), of.own("mean_diameter"), of.own("small_diameter")
    shear, twist = of.own("shear_modulus"), of.own("torsion_constant")
    cells, soft = (rate, large, small, shear, twist), f"4/PI()*{shear}*{twist}/{rate}"
    if not of.by_coil:
        found = f"{soft}/{large}^3"
    else:
        tapered, cone = of.entry("tapered_coils"), f"({_cone(of)})"
        straight = f"({soft}-{tapered}*{cone})"
        some = f"IF({straight}<0,{DASH},{tapered}+{straight}/{large}^3)"
        found = when(tapered, some, DASH if of.faulty("tapered_coils") else f"{soft}/{cone}")
    return when(cells, f"IF({rate}>0,{found},{DASH})")


def _rate(of: CoilCells) -> Formulas:
    """The rate with its active coils; as a figure only where they are not counted from a rate themselves."""
    large, n, shear, twist = (of.own(each) for each in ("mean_diameter", "active_coils", "shear_modulus",
                                                        "torsion_constant"))  # fmt: skip
    cells, cubes = [large, of.own("small_diameter"), n, shear, twist], f"{n}*{large}^3"
    if of.by_coil:
        tapered = of.own("tapered_coils")
        cells.append(tapered)
        cubes = f"(({n}-{tapered})*{large}^3+{tapered}*{_cone(of)})"
    yield "coil_rate", when(tuple(cells), f"4/PI()*{shear}*{twist}/({cubes})")
    given = [of.entry("active_coils"), *([] if of.geometry.ends is None else [of.entry("total_coils")])]
    yield "geometric_rate", f"IF(COUNT({','.join(given)})>0,{of.own('coil_rate')},{DASH})"


def _diameters(of: CoilCells) -> Formulas:
    large, small, index, a = (*(of.own(each) for each in ("mean_diameter", "small_diameter", "spring_index")),
                              of.across)  # fmt: skip
    known = (large, of.own("area"))
    yield "spring_index", when(known, f"{large}/{a}")
    yield "outer_diameter", when(known, f"{large}+{a}")
    yield "inner_diameter", when((*known, small), f"{small}-{a}")
    yield "wahl_factor", when(index, f"(4*{index}-1)/(4*{index}-4)+0.615/{index}")
    yield "bergstraesser_factor", when(index, f"(4*{index}+2)/(4*{index}-3)")


def _heights(of: CoilCells) -> Formulas:
    free, b, n, ends = of.entry("free_height"), of.along, of.own("active_coils"), of.geometry.ends
    known = of.own("area")
    yield "free_height", when(free, free)
    if ends is None:
        yield from ((name, DASH) for name in ("pitch", "geometric_bind_height"))
        return
    pitch = PITCHES[ends].format(L0=free, b=b, n=n)
    yield "pitch", when((free, known, n), f"IF({pitch}>={b},{pitch},{DASH})")
    total, more = of.own("total_coils"), "" if ends in GROUND else "+1"
    cells = [known, of.own("mean_diameter"), of.own("small_diameter"), n, total]
    if not of.by_coil:
        yield "geometric_bind_height", when(tuple(cells), f"{b}*({total}{more})")
        return
    tapered = of.own("tapered_coils")
    stacked = f"{b}*(({n}-{tapered})+{tapered}*{_turn_height(of, tapered)})"
    dead = f"{b}*({total}-{n}{more})"
    yield "geometric_bind_height", when((*cells, tapered), f"{stacked}+{dead}")


def _turn_height(of: CoilCells, tapered: str) -> str:
    """How much of the wire's size a tapered turn adds when it has landed."""
    step = f"({of.own('mean_diameter')}-{of.own('small_diameter')})/2/MAX({tapered},0.000001)/{of.across}"
    return f"IF({step}<1,1,0)" if of.shape is Shape.RECTANGULAR else f"SQRT(1-MIN({step},1)^2)"


def _masses(of: CoilCells) -> Formulas:
    area, large, small, n = (of.own(each) for each in ("area", "mean_diameter", "small_diameter", "active_coils"))
    density = of.own("density")
    for name, turns in (("wire_mass", of.own("total_coils")), ("moving_mass", n)):
        cells, mean = [area, large, small, turns, density], large
        if of.by_coil:
            tapered = of.own("tapered_coils")
            cells += [n, tapered]
            mean = f"({large}-({tapered}+{turns}-{n})*({large}-{small})/2/{turns})"
        yield name, when(tuple(cells), f"PI()*{area}*{mean}*{turns}*{density}")


def _tolerances(of: CoilCells) -> Formulas:
    """By EN 15800, grade 2, which writes its formulas in mm and N."""
    if of.by_coil or of.shape is not Shape.ROUND:
        return
    style = of.book.style
    wire, large, n, index = of.across, *(of.own(each) for each in ("mean_diameter", "active_coils", "spring_index"))
    mm = repr(25.4 if style is Style.INCH_POUND else 1.0)
    w = f"({index}/10)"
    polynomial = f"(((-0.84*{w}+3.781)*{w}-4.244)*{w}+2.274)"
    of_size = f"{to_display(1.0, Kind.FORCE, style)!r}*65.92*({wire}*{mm})^3.3/({large}*{mm})^1.6*{polynomial}"
    of_turns = f"(-1/(3*{n}^2)+8/(5*{n})+0.803)"
    inside = f"AND({index}>=4*{LOW},{index}<=20*{HIGH},{n}>=2)"
    cells = (index, of.own("small_diameter"), n)
    scatter = f"{of_size}*{of_turns}"
    rate, load = of.own("coil_rate"), of.own("closed_load")
    yield "length_tolerance", when((*cells, rate), f"IF({inside},{scatter}/{rate},{DASH})")
    yield "load_tolerance", when((*cells, load), f"IF({inside},{scatter}+0.015*{load},{DASH})")


def _beside(of: CoilCells) -> Formulas:
    """Buckling, heat, surge, and the gaps."""
    small, shear, elastic = (of.own(each) for each in ("small_diameter", "shear_modulus", "elastic_modulus"))
    stable = f"PI()*{small}/0.5*SQRT(2*({elastic}-{shear})/(2*{shear}+{elastic}))"
    yield "stable_free_height", when((of.own("mean_diameter"), small, shear, elastic), stable)
    heat, speed = (cell_name(of.line.stated.path(each)) for each in ("duty.oil.temperature", "duty.speed_limit"))
    warmer = f"({heat}-20)" if of.book.style is Style.METRIC else f"(({heat}-68)/1.8)"
    yield "hot_load_share", when((heat, of.own("density")), f"1-{MODULUS_FALL_PER_K!r}*{warmer}")
    rate, mass, first = of.own("coil_rate"), of.own("moving_mass"), of.own("surge_frequency")
    hertz = math.sqrt(from_display(1.0, Kind.RATE, of.book.style) / from_display(1.0, Kind.MASS, of.book.style))
    if not of.by_coil:
        yield "surge_frequency", when((rate, mass), f"{hertz / 2!r}*SQRT({rate}/{mass})")
    if not of.by_coil:
        yield "surge_frequency_open", when(first, first)
    yield "surge_ratio", when((first, speed), f"IF({speed}>0,{first}*120/{speed},{DASH})")
    inside, step = of.own("inner_diameter"), of.entry("retainer_step_diameter")
    yield "retainer_step_gap", when((inside, step), f"{inside}-{step}")
    yield from _gap(of)


def _gap(of: CoilCells) -> Formulas:
    """To the coil that stood next inside at export; a dash once another one does."""
    coils, own = of.line.coils, of.geometry.mean_diameter
    geometries = [each.geometry for each in coils if each.concerned and each.geometry is not None]
    if own is None or len(geometries) < len(coils) or any(each.mean_diameter is None for each in geometries):
        return
    means = {place: each.mean_diameter or 0.0 for place, each in enumerate(geometries) if place != of.place}
    smaller = {place: mean for place, mean in means.items() if mean < own}
    if not smaller:
        return
    next_inside = max(smaller, key=lambda place: smaller[place])

    sizes = ("mean_diameter", "small_diameter", "across")
    large, small, a = (of.own(name) for name in sizes)
    other, least, b = (coil_cell(of.line, next_inside, name) for name in sizes)
    rest = [coil_cell(of.line, place, "mean_diameter") for place in means if place != next_inside]
    between = "".join(f",OR({each}>={large},{each}<={other})" for each in rest)
    gap = f"MIN({large}-{a}-{other}-{b},{small}-{a}-{least}-{b})"
    yield (
        "gap_to_next",
        when((large, small, a, other, least, b, *rest), f"IF(AND({other}<{large}{between}),{gap},{DASH})"),
    )
