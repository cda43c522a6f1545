"""How one spring is wound, in one piece, and the elements it is cut into."""

from __future__ import annotations

from dataclasses import dataclass

from loadbench.arrays import Floats
from loadbench.errors import InputError
from loadbench.spring.taper import (
    checked_taper,
    coil_turns,
    compliances,
    gaps,
    radial_step,
    stacked_height,
    turn_height,
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Winding:
    """How one spring is wound, m and turns.

    `axial` and `radial` are the wire along and across the axis; `dead` counts both ends together, half of them at each;
    `flat` is true of rectangular wire only. A cylinder has `small` equal to `large`, or no tapered turns.

    Raises:
        InputError: a size or a turn that cannot be, or a free height below bind.
    """

    axial: float
    radial: float
    large: float
    small: float
    active: float
    tapered: float
    free_height: float
    dead: float = 2.0
    ground: bool = True
    flat: bool = False

    def __post_init__(self) -> None:
        checked_taper(self.large, self.small, self.active, self.tapered)
        if not (self.axial > 0 and self.radial > 0 and self.dead >= 0):
            raise InputError("a coil without wire, or dead coils below zero", expected="a wire above zero")
        if not self.free_height >= self.bind_height:
            raise InputError("free height below bind height", expected="a free height above the stacked turns")

    @property
    def step(self) -> float:
        """Radius lost by one tapered turn."""
        return float(radial_step(self.large, self.small, self.tapered))

    @property
    def dead_height(self) -> float:
        """Height taken by the ends, at any load: the dead turns lie on each other, and grinding takes one wire."""
        return (self.dead if self.ground else self.dead + 1) * self.axial

    @property
    def bind_height(self) -> float:
        """Height with every turn landed."""
        active = stacked_height(self.axial, self.radial, self.large, self.small, self.active, self.tapered, self.flat)
        return self.dead_height + float(active)

    @property
    def active_free_height(self) -> float:
        """Height of the active turns when free."""
        return self.free_height - self.dead_height

    @property
    def total(self) -> float:
        """All turns."""
        return self.active + self.dead


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Elements:
    """A spring cut into short lengths, seat to retainer: mean diameter, turns, compliance m/N and gap m of each."""

    diameters: Floats
    turns: Floats
    compliances: Floats
    gaps: Floats


def elements_of(winding: Winding, shear_modulus: float, torsion_constant: float, elements: int = 240) -> Elements:
    """Cut a spring into elements.

    Args:
        winding: how it is wound.
        shear_modulus: G, Pa.
        torsion_constant: J, m4.
        elements: how many; a cylinder needs no more than two.

    Returns:
        The elements; their gaps add up to the travel from free to bind.

    Source:
        rodriguez.
    """
    w = winding
    diameters, turns = coil_turns(w.large, w.small, w.active, w.tapered, elements)
    tapered_turn = float(turn_height(w.axial, w.radial, w.step, w.flat))
    return Elements(
        diameters=diameters,
        turns=turns,
        compliances=compliances(shear_modulus, torsion_constant, diameters, turns),
        gaps=gaps(w.active_free_height, diameters, turns, w.large, w.axial, tapered_turn),
    )
