"""The columns of a printout on their way to be understood: what they mean, and which height belongs to which load."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from loadbench.readings.printout.guidance import ColumnGuide, Matched
from loadbench.readings.printout.header_rows import is_number_like
from loadbench.readings.printout.headers import HeaderCell, kind_told
from loadbench.readings.printout.layout import Table
from loadbench.readings.printout.meaning import Layout, Meaning
from loadbench.readings.printout.numbers_in import is_missing
from loadbench.readings.printout.words import ASIDE, PARTS, folded, part_meant
from loadbench.units import Kind

SAMPLED = 400


@dataclass(slots=True)
class Draft:
    """One column, not finished. `heights` is the place of the column of its heights; `doubts` are sentences.

    `number` and `number_unit` are the height as printed in the header; `height` and `height_text` come from them, or
    from the user. `said` tells that a recipe or the user said what the column holds. `beside` tells that it belongs to
    a second table to the right of the first.
    """

    place: int
    header: str
    cell: HeaderCell
    meaning: Meaning
    part: str = ""
    number: str = ""
    number_unit: str | None = None
    height: float | None = None
    height_text: str = ""
    heights: int | None = None
    unit: str | None = None
    assumed: bool = False
    said: bool = False
    by_recipe: bool = False
    beside: bool = False
    sure: bool = True
    doubts: list[str] = field(default_factory=list)

    def doubt(self, why: str) -> None:
        """Note that a choice was made, and why."""
        self.sure = False
        self.doubts.append(why)


def drafts_of(table: Table, guides: Matched, layout: Layout | None) -> list[Draft]:
    """What each column means, and where the height of each load stands.

    Args:
        table: the printout's table.
        guides: what is said of its columns.
        layout: as said; None where it is to be found.

    Returns:
        A draft for each column, units still to be found.
    """
    drafts = [_draft(table, place, guides) for place in range(table.width)]
    samples = _samples(table)
    if not any(table.headers) and not any(draft.said for draft in drafts):
        _without_headers(drafts, samples)
    _parts(drafts, samples)
    _springs(drafts, samples)
    _named_by_two(table, drafts)
    _numbers_alone(drafts, samples)
    _once(drafts, samples)
    if layout is not Layout.ROW_A_READING:
        _heights_over_loads(drafts)
    _pair(drafts, layout)
    return drafts


def _draft(table: Table, place: int, guides: Matched) -> Draft:
    cell, guide = table.cells[place], guides.guides.get(place)
    header = table.headers[place]
    if guide is not None:
        draft = _guided(place, header, cell, guide, exact=place in guides.exact)
        draft.by_recipe = guides.by_header
        return draft
    draft = Draft(place, header, cell, cell.meaning or Meaning.NOTHING)
    draft.part = cell.part if draft.meaning in (Meaning.LOAD, Meaning.HEIGHT, Meaning.RATE) else ""
    draft.number, draft.number_unit = cell.number, cell.number_unit
    if cell.meaning not in (None, Meaning.NOTHING) and cell.unknown:
        draft.doubt(f'Not every word of "{header}" is known; it is read as {cell.meaning}.')
    if cell.note and draft.meaning in (Meaning.LOAD, Meaning.RATE):
        draft.doubt(f"{cell.note}.")
    return draft


def _guided(place: int, header: str, cell: HeaderCell, guide: ColumnGuide, *, exact: bool) -> Draft:
    draft = Draft(place, header, cell, guide.meaning, part=guide.part, said=True, unit=guide.unit)
    draft.number, draft.number_unit = cell.number, cell.number_unit
    if exact:
        draft.height, draft.height_text = guide.height, guide.height_text
    return draft


def _samples(table: Table) -> list[list[str]]:
    """The cells of each column that say something, of the first rows of data."""
    rows = [row.cells for row in table.body[:SAMPLED] if sum(map(bool, row.cells)) > 1]
    return [
        [cells[place] for cells in rows if place < len(cells) and not is_missing(cells[place])]
        for place in range(table.width)
    ]


def _without_headers(drafts: list[Draft], samples: list[list[str]]) -> None:
    """No header at all: three columns can be a spring, a height and a load; more cannot be told apart."""
    used = [draft for draft in drafts if samples[draft.place]]
    if _by_units(used, samples):
        return
    if len(used) != 3 or not all(is_number_like(cell) for draft in used[1:] for cell in samples[draft.place]):
        return
    spring, one, other = used
    sizes = [max(_size(cell) for cell in samples[draft.place]) for draft in (one, other)]
    small, large = (one, other) if sizes[0] <= sizes[1] else (other, one)
    for draft, meaning in ((spring, Meaning.SPRING), (small, Meaning.HEIGHT), (large, Meaning.LOAD)):
        draft.meaning = meaning
        draft.doubt(f"There is no header; the size of the numbers makes it a {meaning}.")


def _by_units(used: list[Draft], samples: list[list[str]]) -> bool:
    """No header, but every cell of a column of heights and of one of loads says its unit."""
    kinds = {draft.place: {kind_told(cell) for cell in samples[draft.place]} for draft in used}
    found = {Meaning.HEIGHT: Kind.LENGTH, Meaning.LOAD: Kind.FORCE}
    said = {meaning: [draft for draft in used if kinds[draft.place] == {kind}] for meaning, kind in found.items()}
    if not all(len(drafts) == 1 for drafts in said.values()):
        return False
    for meaning, (draft,) in said.items():
        draft.meaning = meaning
        draft.doubt(f"There is no header; the unit of its cells makes it a {meaning}.")
    return True


def _size(cell: str) -> float:
    digits = "".join(ch if ch.isdigit() else " " for ch in cell.replace(",", ".").partition(".")[0]).split()
    return float(digits[0]) if digits else 0.0


def _parts(drafts: list[Draft], samples: list[list[str]]) -> None:
    """A column whose cells name two parts or more is the part's, whatever stands over it."""
    if any(draft.meaning is Meaning.PART for draft in drafts):
        return
    for draft in drafts:
        named = {part_meant(cell) for cell in samples[draft.place]}
        if len(named) > 1 and named <= set(PARTS.values()) and not draft.said and draft.meaning is not Meaning.SPRING:
            draft.meaning, draft.part = Meaning.PART, ""
            draft.doubt("Its header does not say so; its cells name the parts.")
            return


