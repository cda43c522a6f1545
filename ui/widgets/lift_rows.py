"""The rows of a job's lift table: what is pasted with headers or more columns is read as the import reads a file."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from typing_extensions import override

from loadbench.errors import LoadBenchError
from ui.clipboard_table import text_of
from ui.widgets.rows_model import RowsModel

if TYPE_CHECKING:
    from collections.abc import Sequence

    from loadbench.units import Style

COLUMNS = 2
SIDES = ("profile_angle", "profile_side")


@dataclass(frozen=True, slots=True)
class Pasted:
    """Rows of angle and lift as typed, and what their headers say: whose degrees, and at which side."""

    rows: tuple[tuple[str, str], ...]
    angle: str | None
    side: str | None


def pasted_lift(block: list[list[str]], style: Style) -> Pasted | None:
    """A block of cells read as a lift table with headers.

    Args:
        block: rows of cells.
        style: the units of a table that states none.

    Returns:
        Its rows, those that cannot be read as they stand; None where two columns without a header go where they stand,
        or where there is no such table.
    """
    from loadbench.readings.lift_file import Wishes, read_lift_text

    try:
        found = read_lift_text(text_of(block), Wishes(style=style))
    except LoadBenchError:
        return None
    if not found.headers and found.grid.width <= COLUMNS:
        return None
    read = dict(zip(found.places, found.rows, strict=True))
    last = found.headers[-1].number if found.headers else 0
    rows = []
    for row in found.grid.rows:
        if row.number > last:
            cells = (*row.cells, "", "")
            raw = tuple(cells[place] if place < len(cells) else "" for place in (found.angle_column, found.lift_column))
            rows.append(read.get(row.number, (raw[0], raw[1])))
    return Pasted(tuple(rows), found.profile_angle, found.profile_side)


class LiftRowsModel(RowsModel):
    """The lift table's rows."""

    @override
    def paste(self, top: int, left: int, block: list[list[str]], rows: list[int]) -> None:
        """A block with headers is a table; without any, its cells go where they stand."""
        own = self.session.state.analysis.stated.style or self.session.style
        found = pasted_lift(block, own) if left == 0 else None
        if found is None:
            super().paste(top, left, block, rows)
            return
        before = [self._row_tree(row) for row in range(len(self._rows))]
        tree: list[Sequence[Any]] = [*before[:top], *found.rows, *before[top + len(found.rows) :]]
        whole = tuple(
            tuple(self._stored(column, cell or "") for column, cell in enumerate(cells)) for cells in tree if any(cells)
        )
        field = self.session.own_field
        changes: dict[str, object] = {field(self.field): whole}
        above = self.field.rpartition(".")[0]
        for name, said in zip(SIDES, (found.angle, found.side), strict=True):
            if said is not None:
                changes[field(f"{above}.{name}")] = said
        self._kept = {}
        self.session.set_fields(self.tr("paste lift table"), changes)
        self.session.announce(self.tr("%n row(s) of lift taken; the table was read as a whole.", "", len(found.rows)))
