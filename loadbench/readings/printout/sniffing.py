"""Which separator the lines of a printout agree on: each is tried, and the cells it leaves are judged."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence

from loadbench.readings.printout.blanks import blank_columns
from loadbench.readings.printout.cells import Separator
from loadbench.readings.printout.quoting import delimited
from loadbench.readings.printout.tokens import is_rule

SIGNS = {Separator.COMMA: ",", Separator.SEMICOLON: ";", Separator.TAB: "\t", Separator.BAR: "|"}
# Where two leave equally good cells, the first of them; a comma may be a decimal mark and a blank a word's end.
ORDER = (Separator.TAB, Separator.SEMICOLON, Separator.BAR, Separator.COMMA, Separator.BLANKS)
NUMBER = re.compile(
    r"[-+\u2212]?(?:\d{1,3}(?:[,'\u2019 ]\d{3})+(?:\.\d+)?|\d{1,3}(?:\.\d{3}){2,}(?:,\d+)?"
    r"|\d{1,3}\.\d{3},\d+|\d+(?:[.,]\d*)?|[.,]\d+)"
    r"(?:e[-+]?\d+)?(?:\s?(?:[a-zµ]{1,4}|[\"'%]))?",
    re.IGNORECASE,
)
FRACTION = re.compile(r"\d+[ -]\d+/\d+")
TWO_IN_ONE = re.compile(r"\d[,;|]\s*\d")
SAMPLE = 120
MOST_WIDTH = 2000
LEAST = 0.3
MISFIT = 0.85
WORDS_ALONE = 0.5
TABBED_BLANKS = 0.9
EVERY_LINE = 0.5


def likely_separator(lines: Sequence[str]) -> Separator:
    """The separator whose cells are the cleanest and whose rows are the most alike.

    Args:
        lines: those that aren't blank, with no line end.

    Returns:
        The separator; blanks where there is one column only.
    """
    sample = _sample(lines)
    rows = {one: _cells(sample, one) for one in ORDER}
    alone = sum(1 for line in sample if is_number(line.strip()))
    most = max(alone, *(len(_tabled(one)) for one in rows.values()))
    scores = {one: _score(rows[one], one, most) * _tab_share(sample, one) for one in ORDER}
    if any(_in_every_line(sample, sign) for sign in SIGNS.values()):
        scores[Separator.BLANKS] *= EVERY_LINE
    best = max(ORDER, key=scores.__getitem__)
    return best if scores[best] > LEAST else Separator.BLANKS


def _in_every_line(lines: Sequence[str], sign: str) -> bool:
    """Whether a sign stands equally often in every line, and somewhere else than amid a number in the first."""
    counts = {line.count(sign) for line in lines}
    outside = lines and re.search(rf"(?<!\d){re.escape(sign)}|{re.escape(sign)}(?!\d)", lines[0])
    return len(lines) > 1 and len(counts) == 1 and 0 not in counts and bool(outside)


def is_number(cell: str) -> bool:
    """Whether a cell is one number, with a unit or without."""
    return NUMBER.fullmatch(cell) is not None or FRACTION.match(cell) is not None


def _sample(lines: Sequence[str]) -> list[str]:
    """The first lines, and as many from the middle of a long file."""
    half = SAMPLE // 2
    middle = max(half, len(lines) // 2)
    seen = (line[:MOST_WIDTH] for line in [*lines[:half], *lines[middle : middle + half]])
    return [line for line in seen if not line.isspace()]


def _tabled(rows: list[list[str]]) -> list[int]:
    """The places of the rows with several cells, one of them a number; if none has a number, with several cells."""
    several = [place for place, cells in enumerate(rows) if len(cells) > 1]
    return [place for place in several if any(map(is_number, rows[place]))] or several


def _score(rows: list[list[str]], separator: Separator, most: int) -> float:
    """How well a separator fits, 0 to 1: the share of rows that are alike, times how clean their cells are.

    Args:
        rows: the cells that it leaves.
        separator: which it is.
        most: how many rows of a table any separator finds.
    """
    if not (tabled := _tabled(rows)):
        return 0.0
    widths = Counter(len(rows[place]) for place in tabled)
    width, alike = max(widths.items(), key=lambda item: (item[1], -item[0]))
    clean = [_cleanness(cell, separator) for place in tabled for cell in rows[place] if cell]
    score = alike / most * sum(clean) / max(len(clean), 1)
    if not any(map(is_number, rows[tabled[0]])):
        score *= WORDS_ALONE
    return score * _header_fit(rows, tabled, width, separator)


def _cells(lines: list[str], separator: Separator) -> list[list[str]]:
    if separator is Separator.BLANKS:
        drawn = [line for line in lines if not is_rule([line.strip()])]
        return [list(row.cells) for row in blank_columns(list(enumerate(drawn, 1)))]
    return [cells for _, cells in delimited(lines, SIGNS[separator]) if any(cells) and not is_rule(cells)]


def _cleanness(cell: str, separator: Separator) -> float:
    """How much a cell looks like one value: 1 for a number or a word, 0 for two values stuck together."""
    if (len(cell) > 1 and cell[-1] in ",;") or any(sign in cell for sign in "\t;|" if sign != SIGNS.get(separator)):
        return 0.0
    if is_number(cell):
        # A blank for thousands may as well be the blank between two columns.
        return 0.5 if re.search(r"\d \d", cell) and not FRACTION.match(cell) else 1.0
    if TWO_IN_ONE.search(cell) or "  " in cell:
        return 0.3
    return 0.5 if re.search(r"\d \d", cell) else 1.0


def _header_fit(rows: list[list[str]], tabled: list[int], width: int, separator: Separator) -> float:
    """Less than 1 where the row over the table is not as wide as the table."""
    if tabled[0] == 0 or (over := len(rows[tabled[0] - 1])) == width:
        return 1.0
    return MISFIT if over > 1 or separator is Separator.COMMA else 1.0


def _tab_share(lines: list[str], separator: Separator) -> float:
    """Blanks are not taken where the lines hold tabs, unless several tabs in a row line the columns up."""
    tabbed = [line for line in lines if "\t" in line.strip()]
    if separator is not Separator.BLANKS or 2 * len(tabbed) <= len(lines):
        return 1.0
    return TABBED_BLANKS if any("\t\t" in line for line in tabbed) else TABBED_BLANKS / 2
