"""Where a printout's table stands: its header rows, its unit row, its first row of data."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from loadbench.readings.printout import header_rows as h
from loadbench.readings.printout.cells import Grid, Row, Separator
from loadbench.readings.printout.guidance import FOUND, Guidance, header_key, matched
from loadbench.readings.printout.headers import HeaderCell, read_header
from loadbench.readings.printout.spring_names import heading

SEARCHED = 300
ONE_DIGIT = str.maketrans("123456789", "0" * 9)


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A printout as a table.

    `headers` is the text over each column, `cells` what it says, `units` the unit row's cells ("" where there is
    none). `label` is what stands before the heights of a row of heights ("Height (in)"). `above` are the rows before
    the table, `body` those from the first row of data on. `printed` are the rows to skip where they come again.
    """

    headers: tuple[str, ...]
    cells: tuple[HeaderCell, ...]
    units: tuple[str, ...]
    label: HeaderCell
    above: tuple[Row, ...]
    body: tuple[Row, ...]
    printed: frozenset[tuple[str, ...]]
    header_row: int | None
    unit_row: int | None
    first_row: int | None

    @property
    def width(self) -> int:
        """How many columns there are."""
        return len(self.headers)


def table_of(grid: Grid, guidance: Guidance) -> Table:
    """Find the table in a printout.

    Args:
        grid: the printout's cells.
        guidance: rows that are said beforehand, and headers to look for.

    Returns:
        The table; one without headers where no row looks like them.
    """
    rows = _level(list(grid.rows), grid.separator)
    block = _block(rows, guidance)
    return _table(rows, _shifted(guidance, block, rows), block)


def _level(rows: list[Row], separator: Separator | None) -> list[Row]:
    """Rows of columns of blanks with their cells where they belong, by the place of their letters."""
    if separator is not Separator.BLANKS:
        return rows
    counts = Counter(len(row.cells) for row in rows if sum(cell[:1].isdigit() for cell in row.cells) > 1)
    if not counts or counts.most_common(1)[0][0] < 2:
        return rows
    width = counts.most_common(1)[0][0]
    rows = _joined(rows, width)
    width = max(len(row.cells) for row in rows if len(row.cells) <= width)
    full = [row for row in rows if len(row.cells) == width]
    starts = [min(row.columns[place] for row in full) for place in range(width)]
    ends = [max(row.columns[place] + len(row.cells[place]) for row in full) for place in range(width)]
    return [row if not 1 < len(row.cells) < width else _placed(row, starts, ends) for row in rows]


def _joined(rows: list[Row], width: int) -> list[Row]:
    """Rows without the columns that no row of data fills and whose words go on with those of the column before."""
    data = [row for row in rows if len(row.cells) == width and h.is_data(row) and not h.is_heading(row)]
    empty = [
        place
        for place in range(1, width)
        if not any(row.cells[place] for row in data) and all(_goes_on(row, place) for row in rows)
    ]
    if not data or not empty:
        return rows
    return [row if len(row.cells) != width else _without(row, empty) for row in rows]


def _goes_on(row: Row, place: int) -> bool:
    """Whether a row's cell is blank, or stands one blank behind the cell before it."""
    if place >= len(row.cells) or not row.cells[place]:
        return True
    before = row.cells[place - 1]
    return bool(before) and row.columns[place] - row.columns[place - 1] - len(before) <= 1


def _without(row: Row, empty: list[int]) -> Row:
    cells: list[str] = []
    columns: list[int] = []
    for place, (cell, column) in enumerate(zip(row.cells, row.columns, strict=True)):
        if place in empty:
            cells[-1] = f"{cells[-1]} {cell}".strip()
        else:
            cells.append(cell)
            columns.append(column)
    return replace(row, cells=tuple(cells), columns=tuple(columns))


def _placed(row: Row, starts: list[int], ends: list[int]) -> Row:
    """The cells of a short row under the columns whose letters they stand among."""
    cells, columns, least = [""] * len(starts), list(starts), 0
    for index, (cell, column) in enumerate(zip(row.cells, row.columns, strict=True)):
        last = len(starts) - (len(row.cells) - index)
        if least > last:
            return row
        end = column + len(cell)
        shared = [min(end, ends[place]) - max(column, starts[place]) for place in range(least, last + 1)]
        place = least + shared.index(max(shared))
        cells[place], columns[place], least = cell, column, place + 1
    return replace(row, cells=tuple(cells), columns=tuple(columns))


