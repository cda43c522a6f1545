"""Which rows of a printout are its header: one row, a row of heights over or under it, groups, a unit row."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from loadbench.readings.printout.cells import Row
from loadbench.readings.printout.headers import HeaderCell, read_header, unit_of_word
from loadbench.readings.printout.meaning import Meaning
from loadbench.readings.printout.numbers_in import is_missing
from loadbench.readings.printout.spring_names import heading
from loadbench.readings.printout.words import UNIT, folded
from loadbench.units import Kind

DEEPEST = 4
_ENOUGH = 1.3  # one head word and something more


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """The header rows by their index: from `top` to `bottom`, the row of units, and what labels a row of heights."""

    top: int
    bottom: int
    unit_row: int | None = None
    label: str = ""
    label_place: tuple[int, int] | None = None


def is_number_like(cell: str) -> bool:
    """Whether a cell begins like a number."""
    return cell[:1].isdigit() or (cell[:1] in "+-.," and cell[1:2].isdigit())


def is_data(row: Row) -> bool:
    """Whether a row could be one of readings: two cells or more, one of them a number."""
    return sum(map(bool, row.cells)) > 1 and any(map(is_number_like, row.cells))


def _score(row: Row) -> float:
    """How much a row looks like a header; zero where it does not."""
    told = [cell for cell in row.cells if not is_missing(cell)]
    read = [read_header(cell) for cell in told]
    strong = [cell for cell in read if cell.strong and cell.meaning is not None]
    if len(told) < 2 or not strong:
        return 0.0
    strange = sum(cell.meaning is None and not cell.number for cell in read)
    return 0.0 if 2 * strange > len(told) else sum(map(_worth, read))


def _worth(cell: HeaderCell) -> float:
    if cell.meaning is None:
        return 0.3 if cell.number else 0.0
    if not cell.strong:
        return 0.4
    if cell.meaning is Meaning.NOTHING:
        return 0.3
    return 0.6 if cell.unknown else 1.0


def is_unit_row(row: Row) -> bool:
    """Whether a row holds nothing but units, with a word for it in front or not."""
    told = [cell for cell in row.cells if not is_missing(cell)]
    units = [cell for cell in told if unit_of_word(cell)]
    rest = [cell for cell in told if not unit_of_word(cell)]
    return bool(units) and all(folded(cell.strip(" :.()[]")) in UNIT or cell in ("#", "%") for cell in rest)


def _heights(row: Row) -> tuple[bool, int | None]:
    """Whether a row holds heights over its columns, and the place of the cell that labels them."""
    told = [(place, cell) for place, cell in enumerate(row.cells) if cell]
    numbers = [read_header(cell) for _, cell in told if is_number_like(cell)]
    words = [(place, cell) for place, cell in told if not is_number_like(cell)]
    if not numbers or not all(cell.number and not cell.unknown and not cell.strong for cell in numbers):
        return False, None
    if any(Kind.FORCE in cell.units or Kind.RATE in cell.units for cell in numbers):
        return False, None
    if not words:
        return row.cells[0] == "", None
    place, label = words[0]
    read = read_header(label)
    fits = read.meaning is Meaning.HEIGHT or (read.meaning is None and not read.number and label in ("@", "at"))
    return (len(words) == 1 and place < told[-1][0] and fits and not read.number), place


def block_at(rows: Sequence[Row]) -> Block | None:
    """The header of a printout: the row that looks most like one with data beneath it, and the rows that go with it.

    Args:
        rows: the first rows of the printout.

    Returns:
        The block; None where no row looks like a header.
    """
    best, anchor = 0.0, None
    bare = not any(map(is_data, rows))  # a header alone is told as such
    for index, row in enumerate(rows):
        score = _score(row)
        if score < _ENOUGH or score * 2 <= best:
            continue
        below = [each for each in rows[index + 1 : index + 1 + DEEPEST] if is_data(each)]
        if _heads_another(rows, index):
            continue
        score *= _share(row, below)  # a remark of two cells above a table of six is not its header
        if (below or bare) and score > best:
            best, anchor = score, index
    if anchor is None:
        anchor = _bare_heights(rows)
        if anchor is None:
            return None
    top = anchor
    while top and anchor - top < DEEPEST - 1 and _goes_above(rows[top - 1], rows[top]):
        top -= 1
    return _down(rows, top, anchor)


def _heads_another(rows: Sequence[Row], index: int) -> bool:
    """Whether a row is a spring's number right above a header: "Spring #1" over "Height, Load"."""
    found = heading(" ".join(cell for cell in rows[index].cells if cell))
    below = rows[index + 1] if index + 1 < len(rows) else None
    return found is not None and found[0].isalnum() and below is not None and _score(below) >= _ENOUGH


