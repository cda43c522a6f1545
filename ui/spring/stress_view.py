"""The stress picture of a spring: modified Goodman and Haigh side by side over the same mean stresses."""

from __future__ import annotations

from typing import TYPE_CHECKING

from typing_extensions import override

from loadbench.units import Kind, step, to_display
from ui.spring.chart_picture import ChartPicture
from ui.spring.chart_scale import ChartScale
from ui.spring.stress_charts import stress_picture
from ui.spring.stress_rows import stress_rows
from ui.spring.stress_sight import Sight, read_at, sight_of

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from loadbench.analysis.coils.result import CoilAnalysis
    from loadbench.units import Style
    from ui.session import Session
    from ui.spring.chart import Told
    from ui.state import State


class StressView(ChartPicture):
    """Will the wire last? The chosen spring's stresses between the lines that bound them."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        self.coils: tuple[CoilAnalysis, ...] = ()
        self.sight: Sight | None = None
        super().__init__(session, ChartScale("stress_picture", 2), "stress", parent)

    @override
    def build(self, state: State, line: str, member: str | None, style: Style) -> Told:
        return self.build_of(state.analysis.line(line).coils, member, style)

    def build_of(self, coils: tuple[CoilAnalysis, ...], member: str | None, style: Style) -> Told:
        """The picture of springs that are already computed."""
        self.coils, self.sight = coils, sight_of(coils, member, style)
        return stress_picture(coils, member, style)

    @override
    def read_at(self, place: float) -> str:
        return "" if self.sight is None or place < 0 else read_at(self.sight, place)

    @override
    def stride(self) -> float:
        return to_display(step(Kind.STRESS, self.session.style), Kind.STRESS, self.session.style)

    @override
    def rows(self) -> list[list[str]]:
        return stress_rows(self.coils, self.session.style)

    @override
    def title(self) -> str:
        return self.tr("Stress picture")
