"""The rate of a coil from its wire and turns as a live formula on the cells of the inputs, by section and taper."""

from __future__ import annotations

from collections.abc import Iterator

from loadbench.job.coil_checks import LEAST_INDEX, MOST_INDEX, SLACK
from loadbench.readings.coil_geometry import CoilGeometry
from loadbench.report.book.inputs import cell_name, geometry_paths, modulus_name
from loadbench.spring.section import SUM_OF_FIFTHS, Shape

TERMS = (1, 3, 5, 7)
"""Of the series of the rectangle; what they leave out is below 1e-13."""


def geometric_rate_formula(geometry: CoilGeometry) -> str:
    """The rate that a coil's cells give; a dash where one of them is empty.

    Args:
        geometry: of a coil whose rate is known.

    Returns:
        A formula: the same that the analysis works with, 4 G J / (pi sum D^3).
    """
    cells = [modulus_name(geometry.path), *(cell_name(path) for path in geometry_paths(geometry))]
    found = f"{modulus_name(geometry.path)}*{_twist(geometry)}/({_cubes(geometry)})"
    can_be = f'IF(AND({",".join(_bounds(geometry))}),{found},"\u2013")'
    return f'IF(COUNT({",".join(cells)})={len(cells)},{can_be},"\u2013")'


def _bounds(geometry: CoilGeometry) -> Iterator[str]:
    """What the program asks of the sizes before it takes them."""
    round_wire = geometry.section is None or geometry.section.shape is Shape.ROUND
    wire = _cell(geometry, "wire.diameter" if round_wire else "wire.width")
    for name in ("mean_diameter", *(["small_mean_diameter"] if geometry.tapers else [])):
        yield f"{_cell(geometry, name)}>={LEAST_INDEX * (1 - SLACK)!r}*{wire}"
        yield f"{_cell(geometry, name)}<={MOST_INDEX * (1 + SLACK)!r}*{wire}"
    if geometry.tapers:
        yield f"{_cell(geometry, 'small_mean_diameter')}<={_cell(geometry, 'mean_diameter')}"
    if not geometry.active_by_ends and not geometry.total_by_ends and geometry.total_coils is not None:
        total = _cell(geometry, "total_coils")
        yield f"OR(COUNT({total})=0,{_cell(geometry, 'active_coils')}<={total}*{1 + SLACK!r})"


def _cell(geometry: CoilGeometry, name: str) -> str:
    return cell_name(f"{geometry.path}.{name}")


def _twist(geometry: CoilGeometry) -> str:
    """4 J / pi of the section."""
    section = geometry.section
    if section is None or section.shape is Shape.ROUND:
        return f"{_cell(geometry, 'wire.diameter')}^4/8"
    across, along = (_cell(geometry, f"wire.{name}") for name in ("width", "thickness"))
    if section.shape is Shape.OVATE:
        return f"{across}^3*{along}^3/(4*({across}^2+{along}^2))"
    long, short = f"MAX({across},{along})", f"MIN({across},{along})"
    # 1 - tanh x = 2 / (e^2x + 1) falls off so fast that four terms do
    rest = "+".join(f"2/(EXP({n}*PI()*{long}/{short})+1)/{n}^5" for n in TERMS)
    k1 = f"(1-192/PI()^5*{short}/{long}*({SUM_OF_FIFTHS!r}-({rest})))/3"
    return f"4/PI()*{k1}*{long}*{short}^3"


def _active(geometry: CoilGeometry) -> str:
    if not geometry.active_by_ends:
        return _cell(geometry, "active_coils")
    dead = (geometry.total_coils or 0.0) - (geometry.active_coils or 0.0)
    return f"({_cell(geometry, 'total_coils')}-{dead!r})"


def _cubes(geometry: CoilGeometry) -> str:
    """The sum of D^3 over the coils: of the straight ones and of those that taper."""
    large, active = _cell(geometry, "mean_diameter"), _active(geometry)
    if not geometry.tapers:
        return f"{large}^3*{active}"
    small = _cell(geometry, "small_mean_diameter")
    cone = f"({large}+{small})*({large}^2+{small}^2)/4"
    if not geometry.beehive:
        return f"{active}*{cone}"
    tapered = _cell(geometry, "tapered_coils")
    return f"({active}-{tapered})*{large}^3+{tapered}*{cone}"
