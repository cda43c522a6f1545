"""Every doubt of a set of readings, each fault told once, the most telling first."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from loadbench.readings.accuracy import Accuracy
from loadbench.readings.trust.flag import Flag, FlagKind, TestedSpring
from loadbench.readings.trust.moments import Mask
from loadbench.readings.trust.outliers import CHANCES, Judged, judged, odd_rates, stands_out
from loadbench.readings.trust.repeats import disagreeing, settled
from loadbench.readings.trust.set_table import UNLOADING, SetTable, tables_of
from loadbench.readings.trust.shape import bends, curved, not_rising
from loadbench.readings.trust.tester_faults import tester_faults
from loadbench.readings.trust.typed_heights import OddHeights, odd_heights, typed_height

ORDER = (
    FlagKind.TESTER_SCALE,
    FlagKind.TESTER_ZERO,
    FlagKind.HEIGHT_TYPED_WRONG,
    FlagKind.NOT_RISING,
    FlagKind.REPEAT_DISAGREES,
    FlagKind.OUTLIER,
    FlagKind.CURVED,
)
"""Most telling first: what concerns every spring, then what is surely a slip, then what may be the spring itself."""


def flags_of(
    springs: Sequence[TestedSpring], *, accuracy: Accuracy, spec: Sequence[tuple[float, float]] = ()
) -> tuple[Flag, ...]:
    """What is doubtful in a set of readings.

    Args:
        springs: as tested; a set of one to any number.
        accuracy: of the tester, as stated; a faulty one counts as not stated.
        spec: (height m, load N) points of the part's sheet, for the whole spring.

    Returns:
        The flags, most telling first; none for a clean set. Fewer than five springs can't tell an outlier.

    Source:
        iglewicz-hoaglin, rosner, gum; the rule that found it stands in each flag.
    """
    accuracy = Accuracy() if accuracy.faulty else accuracy
    tables = tables_of(springs)
    masks, repeats = disagreeing(tables, accuracy, CHANCES["repeats"])
    flags: list[Flag] = []
    ready: list[SetTable] = []
    for table, mask in zip(tables, masks, strict=True):
        steady = settled(table, mask)
        odd = odd_heights(steady, mask, accuracy)
        steady = steady.without(odd.cells)
        repeats = _without_told(repeats, table, mask & odd.cells, odd)
        flags += odd.flags
        flags += _of_table(steady, accuracy, 1 / len(tables))
        ready.append(steady)
    whole = _whole(ready)
    if whole is not None and spec:
        flags += tester_faults(whole, spec, accuracy)
    return tuple(sorted([*flags, *repeats], key=_place))


def _place(flag: Flag) -> tuple[int, float]:
    """Sets before springs, kinds in order, the clearest first."""
    clear = 0.0 if flag.value is None or not flag.limit else abs(flag.value / flag.limit)
    return ORDER.index(flag.kind) if flag.spring is not None else -1, -clear


def _without_told(repeats: tuple[Flag, ...], table: SetTable, cells: Mask, odd: OddHeights) -> tuple[Flag, ...]:
    """The repeats that disagree, less those told as a height typed wrong."""
    if not odd.flags or not np.any(cells):
        return repeats
    told = {
        (table.springs[row].id, reading.height)
        for row, column in np.argwhere(cells)
        for reading in table.in_cell(int(row), int(column))
    }
    parts = {flag.part for flag in odd.flags}
    return tuple(flag for flag in repeats if flag.part not in parts or (flag.spring, flag.height) not in told)


def _whole(tables: Sequence[SetTable]) -> SetTable | None:
    """The table that the part's sheet speaks of: the whole spring, or the only part there is."""
    loading = [table for table in tables if table.direction != UNLOADING] or list(tables)
    whole = [table for table in loading if table.part == ""]
    return (whole or loading)[0] if whole or len(loading) == 1 else None


def _of_table(table: SetTable, accuracy: Accuracy, share: float) -> list[Flag]:
    """The flags of one part and direction: at most one a spring."""
    found = judged(table, accuracy, share)
    falls, bent = not_rising(table, accuracy), curved(found, accuracy, share)
    flags, claimed = [], set[int]()
    for row in range(len(table.springs)):
        flag = _of_spring(found, row, falls.get(row), bent.get(row))
        if flag is not None:
            flags.append(flag)
            claimed.add(row)
    return [*flags, *odd_rates(found, accuracy, claimed, share)]


def _of_spring(found: Judged, row: int, falls: Flag | None, bent: Flag | None) -> Flag | None:
    """The one flag that explains a spring best."""
    column = found.suspect(row)
    if column is None:
        return falls or bent
    single = found.is_single(row, column)
    typed = typed_height(found, row, column) if single else None
    if typed is not None and typed[1].strong:
        return typed[0]
    if falls is not None:
        return falls
    if bent is not None and bends(found, row, column):
        return bent
    return typed[0] if typed is not None else stands_out(found, row, column, single=single)