def _second_table(drafts: list[Draft], samples: list[list[str]], first: Draft, second: Draft) -> bool:
    """Mark the columns of a second table beside the first: other springs, with loads of their own."""
    loads = [each.place for each in drafts if each.meaning is Meaning.LOAD or each.number]
    if samples[first.place] == samples[second.place] or second.place < first.place:
        return False
    if not any(place < second.place for place in loads) or not any(place > second.place for place in loads):
        return False
    for draft in drafts[second.place :]:
        if not draft.said:
            draft.meaning, draft.number, draft.beside = Meaning.NOTHING, "", True
            draft.doubt("A second table stands beside the first; it is not read.")
    return True


def _springs(drafts: list[Draft], samples: list[list[str]]) -> None:
    """One column of spring numbers: the one whose header speaks of springs, else a first column without a header."""
    named = [draft for draft in drafts if draft.meaning is Meaning.SPRING]
    if len(named) > 1:
        said = [draft for draft in named if draft.said]
        full = [draft for draft in named if len(draft.header.split()) > 1 or len(draft.header) > 4]
        kept = (said or full or named)[0]
        for draft in named:
            if draft is not kept and not draft.said:
                if _second_table(drafts, samples, kept, draft):
                    return
                draft.meaning = Meaning.NOTHING
                draft.doubt(f'The springs are numbered in "{kept.header}"; this column is not read.')
    if named:
        return
    for draft in drafts[:2]:
        blank = draft.meaning is Meaning.NOTHING and not draft.said and draft.cell.meaning is None
        if blank and not draft.cell.number and len(samples[draft.place]) > 0 and any(samples[draft.place + 1 :]):
            draft.meaning = Meaning.SPRING
            draft.doubt("Its header does not say so; it is read as the spring's number.")
            return
    for draft in drafts:
        spare = draft.meaning is Meaning.NOTHING and not draft.said and ASIDE & set(folded(draft.header).split())
        if spare and not draft.cell.number and len(set(samples[draft.place])) > 1:
            draft.meaning = Meaning.SPRING
            draft.doubt(f'No column numbers the springs; "{draft.header}" is taken for it.')
            return


