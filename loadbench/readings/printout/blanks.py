"""Columns of blanks: which characters of a printout stand in which column, from where its rows are blank.

The columns are where the rows of figures hold blanks one under the other. Where the rows are not lined up, two blanks
or more part the cells, or else any blank. A header's words go to the columns that they stand over.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from loadbench.readings.printout.blank_headings import heading, nearest_column
from loadbench.readings.printout.cells import Row
from loadbench.readings.printout.tokens import HEAD, PHRASE, WORD, Spans, Token, is_figure, numbers_apart, tokens_in

MOST_WIDTH = 2000
MOST_PHRASES = 200
SAMPLE = 4000
NEARLY_ALL = 0.95
HEADER_LINES = 3
# Lines that differ in their digits alone are split alike; most rows of a long file have a shape seen before.
DIGITS = str.maketrans("123456789", "0" * 9)

Numbered = tuple[int, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Block:
    """The lines from the first row of figures to the last; `first` and `last` are places in the list of lines.

    `near` are the places of the lines with as many numbers as a row has, titles and means among them.
    """

    first: int
    last: int
    figures: tuple[str, ...]
    near: frozenset[int] = frozenset()


def blank_columns(lines: Sequence[Numbered]) -> list[Row]:
    """Split lines into the columns that they stand in.

    Args:
        lines: number and text of each line, none blank and none a rule of dashes.

    Returns:
        A row a line. Rows of the table have a cell for each column, empty where none stands; a title has one cell.
        The columns are characters, from 1.
    """
    if not lines:
        return []
    flat = [(number, line.expandtabs(8).replace("\xa0\xa0", "  ").rstrip()) for number, line in lines]
    block = _block([line for _, line in flat])
    spans = _aligned(block, [line for _, line in flat[max(0, block.first - HEADER_LINES) : block.first]])
    block = _grown(block, [line for _, line in flat], spans)
    table = [line for _, line in flat[block.first : block.last + 1]]
    spans = _with_notes(spans, table) if len(spans) <= MOST_PHRASES else []
    if len(spans) > 1 and _share_clean(table, spans) >= NEARLY_ALL:
        return list(_rows_in_columns(flat, block, spans))
    for pattern in (PHRASE, WORD):
        width = _usual_width(block.figures, pattern)
        if width > 1:
            return list(_rows_apart(flat, block, pattern, width))
    if len(spans) > 1:
        return list(_rows_in_columns(flat, block, spans))
    return [_titled(number, line) for number, line in flat]


def _block(lines: list[str]) -> _Block:
    """The rows of figures: those with about as many numbers as most, and no more words than most of these."""
    shapes = [line.translate(DIGITS) for line in lines]
    known = {shape: _counts(shape) for shape in set(shapes)}
    counts = [known[shape] for shape in shapes]
    usual = Counter(figures for figures, _ in counts if figures)
    if not usual:
        return _Block(first=0, last=len(lines) - 1, figures=tuple(line[:MOST_WIDTH] for line in lines[:SAMPLE]))
    top = max(usual.items(), key=lambda item: (item[1], item[0]))[0]
    enough = [place for place, (figures, _) in enumerate(counts) if 2 * figures >= top and figures]
    words = Counter(counts[place][1] for place in enough if counts[place][0] == top)
    typical = max(words.items(), key=lambda item: (item[1], -item[0]))[0]
    sure = [place for place in enough if counts[place][1] <= typical]
    first, last = (sure[0], sure[-1]) if sure else (enough[0], enough[-1])
    # A header that comes again on every page holds numbers too, but more words than the rows.
    figures = [lines[place][:MOST_WIDTH] for place in sure or enough if first <= place <= last] or [""]
    return _Block(first=first, last=last, figures=tuple(figures[:: len(figures) // SAMPLE + 1]), near=frozenset(enough))


def _counts(line: str) -> tuple[int, int]:
    """How many numbers and how many other words a line holds; none where it is longer than any row of columns."""
    if len(line) > MOST_WIDTH:
        return 0, 0
    words = WORD.findall(line)
    figures = sum(map(is_figure, words))
    return figures, len(words) - figures


# Rows that are lined up


def _aligned(block: _Block, over: list[str]) -> Spans:
    """The columns: from and to (excluded) of the characters that some row of figures fills."""
    import numpy as np

    # A number and its unit are one value: the blank between them is filled before looking.
    rows = [WORD.sub(lambda word: "x" * len(word[0]), line) for line in block.figures]
    width = max(map(len, rows))
    letters = np.frombuffer("".join(row.ljust(width) for row in rows).encode("latin-1", "replace"), dtype=np.uint8)
    filled = (letters.reshape(len(rows), width) != ord(" ")).sum(axis=0)
    spans: Spans = []
    for spared in (0, int((1 - NEARLY_ALL) * len(rows))):
        edges = np.flatnonzero(np.diff(np.concatenate(([0], (filled > spared).astype(np.int8), [0]))))
        spans = [(int(a), int(b)) for a, b in zip(edges[::2], edges[1::2], strict=True)]
        if spared == 0 and _share_clean(block.figures, spans) >= NEARLY_ALL:
            break
    return _rejoined(spans, block.figures, over)


def _rejoined(spans: Spans, figures: Sequence[str], over: list[str]) -> Spans:
    """The columns without the gaps of one blank within a name ("Spring 1"), as the header shows them."""
    weak = [place for place in range(1, len(spans)) if _is_weak(spans, place, figures)]
    if not weak or not over or len(weak) == len(spans) - 1:
        return spans
    phrases, words = (len(pattern.findall(over[-1])) for pattern in (PHRASE, WORD))
    if phrases != len(spans) - len(weak):
        if words == len(spans):
            return spans
        weak = [place for place in weak if not _headed_apart(over[-1], spans[place - 1], spans[place])]
    joined: Spans = []
    for place, span in enumerate(spans):
        if place in weak:
            joined[-1] = (joined[-1][0], span[1])
        else:
            joined.append(span)
    return joined


def _is_weak(spans: Spans, place: int, figures: Sequence[str]) -> bool:
    """Whether the gap before a column is one blank wide and has something else than numbers at a side."""
    (start, end), (after, stop) = spans[place - 1], spans[place]
    if after - end != 1:
        return False
    sides = ([line[start:end].strip() for line in figures], [line[after:stop].strip() for line in figures])
    return any(2 * sum(map(is_figure, side)) < sum(map(bool, side)) for side in sides)


def _headed_apart(header: str, left: tuple[int, int], right: tuple[int, int]) -> bool:
    """Whether the header too is blank at a gap, with words on both sides."""
    return not header[left[1] : right[0]].strip() and all(header[a:b].strip() for a, b in (left, right))


def _grown(block: _Block, lines: list[str], spans: Spans) -> _Block:
    """The block with the lines next to it that fit its columns in spite of their many words: rows with a note."""
    cut = _cutter(spans)

    def fits(place: int) -> bool:
        cells = cut(lines[place]) if place in block.near else None
        return cells is not None and not any(map(numbers_apart, cells))

    first, last = block.first, block.last
    while len(spans) > 1 and first > 0 and fits(first - 1):
        first -= 1
    while len(spans) > 1 and fits(last + 1):
        last += 1
    return replace(block, first=first, last=last)


def _with_notes(spans: Spans, table: Sequence[str]) -> Spans:
    """The columns, and one for notes where some rows have text two blanks or more beyond the last."""
    end = spans[-1][1] if spans else 0
    beyond = [line[end:] for line in table if line[end : end + 2] == "  "]
    if not spans or not beyond:
        return spans
    start = end + min(len(one) - len(one.lstrip()) for one in beyond)
    return [*spans, (start, max(map(len, table)))]


def _share_clean(lines: Sequence[str], spans: Spans) -> float:
    """The share of rows in which no column holds two numbers and none runs over a gap."""
    sample = lines[:: len(lines) // 500 + 1]
    cut = _cutter(spans)
    good = sum(
        1 for line in sample if (cells := cut(line)) is not None and not any(numbers_apart(cell) for cell in cells)
    )
    return good / max(len(sample), 1)


def _cutter(spans: Spans) -> Callable[[str], list[str] | None]:
    """What cuts a line amid the gaps: its cells, not stripped; None for a line with a character there."""
    cuts = [0, *((a[1] + b[0]) // 2 for a, b in pairwise(spans))]
    slices = [slice(*one) for one in pairwise([*cuts, None])]

    def cut(line: str) -> list[str] | None:
        if any(line[place : place + 1].strip() for place in cuts[1:]):
            return None
        return [line[one] for one in slices]

    return cut


def _rows_in_columns(lines: Sequence[Numbered], block: _Block, spans: Spans) -> Iterator[Row]:
    cut, starts = _cutter(spans), [0, *((a[1] + b[0]) // 2 for a, b in pairwise(spans))]
    known: dict[str, tuple[list[slice], tuple[int, ...]]] = {}
    for place, (number, line) in enumerate(lines):
        shape = line.translate(DIGITS)
        if shape in known and block.first <= place <= block.last:
            slices, columns = known[shape]
            yield Row(number=number, cells=tuple([line[one] for one in slices]), columns=columns)
        elif len(line) > MOST_WIDTH:
            yield _titled(number, line)
        elif not _in_table(place, line, block):
            header = _is_header(place, line, block) or (place < block.first and _each_over_one(line, spans))
            yield _placed(number, heading(line, spans), spans) if header else _titled(number, line)
        elif (cells := cut(line)) is None:
            words = tokens_in(line, WORD)
            yield _placed(number, [(nearest_column(word, spans), word) for word in words], spans)
        else:
            texts = tuple(cell.strip() for cell in cells)
            froms = [start + len(cell) - len(cell.lstrip()) for start, cell in zip(starts, cells, strict=True)]
            columns = tuple((at if text else span[0]) + 1 for at, text, span in zip(froms, texts, spans, strict=True))
            known[shape] = [slice(at, at + len(text)) for at, text in zip(froms, texts, strict=True)], columns
            yield Row(number=number, cells=texts, columns=columns)


def _in_table(place: int, line: str, block: _Block) -> bool:
    """Whether a line is a row of the table: one among the figures that holds a number or a single word."""
    return block.first <= place <= block.last and (_counts(line)[0] > 0 or len(line.split()) == 1)


def _is_header(place: int, line: str, block: _Block) -> bool:
    """Whether a line may be a header: right above the table, or of several phrases not far above, within or below."""
    return place == block.first - 1 or (
        place >= block.first - HEADER_LINES and 1 < len(PHRASE.findall(line)) <= MOST_PHRASES
    )


def _each_over_one(line: str, spans: Spans) -> bool:
    """Whether a line has one word over each column, single blanks between or not, and a number among them."""
    words = tokens_in(line, WORD)
    own = [nearest_column(word, spans) for word in words] == list(range(len(spans)))
    return own and any(is_figure(word.text) for word in words)


def _placed(number: int, tokens: Sequence[tuple[int, Token]], spans: Spans) -> Row:
    """A row whose words are known by their columns; words in one column are joined by a blank."""
    cells = [""] * len(spans)
    columns = [start + 1 for start, _ in spans]
    for column, token in tokens:
        if not cells[column]:
            columns[column] = token.start + 1
        cells[column] = f"{cells[column]} {token.text}".strip()
    return Row(number=number, cells=tuple(cells), columns=tuple(columns))


def _titled(number: int, line: str) -> Row:
    return Row(number=number, cells=(line.strip(),), columns=(len(line) - len(line.lstrip()) + 1,))


# Rows that are not lined up


def _usual_width(figures: Sequence[str], pattern: re.Pattern[str]) -> int:
    """How many cells nearly all rows have; 0 where they differ, or where a cell holds two numbers."""
    split = [pattern.findall(line) for line in figures]
    width, count = Counter(map(len, split)).most_common(1)[0]
    alike = [cells for cells in split if len(cells) == width]
    clean = sum(1 for cells in alike if not any(map(numbers_apart, cells)))
    needed = NEARLY_ALL if pattern is PHRASE else 0.5
    return width if min(count, clean) >= needed * len(split) else 0


def _rows_apart(lines: Sequence[Numbered], block: _Block, pattern: re.Pattern[str], width: int) -> Iterator[Row]:
    for place, (number, line) in enumerate(lines):
        if len(line) > MOST_WIDTH:
            yield _titled(number, line)
            continue
        found = list(pattern.finditer(line))
        if not block.first <= place <= block.last and len(found) != width:
            ways = [list(one.finditer(line)) for one in (WORD, PHRASE, HEAD)]
            if all(len(way) != width for way in ways) and not _is_header(place, line, block):
                yield _titled(number, line)
                continue
            found = next((way for way in ways if len(way) == width), ways[1])
        yield Row(number=number, cells=tuple(one[0] for one in found), columns=tuple(one.start() + 1 for one in found))
