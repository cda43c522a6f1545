"""The table of the motion's figures beneath the pictures, and the formula pane that opens on each."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QPoint
from typing_extensions import override

from loadbench.analysis.figure import told
from ui.motion.wording import tr
from ui.spring.coil_formula import CoilFormulaPane
from ui.spring.coil_rows import Cell, Figures, Row
from ui.spring.coil_table import CoilTable
from ui.widgets.key_figures import waits_for
from ui.widgets.unbroken import as_typed

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from PySide6.QtWidgets import QWidget

    from loadbench.analysis.figure import Figure
    from loadbench.units import Style
    from ui.session import Session

GROUPS: dict[str, tuple[str, ...]] = {
    "dynamic": (
        "onset_speed", "least_contact_force", "greatest_contact_force", "seating_speed", "surge_load",
        "open_load_loss", "lift_loss", "loft",
    ),
    "balance": (
        "separation_speed", "float_margin", "least_force_rigid", "greatest_force_idle", "greatest_force_limit",
    ),
    "masses": ("valve_side_mass", "referred_mass"),
    "pushrod": ("pushrod_load", "pushrod_buckling_load", "pushrod_factor", "pushrod_stress"),
    "lobe": ("greatest_pressure_angle", "least_cam_radius", "hollow_radius", "face_needed", "design_valve_lift",
        "design_ramp_height"),
}  # fmt: skip
"""The figures of the motion, by the group that they are told in."""


def group_word(group: str) -> str:
    """What a group is called."""
    words = {
        "dynamic": tr("Dynamic run"),
        "balance": tr("Force balance"),
        "masses": tr("Masses"),
        "pushrod": tr("Pushrod"),
        "lobe": tr("Lobe"),
    }
    return words[group]


def rows_of(
    figures: Mapping[str, Figure], groups: Sequence[str], style: Style, full: Mapping[str, Figure] | None = None
) -> Figures:
    """The table of some groups; figures that the line does not have are left out.

    Args:
        figures: of the line and of its dynamic run.
        groups: of GROUPS, in order.
        style: the units on show.
        full: of the run with the follower as a mass of its own, beside the other; then only what both have.
    """
    rows: list[Row] = []
    for group in groups:
        own = [figures[name] for name in GROUPS[group] if name in figures and (full is None or name in full)]
        if own:
            more = [() if full is None else (full[figure.name],) for figure in own]
            told_rows = (_row((figure, *others), style) for figure, others in zip(own, more, strict=True))
            rows += [Row(group, group_word(group)), *told_rows]
    heads = (tr("Value"),) if full is None else (tr("One mass"), tr("Full"))
    return Figures(coils=heads, rows=tuple(rows))


def _row(figures: tuple[Figure, ...], style: Style) -> Row:
    cells = tuple(_cell(figure, style) for figure in figures)
    notes = [note for cell, figure in zip(cells, figures, strict=True) for note in (cell.waits_for, figure.note)]
    first = figures[0]
    note = "; ".join(as_typed(each) for each in dict.fromkeys(filter(None, notes)))
    return Row(first.name, QCoreApplication.translate("Figures", first.label), cells, note)


def _cell(figure: Figure, style: Style) -> Cell:
    if figure.value is None:
        return Cell(None, waits_for(figure) if figure.missing or not figure.note else "")
    return Cell(told(figure.value, figure.kind, style, figure.expanded), "")


class MotionFormulaPane(CoilFormulaPane):
    """Looks a figure up in the last dynamic run first, then in the line."""

    figures: Mapping[str, Figure] = {}
    column = ""  # of the table, that it was opened in

    @property
    @override
    def figure(self) -> Figure | None:
        return self.figures.get(self.name) or super().figure


class FigureTable(CoilTable):
    """Label, value and note of each figure. Enter or a double click opens its formula."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.setObjectName("motion_table")
        self.setAccessibleName(self.tr("Figures of the motion"))
        self._dynamic: Mapping[str, Figure] = {}
        self._full: Mapping[str, Figure] = {}

    def show_motion(
        self,
        line: Mapping[str, Figure],
        dynamic: Mapping[str, Figure],
        groups: Sequence[str],
        full: Mapping[str, Figure] | None = None,
    ) -> None:
        """Show figures in these groups.

        Args:
            line: the figures of the line.
            dynamic: those of its last dynamic run.
            groups: of GROUPS, in order.
            full: those of the full sweep, where it is looked at.
        """
        self._dynamic, self._full = dynamic, full or {}
        if isinstance(self.pane, MotionFormulaPane):
            self.pane.figures = self._of(self.pane.column)
        current = self.currentIndex()
        place = (current.row(), current.column())
        if not self.figures.show_figures(rows_of({**line, **dynamic}, groups, self.session.style, full)):
            return
        self.clearSpans()
        columns = self.figures.columnCount()
        for row, each in enumerate(self.figures.figures.rows):
            if each.heading and columns > 1:
                self.setSpan(row, 0, 1, columns)
        self._size_columns()
        self._go_back(*place)

    @override
    def _size_columns(self) -> None:
        if self.figures.figures.rows:  # none before the first sweep
            super()._size_columns()

    def _of(self, column: str) -> Mapping[str, Figure]:
        """The figures of a column."""
        heads = self.figures.figures.coils
        return self._full if len(heads) > 1 and column == heads[-1] else self._dynamic

    @override
    def open_formula(self, coil: str, name: str) -> CoilFormulaPane:
        if self.pane is None:
            self.pane = MotionFormulaPane(self.session, self)
            self.pane.field_wanted.connect(self.field_wanted)
        if isinstance(self.pane, MotionFormulaPane):
            self.pane.column, self.pane.figures = coil, self._of(coil)
        self.pane.show_coil_figure("", name)
        self.pane.resize(self.pane.sizeHint())
        corner = self.mapToGlobal(QPoint(self.columnWidth(0), -self.pane.height() - 4))
        screen = self.screen().availableGeometry()
        x = max(screen.left(), min(corner.x(), screen.right() - self.pane.width()))
        self.pane.move(x, max(screen.top(), corner.y()))
        self.pane.show()
        return self.pane