def _share(row: Row, below: Sequence[Row]) -> float:
    """The share of the columns beneath over which something stands."""
    widest = max((sum(map(bool, each.cells)) for each in below), default=1)
    return min(1.0, sum(map(bool, row.cells)) / widest)


def _bare_heights(rows: Sequence[Row]) -> int | None:
    """A header of heights with their units and nothing else: ", 1.900 in, 1.250 in"; or a labelled row of heights."""
    for index, row in enumerate(rows[:-1]):
        told = [read_header(cell) for cell in row.cells[1:] if cell]
        below = [read_header(cell).number_unit for cell in rows[index + 1].cells[1:] if cell]
        units = [cell.number_unit for cell in told]
        if told and all(units) and not is_number_like(row.cells[0]) and not any(below):
            return index
        found, label = _heights(row)
        if found and label is not None:
            return index
    return None


def _goes_above(row: Row, below: Row) -> bool:
    """Whether a row belongs to the header that stands right below it: heights, or groups over its columns."""
    if below.number - row.number > 2 or is_heading(row):
        return False
    if _heights(row)[0]:
        return True
    told = [(place, cell) for place, cell in enumerate(row.cells) if cell]
    read = [read_header(cell) for _, cell in told]
    if not told or told[-1][0] == 0 or below.number - row.number > 1 or is_unit_row(row):
        return False
    fits = all((cell.meaning or cell.number) and not cell.unknown for cell in read)
    first = read[0].meaning if told[0][0] == 0 else None
    return fits and first in (None, Meaning.SPRING) and len(told) <= sum(map(bool, below.cells))


def _goes_below(row: Row, heads: Sequence[str]) -> bool:
    """Whether a row goes on with the header above it: more words, units, the heights of its load columns."""
    told = [(place, cell) for place, cell in enumerate(row.cells) if cell]
    if not told or is_heading(row) or is_number_like(row.cells[0]):
        return False
    if _counts_repeats(row, heads):
        return True
    read = [read_header(head) for head in _spread(heads)]
    bare = [place for place, cell in told if is_number_like(cell)]
    if bare and (
        any(cell.number or cell.meaning is Meaning.HEIGHT for cell in read) or not _names_no_spring(row, read)
    ):
        return False
    if not all(_fits_below(cell, read[place] if place < len(read) else HeaderCell()) for place, cell in told):
        return False
    return bool(bare) or any(read_header(cell).strong or unit_of_word(cell) for _, cell in told)


def _spread(heads: Sequence[str]) -> list[str]:
    """The headers with those of groups of loads over all columns of the group."""
    group, spread = "", []
    for head in heads:
        group = (head if read_header(head).meaning is Meaning.LOAD else "") if head else group
        spread.append(head or group)
    return spread


def _counts_repeats(row: Row, heads: Sequence[str]) -> bool:
    """Whether a row counts the repeats under each header of a group: 1, 2, 3, 1, 2, 3."""
    first = row.cells[0]
    if first and read_header(first).meaning is not Meaning.REPEAT:
        return False
    counts: list[int] = []
    for place, cell in enumerate(row.cells[1:], 1):
        if not cell.isdigit() or place >= len(heads):
            return False
        wanted = 1 if heads[place] else (counts[-1] + 1 if counts else 0)
        if int(cell[:4]) != wanted:
            return False
        counts.append(wanted)
    return max(counts, default=0) > 1


def _names_no_spring(row: Row, heads: Sequence[HeaderCell]) -> bool:
    """Whether no spring's number stands in a row: words or nothing where the numbers would stand."""
    places = [place for place, cell in enumerate(heads) if cell.meaning is Meaning.SPRING] or [0]
    return all(place >= len(row.cells) or not any(ch.isdigit() for ch in row.cells[place]) for place in places)


def _fits_below(cell: str, head: HeaderCell) -> bool:
    read = read_header(cell)
    if is_number_like(cell):
        return head.meaning is Meaning.LOAD and bool(read.number) and not read.unknown and not read.strong
    return (read.meaning is not None and not read.unknown) or unit_of_word(cell) is not None or cell in ("@", "at")


def is_heading(row: Row) -> bool:
    """Whether a row is a spring's number above its readings."""
    return heading(" ".join(cell for cell in row.cells if cell)) is not None


