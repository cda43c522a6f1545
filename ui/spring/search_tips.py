"""What the tool tip of a cell tells of a found spring beside the cell's own figure."""

from __future__ import annotations

from typing import TYPE_CHECKING

from loadbench.units import Kind, Style, tell, to_display
from ui.spring.wording import load, tr

if TYPE_CHECKING:
    from loadbench.spring.wanted import Candidate


def more_of(key: str, spring: Candidate, style: Style) -> str:
    """What belongs beside a figure.

    Args:
        key: of the column, the figure's name.
        spring: of the row.
        style: the units on show.

    Returns:
        A sentence; "" where the figure says it all.
    """
    if key == "wire_diameter":
        inch, mm = (to_display(spring.wire_diameter, Kind.LENGTH, each) for each in (Style.INCH_POUND, Style.METRIC))
        return tr("{inch} in = {mm} mm.").format(inch=f"{inch:.4f}", mm=f"{mm:.3f}")
    if key == "bind_height":
        return tr("Bound it carries {load}.").format(load=load(spring.bind_load, style))
    if key.startswith(("shear_stress", "stress_share")):
        strength = tell(spring.tensile_strength, Kind.STRESS, style)
        share = f"{100 * spring.stress_share_seat:.1f}"
        return tr("Tensile strength {strength}; closed {share} % of it.").format(strength=strength, share=share)
    if key == "wire_mass":
        return tr("Of it {mass} counts as moving.").format(mass=tell(spring.moving_mass, Kind.MASS, style))
    return _fatigue(spring) if key == "fatigue_factor_goodman" else ""


def _fatigue(spring: Candidate) -> str:
    gerber, sines = spring.fatigue_factor_gerber, spring.fatigue_factor_sines
    if gerber is None or sines is None:
        return tr("The published fatigue data do not hold for this wire.")
    return tr("Gerber {gerber}, Sines {sines}.").format(gerber=f"{gerber:.2f}", sines=f"{sines:.2f}")
