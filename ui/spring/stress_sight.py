"""What the stress picture looks at: the chosen spring with its lines, the others, and the looks both charts share."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from loadbench.arrays import Floats
from loadbench.spring.fatigue import gerber_line, goodman_line
from loadbench.units import Kind, Style, from_display, to_display
from ui.plots.ink import CURVE, DASHES
from ui.spring import stress_words as words
from ui.spring.chart import Look, Name
from ui.spring.stress_words import CRITERIA, tr

if TYPE_CHECKING:
    from loadbench.analysis.coils.result import CoilAnalysis, FatigueLines

STRESS = Kind.STRESS
POINTS = 49  # of a curve
ROOM = 1.07  # above what must be seen
LOOKS = {
    "goodman": Look(series=0, pattern=DASHES[0], width=1.6),
    "gerber": Look(series=1, width=1.4),
    "sines": Look(series=2, pattern=DASHES[1], width=2.0),
}
OTHERS = (3, 4)  # series of the other springs: those before are the lines'
OWN = Look(role="accent", width=CURVE)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sight:
    """The chosen spring with its lines, its place in the nest, the others that have lines, and the units on show."""

    coil: CoilAnalysis
    lines: FatigueLines
    place: int
    others: tuple[tuple[int, CoilAnalysis, FatigueLines], ...]
    style: Style

    def shown(self, value: float) -> float:
        """A stress, Pa, in the unit on show."""
        return to_display(value, STRESS, self.style)

    def at(self, mean: float, stress: float) -> tuple[float, float]:
        """A place in a chart, both Pa, in the unit on show."""
        return self.shown(mean), self.shown(stress)

    def allowed(self, criterion: str, means: Floats) -> Floats:
        """The amplitude a line allows at mean stresses, all Pa."""
        lines = self.lines
        if criterion == "goodman":
            return goodman_line(means, lines.endurance_goodman, lines.ultimate_shear)
        if criterion == "gerber":
            return gerber_line(means, lines.endurance_gerber, lines.ultimate_shear)
        return np.full(np.shape(means), lines.amplitude)

    @property
    def means(self) -> Floats:
        """Mean stresses across the picture, Pa."""
        return np.linspace(0.0, self.lines.ultimate_shear, POINTS)


def other_series(place: int, chosen: int) -> int:
    """The series of a spring that is not the chosen one, by both places in the nest."""
    return OTHERS[(place - (place > chosen)) % len(OTHERS)]


def chosen_of(coils: tuple[CoilAnalysis, ...], member: str | None) -> int | None:
    """The place of the chosen spring: by name, else the first of which anything is stated."""
    places = range(len(coils))
    first = next((place for place in places if coils[place].concerned), 0 if coils else None)
    return next((place for place in places if coils[place].name == member), first)


def sight_of(coils: tuple[CoilAnalysis, ...], member: str | None, style: Style) -> Sight | None:
    """What the picture draws; None where the chosen spring has no fatigue lines."""
    place = chosen_of(coils, member)
    lines = None if place is None else coils[place].fatigue
    if place is None or lines is None:
        return None
    others = tuple(
        (at, coil, coil.fatigue) for at, coil in enumerate(coils) if at != place and coil.fatigue is not None
    )
    return Sight(coil=coils[place], lines=lines, place=place, others=others, style=style)


def read_at(sight: Sight, mean: float) -> str:
    """What the read-out says at a mean stress in the unit on show."""
    pascals = np.asarray(from_display(mean, STRESS, sight.style))
    allowed = {each: float(sight.allowed(each, pascals)) for each in CRITERIA}
    known = {each: value for each, value in allowed.items() if np.isfinite(value)}
    return words.at_mean(float(pascals), known, sight.style)


def x_range(sight: Sight) -> tuple[float, float]:
    """How far both charts reach across, in the unit on show."""
    most = [sight.lines.ultimate_shear, *(lines.mean for _, _, lines in sight.others), sight.lines.mean]
    return 0.0, 1.04 * sight.shown(max(most))


def zimmerli_name(lines: FatigueLines) -> Name:
    """What stands at Zimmerli's point."""
    text = tr("Zimmerli, {peened}").format(peened=words.peening_words(lines.peened))
    return Name(texts=(text, tr("Zimmerli")), role="ink", rank=3)
