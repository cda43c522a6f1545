"""A block from a spreadsheet read as a slip: heights from its first row where that holds them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from statistics import median
from typing import TYPE_CHECKING

from ui.slip.columns import Column, column_in

if TYPE_CHECKING:
    from loadbench.units import Style

ID_HEADS = ("", "spring", "spring number", "no", "no.", "nr", "number", "id", "#", "valve", "s/n")
MARK_HEADS = ("mark", "note", "notes", "remark")
SENSIBLE = (0.008, 0.12)  # m: between these a bare number in the first row can be the height of a valve spring
APART = 4.0  # loads stand this many times above the number of a bare height, in either family of units

Target = Column | str | None  # a height, "id", "mark", or left out


@dataclass(frozen=True, slots=True)
class Block:
    """What is in a block: the target of each of its columns where it has heads, and its rows."""

    targets: tuple[Target, ...] | None
    rows: list[list[str]]
    left_out: tuple[str, ...] = ()


def block_of(cells: list[list[str]], style: Style, own: dict[str, str] | None = None) -> Block:
    """Read a block.

    Args:
        cells: rows of text.
        style: the units on show: of bare heights.
        own: further heads known, in small letters -> "id", "mark" or "" for what is computed anyway.

    Returns:
        Without a row of heads, the rows as they are.
    """
    if len(cells) < 2:
        return Block(None, cells)
    heads = [_target(head, style, own or {}) for head in cells[0]]
    heights = [place for place, head in enumerate(heads) if isinstance(head, Column)]
    if not heights or not all(_is_height(cells, place, heads[place]) for place in heights):
        return Block(None, cells)
    first = heights[0]
    targets: list[Target] = [
        "id" if head is None and place == 0 and first > 0 else head for place, head in enumerate(heads)
    ]
    left = tuple(cells[0][place] for place, head in enumerate(targets) if head is None and cells[0][place])
    return Block(tuple(_repeats(targets)), cells[1:], left)


def _target(head: str, style: Style, own: dict[str, str]) -> Target:
    plain = head.strip().lower()
    if plain in own:
        return own[plain]
    if plain in MARK_HEADS:
        return "mark"
    if plain in ID_HEADS:
        return "id" if plain else None
    return column_in(head, style)


def _is_height(cells: list[list[str]], place: int, column: Target) -> bool:
    """Whether the first row's cell is a height and not a load: it says so, or stands far below its column."""
    if not isinstance(column, Column) or column.height is None:
        return False
    if any(unit in cells[0][place].lower() for unit in ("in", "mm", '"', "cm", "thou")):
        return True
    numbers = [number for row in cells[1:] if place < len(row) and (number := _number(row[place])) is not None]
    top = _number(cells[0][place])
    low, high = SENSIBLE
    return bool(numbers) and top is not None and low <= column.height <= high and median(numbers) > APART * top


def _number(text: str) -> float | None:
    head = text.strip().split(" ")[0].replace(",", ".")
    try:
        return float(head)
    except ValueError:
        return None


def _repeats(targets: list[Target]) -> list[Target]:
    """Columns of one height and part, told apart as repeats."""
    seen: list[Column] = []
    told: list[Target] = []
    for target in targets:
        if isinstance(target, Column):
            while any(target.same(other) for other in seen):
                target = replace(target, repeat=target.repeat + 1)  # noqa: PLW2901 - the same column, once more
            seen.append(target)
        told.append(target)
    return told