def block_from(rows: Sequence[Row], top: int) -> Block:
    """The header that begins with a row, whatever that row looks like.

    Args:
        rows: of the printout.
        top: index of its first row.

    Returns:
        The block, with the rows beneath that go with it.
    """
    anchor, best = top, _score(rows[top])
    for index in range(top + 1, min(top + DEEPEST, len(rows))):
        if not all(_goes_above(rows[i], rows[i + 1]) for i in range(top, index)):
            break
        if _score(rows[index]) > best:
            anchor, best = index, _score(rows[index])
    return _down(rows, top, anchor)


def blocks_from(rows: Sequence[Row], top: int) -> Iterator[Block]:
    """The headers that could begin with a row, the likeliest first."""
    yield block_from(rows, top)
    for bottom in range(top, min(top + DEEPEST - 1, len(rows))):
        yield _with_label(rows, Block(top=top, bottom=bottom, unit_row=_unit_row_after(rows, bottom)))


def _unit_row_after(rows: Sequence[Row], bottom: int) -> int | None:
    below = bottom + 1
    return below if below < len(rows) and is_unit_row(rows[below]) else None


def _down(rows: Sequence[Row], top: int, anchor: int) -> Block:
    bottom, unit_row = anchor, None
    while bottom + 1 < len(rows) and bottom - anchor < DEEPEST - 1:
        row = rows[bottom + 1]
        if unit_row is None and is_unit_row(row):
            unit_row = bottom + 1
        elif not _goes_below(row, _joined(rows, range(top, bottom + 1), unit_row)):
            break
        bottom += 1
    if unit_row == bottom:
        bottom -= 1
    return _with_label(rows, Block(top=top, bottom=bottom, unit_row=unit_row))


def _with_label(rows: Sequence[Row], block: Block) -> Block:
    for index in _lines(block):
        found, place = _heights(rows[index])
        if found and place is not None:
            where = (index, place)
            label = rows[index].cells[place]
            return Block(top=block.top, bottom=block.bottom, unit_row=block.unit_row, label=label, label_place=where)
    return block


def _lines(block: Block) -> list[int]:
    return [index for index in range(block.top, block.bottom + 1) if index != block.unit_row]


def _joined(rows: Sequence[Row], indices: Sequence[int], skipped: int | None) -> list[str]:
    lines = [rows[index].cells for index in indices if index != skipped]
    width = max((len(cells) for cells in lines), default=0)
    return ["\n".join(cells[place] for cells in lines if place < len(cells) and cells[place]) for place in range(width)]


def _columns(rows: Sequence[Row], block: Block) -> list[tuple[list[str], list[str]]]:
    """For each column its own words and those of the groups to its left, from the top down."""
    lines = _lines(block)
    width = max(len(rows[index].cells) for index in lines)
    columns: list[tuple[list[str], list[str]]] = [([], []) for _ in range(width)]
    for index in lines:
        group = ""
        for place in range(width):
            cell = rows[index].cells[place] if place < len(rows[index].cells) else ""
            labels = block.label_place == (index, place)
            if cell:
                columns[place][0].append(cell)
                group = "" if labels else cell
            elif group and index < block.bottom and _told_below(rows, lines, index, place):
                columns[place][1].append(group)
    return columns


def _told_below(rows: Sequence[Row], lines: Sequence[int], index: int, place: int) -> bool:
    below = [rows[line].cells for line in lines if line > index]
    return any(place < len(cells) and cells[place] for cells in below)


_LEADING = (None, Meaning.LOAD, Meaning.HEIGHT)


def _takes_group(own: HeaderCell) -> bool:
    return own.meaning in _LEADING


def _lined(rows: Sequence[Row], block: Block) -> list[str]:
    """What stands over each column, a line for each row, a group's words first."""
    made = []
    for own, group in _columns(rows, block):
        mine = "\n".join(own)
        made.append("\n".join([*group, mine]).strip() if group and _takes_group(read_header(mine)) else mine)
    return made


def texts(rows: Sequence[Row], block: Block) -> list[str]:
    """What stands over each column, its rows joined by blanks.

    Args:
        rows: of the printout.
        block: its header.

    Returns:
        A text for each column, "" where nothing stands.
    """
    return [text.replace("\n", " ") for text in _lined(rows, block)]


def cells(rows: Sequence[Row], block: Block, width: int) -> list[HeaderCell]:
    """What the headers say, by column; the label of a row of heights is no header of its column.

    Args:
        rows: of the printout.
        block: its header.
        width: how many columns to give.

    Returns:
        One for each column.
    """
    read = [read_header(text) for text in _lined(rows, block)]
    if block.label_place is not None:
        index, place = block.label_place
        lines = [line for line in _lines(block) if line != index and place < len(rows[line].cells)]
        read[place] = read_header("\n".join(rows[line].cells[place] for line in lines).strip())
    return [*read, *[HeaderCell()] * (width - len(read))][:width]