def _named_by_two(table: Table, drafts: list[Draft]) -> None:
    """Where the names taken for the springs' come again in other rows: cylinder and valve name one together."""
    named = [draft for draft in drafts if draft.meaning is Meaning.SPRING]
    if len(named) != 1 or named[0].said or named[0].sure:
        return
    apart = (Meaning.HEIGHT, Meaning.REPEAT, Meaning.DIRECTION, Meaning.PART)
    beside = [draft.place for draft in drafts if draft.meaning in apart]
    if _are_different(table, [named[0].place, *beside]):
        return
    for draft in drafts[: max(2, named[0].place + 2)]:
        spare = draft.meaning is Meaning.NOTHING and not draft.said and not draft.number
        if spare and _are_different(table, [named[0].place, draft.place, *beside]):
            draft.meaning = Meaning.SPRING
            for each in (named[0], draft):
                each.doubt(f'"{named[0].header}" comes again; with "{draft.header}" it names one spring each.')
            return


def _are_different(table: Table, places: list[int]) -> bool:
    """Whether no two rows of data say the same in these columns; rows where one of them is blank do not count."""
    rows = [row.cells for row in table.body[:SAMPLED] if len(row.cells) > max(places)]
    told = [tuple(cells[place] for place in places) for cells in rows if all(cells[place] for place in places)]
    return len(told) > 1 and len(set(told)) == len(told)


def _numbers_alone(drafts: list[Draft], samples: list[list[str]]) -> None:
    """A header that is a bare number is the height of its loads; an unknown one over numbers stays unread."""
    counts = {str(n) for n in range(1, 13)}
    bare = [draft for draft in drafts if draft.cell.meaning is None and draft.number and not draft.said]
    counting = len(bare) > 1 and all(draft.number in counts and not draft.number_unit for draft in bare)
    for draft in bare:
        if draft.meaning is Meaning.NOTHING:
            draft.meaning = Meaning.LOAD
            draft.part = draft.cell.part
            if counting:
                draft.doubt(f'"{draft.header}" is read as the height of these loads; it may be a count.')
    for draft in drafts:
        unread = draft.meaning is Meaning.NOTHING and draft.cell.meaning is None and not draft.beside
        if unread and not draft.said and samples[draft.place]:
            draft.doubt("Nothing says what this column holds; it is not read.")


def _once(drafts: list[Draft], samples: list[list[str]]) -> None:
    """Means, limits and targets serve only where there is nothing else; a second rate or mark is not read."""
    for meaning in (Meaning.LOAD, Meaning.HEIGHT, Meaning.RATE):
        own = [draft for draft in drafts if draft.meaning is meaning]
        direct = [draft for draft in own if draft.said or not draft.cell.derived]
        for draft in own:
            if draft.said or not draft.cell.derived:
                continue
            if direct:
                draft.meaning = Meaning.NOTHING
                draft.doubt(f'"{draft.header}" looks like a limit, a target, a mean or a count; it is not read.')
            else:
                draft.doubt(f'"{draft.header}" may be a limit, a target, a mean or a count.')
    for meaning in (Meaning.RATE, Meaning.MARK, Meaning.PART, Meaning.DIRECTION):
        own = [draft for draft in drafts if draft.meaning is meaning]
        for draft in own[1:]:
            if not draft.said and (meaning is not Meaning.RATE or draft.part in {each.part for each in own[:1]}):
                draft.meaning = Meaning.NOTHING
                draft.doubt(f'Another column is the {meaning} already; "{draft.header}" is not read.')