def _block(rows: list[Row], guidance: Guidance) -> h.Block | None:
    """The header rows: as said, else where the wanted headers stand, else the row that looks most like them."""
    searched = rows[:SEARCHED]
    if guidance.headers:
        found = _by_headers(searched, guidance)
        if found is not None:
            return found
    elif guidance.header_row is None:
        return None
    elif guidance.header_row is not FOUND:
        top = next((index for index, row in enumerate(rows) if row.number >= guidance.header_row), None)
        return None if top is None else h.block_from(rows, top)
    return h.block_at(searched)


def _by_headers(rows: list[Row], guidance: Guidance) -> h.Block | None:
    """The block over whose columns most of the wanted headers stand; the first and shortest of equal ones."""
    wanted = set(header_key(" ".join(guidance.headers)).split())
    best: tuple[int, h.Block] | None = None
    guides = [guide for guide in guidance.columns if guide.header]
    for top, row in enumerate(rows):
        if not wanted & set(header_key(" ".join(row.cells)).split()):
            continue
        for block in h.blocks_from(rows, top):
            headers = h.texts(rows, block)
            count = len(matched(guides, headers, by_header=True).guides)
            if count and (best is None or count > best[0]):
                best = count, block
        if best is not None and best[0] == len(guides):
            break
    return best[1] if best else None


def _shifted(guidance: Guidance, block: h.Block | None, rows: list[Row]) -> Guidance:
    """A recipe's rows, moved as far as this printout's header stands from the recipe's."""
    said = guidance.header_row
    if not guidance.by_header or block is None or not isinstance(said, int):
        return guidance
    by = rows[block.top].number - said
    unit = guidance.unit_row + by if isinstance(guidance.unit_row, int) else guidance.unit_row
    first = guidance.first_row + by if isinstance(guidance.first_row, int) else guidance.first_row
    return replace(guidance, unit_row=unit, first_row=first)


def _table(rows: list[Row], guidance: Guidance, block: h.Block | None) -> Table:
    after = 0 if block is None else max(block.bottom, -1 if block.unit_row is None else block.unit_row) + 1
    unit_index = None if block is None else block.unit_row
    if guidance.unit_row is not FOUND:
        unit_index = next((i for i, row in enumerate(rows) if row.number == guidance.unit_row), None)
        after = after if unit_index is None else max(after, unit_index + 1)
    if isinstance(guidance.first_row, int):
        first = guidance.first_row
        after = next((i for i, row in enumerate(rows) if row.number >= first), len(rows))
    elif block is None and unit_index is None:
        after = next((i for i, row in enumerate(rows) if h.is_data(row)), 0)
    above = rows[: after if block is None else block.top]
    titles = {_shape(row) for row in above if _is_title(row)}
    body = [row for row in rows[after:] if _shape(row) not in titles]
    headers = [] if block is None else h.texts(rows, block)
    width = _width(headers, body)
    headers += [""] * (width - len(headers))
    read = [] if block is None else h.cells(rows, block, width)
    units = rows[unit_index].cells if unit_index is not None else ()
    own = range(0) if block is None else range(block.top, block.bottom + 1)
    return Table(
        headers=tuple(headers[:width]),
        cells=tuple(read) or (HeaderCell(),) * width,
        units=(*units, *("",) * (width - len(units)))[:width],
        label=HeaderCell() if block is None or not block.label else read_header(block.label),
        above=tuple(row for index, row in enumerate(above) if index != unit_index),
        body=tuple(body),
        printed=frozenset(rows[index].cells for index in (*own, *([] if unit_index is None else [unit_index]))),
        header_row=None if block is None else rows[block.top].number,
        unit_row=None if unit_index is None else rows[unit_index].number,
        first_row=body[0].number if body else None,
    )


def _is_title(row: Row) -> bool:
    """Whether a row above the table is words, and no spring's own heading."""
    text = " ".join(row.cells)
    return any(map(str.isalpha, text)) and heading(text) is None


def _shape(row: Row) -> str:
    """What a row says, digits alike: a title that comes again on every page differs in its page number only."""
    return " ".join(" ".join(row.cells).split()).translate(ONE_DIGIT)


def _width(headers: Sequence[str], body: Sequence[Row]) -> int:
    """As many columns as the header has; more where most rows have more."""
    counts = Counter(len(_trimmed(row.cells)) for row in body[:2000] if h.is_data(row))
    if not counts:
        return max(len(headers), 1)
    usual, times = counts.most_common(1)[0]
    if not headers:
        return max(counts)
    longer = sum(count for width, count in counts.items() if width > len(headers))
    return usual if usual > len(headers) and 2 * longer > sum(counts.values()) and times > 1 else len(headers)


def _trimmed(cells: tuple[str, ...]) -> tuple[str, ...]:
    end = len(cells)
    while end and not cells[end - 1]:
        end -= 1
    return cells[:end]
