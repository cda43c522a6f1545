"""The rows of the coil table: figures in groups, a column for each coil, what each waits for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from loadbench.analysis.coils.result import FIGURES
from loadbench.analysis.figure import told
from ui.spring.wording import tr
from ui.widgets.key_figures import DASH, waits_for
from ui.widgets.unbroken import as_typed

if TYPE_CHECKING:
    from collections.abc import Sequence

    from loadbench.analysis.coils.result import CoilAnalysis
    from loadbench.analysis.figure import Figure
    from loadbench.units import Style, Told

GROUPS: dict[str, tuple[str, ...]] = {
    "geometry": (
        "geometric_rate", "active_coils", "total_coils", "spring_index", "outer_diameter", "inner_diameter", "pitch",
        "free_height", "geometric_bind_height", "bind_load", "gap_to_next", "retainer_step_gap", "wire_mass",
        "load_tolerance", "length_tolerance", "stable_free_height",
    ),
    "stress": (
        "wahl_factor", "bergstraesser_factor", "shear_stress_seat", "shear_stress_open", "shear_stress_bind",
        "stress_range", "tensile_strength", "stress_share_seat", "stress_share_open", "stress_share_bind",
        "hot_load_share",
    ),
    "fatigue": (
        "fatigue_factor_goodman", "fatigue_factor_gerber", "fatigue_factor_sines", "en_stress_seat", "en_stress_open",
        "en_stress_range", "en_bind_share",
    ),
    "surge": ("surge_frequency", "surge_frequency_open", "surge_ratio", "moving_mass"),
}  # fmt: skip
"""Every figure of a coil, by the group that it is told in."""


def group_word(group: str) -> str:
    """What a group is called."""
    words = {
        "geometry": tr("Geometry"),
        "stress": tr("Stress"),
        "fatigue": tr("Fatigue"),
        "surge": tr("Surge"),
    }
    return words[group]


@dataclass(frozen=True, slots=True)
class Cell:
    """A coil's figure as it is told: value, else what it waits for."""

    told: Told | None
    waits_for: str

    @property
    def text(self) -> str:
        """Value, unit and uncertainty, or a dash."""
        return str(self.told).strip() if self.told is not None else DASH

    @property
    def spoken(self) -> str:
        """For a screen reader."""
        if self.told is not None:
            return self.text
        unknown = tr("unknown")
        return f"{unknown}. {self.waits_for}" if self.waits_for else unknown


@dataclass(frozen=True, slots=True)
class Row:
    """A group's heading (no cells), or a figure with a cell for each coil and a note."""

    name: str
    label: str
    cells: tuple[Cell, ...] = ()
    note: str = ""

    @property
    def heading(self) -> bool:
        """Whether it names a group."""
        return not self.cells


@dataclass(frozen=True, slots=True)
class Figures:
    """The whole table as it is told."""

    coils: tuple[str, ...]
    rows: tuple[Row, ...]


NOTHING = Figures(coils=(), rows=())


def rows_of(coils: Sequence[CoilAnalysis], groups: Sequence[str], style: Style) -> Figures:
    """The table of some groups.

    Args:
        coils: the columns.
        groups: of GROUPS, in order.
        style: the units on show.
    """
    rows = []
    for group in groups if coils else ():
        rows.append(Row(group, group_word(group)))
        rows += [_row(name, [coil.figures[name] for coil in coils], style) for name in GROUPS[group]]
    return Figures(coils=tuple(coil.name for coil in coils), rows=tuple(rows))


def _row(name: str, figures: list[Figure], style: Style) -> Row:
    cells = tuple(_cell(figure, style) for figure in figures)
    notes = [cell.waits_for for cell in cells] + [as_typed(figure.note) for figure in figures]
    note = "; ".join(dict.fromkeys(filter(None, notes)))
    return Row(name, QCoreApplication.translate("Figures", FIGURES[name][0]), cells, note)


def _cell(figure: Figure, style: Style) -> Cell:
    if figure.value is None:
        return Cell(None, waits_for(figure))
    return Cell(told(figure.value, figure.kind, style, figure.expanded), "")


def tsv_rows(figures: Figures, rows: Sequence[int] | None = None) -> list[list[str]]:
    """The table, or some of its rows, with its heads, as cells of text."""
    heads = [tr("Figure"), *figures.coils, tr("Note")]
    wanted = range(len(figures.rows)) if rows is None else rows
    return [heads] + [
        [row.label, *(cell.text for cell in row.cells), *("" for _ in figures.coils if row.heading), row.note]
        for row in (figures.rows[place] for place in wanted)
    ]