def _heights_over_loads(drafts: list[Draft]) -> None:
    """Where no column is called a load, those called "height 1.900" hold the loads at that height."""
    if any(draft.meaning is Meaning.LOAD for draft in drafts):
        return
    for draft in drafts:
        if draft.meaning is Meaning.HEIGHT and draft.number and not draft.said:
            draft.meaning = Meaning.LOAD
            if draft.number_unit is None:
                draft.number_unit = draft.cell.units.get(Kind.LENGTH)


def _pair(drafts: list[Draft], layout: Layout | None) -> None:
    """Give each load its height: that of its header, else the column of heights that belongs to it."""
    heights = [draft for draft in drafts if draft.meaning is Meaning.HEIGHT]
    loads = [draft for draft in drafts if draft.meaning is Meaning.LOAD]
    free = [load for load in loads if not _has_own(load, heights, layout)]
    for load in free:
        load.number = ""
    for load, height in _paired(heights, free):
        load.heights = height.place
        load.part = load.part or height.part
    used = {load.heights for load in loads}
    for height in heights:
        if loads and height.place not in used and not height.said:
            height.meaning = Meaning.NOTHING
            height.doubt("No column of loads belongs to these heights; they are not read.")


def _has_own(load: Draft, heights: Sequence[Draft], layout: Layout | None) -> bool:
    if load.height is not None:
        return True
    if layout is Layout.ROW_A_READING and heights:
        return False
    return bool(load.number) and not (load.said and heights and load.cell.meaning is Meaning.HEIGHT)


def _paired(heights: list[Draft], loads: list[Draft]) -> list[tuple[Draft, Draft]]:
    if not heights or not loads:
        return []
    if len(heights) == 1:
        return [(load, heights[0]) for load in loads]
    if by_order := _by_order(heights, loads):
        return by_order
    places = sorted((draft.place, draft.meaning is Meaning.LOAD) for draft in (*heights, *loads))
    turns = [is_load for _, is_load in places]
    load_first = turns[0] and len(heights) == len(loads) and all(a != b for a, b in pairwise(turns))
    pairs = []
    for load in loads:
        before = [height for height in heights if height.place < load.place]
        behind = [height for height in heights if height.place > load.place]
        near = (behind[:1] or before[-1:]) if load_first else (before[-1:] or behind[:1])
        pairs.append((load, near[0]))
    if len({height.place for _, height in pairs}) < len(heights):
        for load, height in pairs:
            load.doubt(f'Its heights are taken from the column "{height.header}" beside it.')
    return pairs


def _by_order(heights: list[Draft], loads: list[Draft]) -> list[tuple[Draft, Draft]]:
    """Height 1 with load 1, seat height with seat load; [] where the headers do not say so for every load."""
    known: dict[tuple[str, str], Draft] = {}
    for height in heights:
        if not height.cell.order or (height.cell.order, height.part) in known:
            return []
        known[height.cell.order, height.part] = height
    pairs = []
    for load in loads:
        found = known.get((load.cell.order, load.part)) or known.get((load.cell.order, ""))
        if not load.cell.order or found is None:
            return []
        pairs.append((load, found))
    return pairs


def layout_of(drafts: Sequence[Draft]) -> Layout:
    """What one row holds: several heights of a spring, or the readings at one height."""
    loads = [draft for draft in drafts if draft.meaning is Meaning.LOAD]
    columns = {load.heights for load in loads if load.heights is not None}
    own = [load for load in loads if load.heights is None]
    return Layout.ROW_A_READING if len(columns) == 1 and not own else Layout.ROW_A_SPRING
