"""The contact of lobe and follower over the turn: Hertz pressure and oil film, idling and at the speed limit."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from typing_extensions import override

from loadbench.units import Kind, display_unit, tell, to_display
from ui.followers.contact_chart import contact_picture, curves_of
from ui.followers.wording import tr
from ui.motion.stacked import StackedScale
from ui.spring.chart_picture import ChartPicture

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from loadbench.analysis import LineAnalysis
    from loadbench.arrays import Floats
    from loadbench.units import Style
    from ui.session import Session
    from ui.spring.chart import Told
    from ui.state import State


class ContactView(ChartPicture):
    """Pressure above, film beneath, over the cam's angle."""

    scale: StackedScale

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        self.line: LineAnalysis | None = None
        super().__init__(session, StackedScale("contact_picture", 2, crank=True), "contact", parent)

    @override
    def build(self, state: State, line: str, member: str | None, style: Style) -> Told:
        self.line = state.analysis.line(line)
        return contact_picture(self.line, style)

    @override
    def read_at(self, place: float) -> str:
        return "" if self.line is None else read_out(self.line, place, self.session.style)

    @override
    def stride(self) -> float:
        return 1.0

    @override
    def rows(self) -> list[list[str]]:
        return [] if self.line is None else contact_rows(self.line, self.session.style)

    @override
    def title(self) -> str:
        return tr("Contact of lobe and follower over the cam\u2019s angle")


def read_out(line: LineAnalysis, place: float, style: Style) -> str:
    """What the read-out says at an angle of the cam, deg."""
    parts = [tr("Cam {angle}\u2009deg from the nose").format(angle=f"{place:.0f}".replace("-", "\u2212"))]
    for word, curve, _ in curves_of(line):
        at = int(np.argmin(np.abs(np.degrees(curve.cycle.angles) - place)))
        pressure = float(curve.pressure[at])
        if not np.isfinite(pressure):
            parts.append(tr("{word}: nothing presses").format(word=word))
            continue
        text = (
            f"{word}: {tell(float(curve.cycle.contact[at]), Kind.FORCE, style)}, {tell(pressure, Kind.STRESS, style)}"
        )
        if curve.film_ratio is not None and np.isfinite(curve.film_ratio[at]):
            text += tr(", film ratio {ratio}").format(ratio=f"{float(curve.film_ratio[at]):.2f}")
        parts.append(text)
    return "; ".join(parts) + "."


def contact_rows(line: LineAnalysis, style: Style) -> list[list[str]]:
    """The data behind the picture."""
    units = {kind: display_unit(kind, style) for kind in (Kind.FORCE, Kind.STRESS, Kind.FILM)}
    heads: list[str] = ["cam_deg"]
    columns: list[Floats | None] = []
    curves = curves_of(line)
    for word, curve, _ in curves:
        key = "idle" if word == tr("idling") else "limit"
        heads += [f"{key}_force_{units[Kind.FORCE]}", f"{key}_pressure_{units[Kind.STRESS]}",
                  f"{key}_film_{units[Kind.FILM]}", f"{key}_film_ratio"]  # fmt: skip
        film = None if curve.film is None else to_display(curve.film, Kind.FILM, style)
        columns += [to_display(curve.cycle.contact, Kind.FORCE, style), to_display(curve.pressure, Kind.STRESS, style)]
        columns += [film, curve.film_ratio]
    if not curves:
        return [heads]
    degrees = np.degrees(curves[0][1].cycle.angles)
    return [heads] + [
        [f"{degree:.1f}", *(_cell(each, place) for each in columns)] for place, degree in enumerate(degrees)
    ]


def _cell(values: Floats | None, place: int) -> str:
    return "" if values is None or not np.isfinite(values[place]) else f"{values[place]:.9g}"
