"""The label and the hint of every field of the job, by its dotted path; the one place where fields have names."""

from __future__ import annotations

from functools import cache

from PySide6.QtCore import QCoreApplication

from loadbench.job.kinds import Number, Quantity, Sense, Words
from loadbench.job.stated import Mark, mark_of
from loadbench.units import Kind, Style, display_unit, parse, tell
from ui.field_texts import LABELS, PLAIN_UNITS, TYPICAL

_CONTEXT = "Fields"
TABLE_COLUMNS = {"profile": ("angle", "lift"), "ratio_curve": ("lift", "ratio")}


def common_path(field: str) -> str:
    """The path of a field in the common part: without the line that overrides it or the variant that does.

    Args:
        field: dotted path, such as "lines.exhaust.valve_gear.lobe_lift".

    Returns:
        "valve_gear.lobe_lift"; other paths as they are.
    """
    steps = field.split(".")
    if steps[0] == "lines" and len(steps) > 2:
        return ".".join(steps[2:])
    if steps[0] == "variants" and len(steps) > 3 and steps[2] == "spring":
        return ".".join(steps[2:])
    if steps[0] == "history" and len(steps) > 3:
        return ".".join(steps[2:])
    return field


@cache
def pattern_of(field: str) -> str:
    """The path with a star for each number of an item, in the common part; columns of bare tables get their names."""
    steps = common_path(field).split(".")
    if len(steps) > 2 and steps[-3] in TABLE_COLUMNS:
        steps[-1] = TABLE_COLUMNS[steps[-3]][int(steps[-1])]
    named = ["*" if step.isdigit() else step for step in steps]
    return ".".join(named)


_COLUMN_MARKS: dict[str, tuple[Mark, Mark]] = {
    "profile": (Quantity(Kind.ANGLE, Sense.ANY), Quantity(Kind.LENGTH, Sense.ANY, 1.0)),
    "ratio_curve": (Quantity(Kind.LENGTH, Sense.NOT_NEGATIVE, 1.0), Number(Sense.POSITIVE, 5.0)),
}


def mark_for(field: str) -> Mark | None:
    """What kind of entry a field takes; as `mark_of`, but it also knows the columns of the bare tables."""
    steps = field.split(".")
    if len(steps) > 2 and steps[-3] in _COLUMN_MARKS:
        return _COLUMN_MARKS[steps[-3]][int(steps[-1])]
    return mark_of(field)


def label_of(field: str) -> str:
    """What a field is called.

    Args:
        field: dotted path, list items by number.

    Returns:
        Its label in the user's language; for a path without one, its last name in words.
    """
    text = _longest(LABELS, pattern_of(field))
    if text is None:
        return field.rsplit(".", 1)[-1].replace("_", " ").capitalize()
    return QCoreApplication.translate(_CONTEXT, text)


def column_label(field: str) -> str:
    """What a column of a small table is called: shorter than the field, for the table says the rest."""
    return (
        QCoreApplication.translate(_CONTEXT, _COLUMNS[name])
        if (name := pattern_of(field)) in _COLUMNS
        else label_of(field)
    )


_COLUMNS = {
    "spring.spec.*.height": "Height",
    "spring.spec.*.load": "Load",
    "spring.spec.*.minus": "Minus",
    "spring.spec.*.plus": "Plus",
    "cam.durations.*.crank": "Crank angle",
}


def hint_of(field: str, style: Style = Style.INCH_POUND, *, unit: bool = True) -> str:
    """A typical entry of a field, as a hint that nobody takes for an entry.

    Args:
        field: dotted path.
        style: the units on show.
        unit: whether the unit belongs to it; a field has its unit beside it.

    Returns:
        "e.g. 1.900 in"; "" where no entry is typical.
    """
    typical = _longest(TYPICAL, pattern_of(field))
    if typical is None:
        return ""
    mark = mark_for(field)
    if isinstance(mark, Quantity):
        told = tell(parse(typical, mark.kind, None).value, mark.kind, style)
        typical = f"{told.number} {told.unit}" if unit else told.number
    return QCoreApplication.translate(_CONTEXT, "e.g. {typical}").format(typical=typical)


def unit_of_field(field: str, style: Style) -> str:
    """The everyday unit that stands beside a field in quiet; "" for words, texts and bare numbers."""
    mark = mark_for(field)
    if isinstance(mark, Quantity):
        return display_unit(mark.kind, style)
    if isinstance(mark, Number):
        return QCoreApplication.translate(_CONTEXT, _longest(PLAIN_UNITS, pattern_of(field)) or "")
    return ""


def word_label(word: str) -> str:
    """A word of a closed list as it is shown: "roller-hydraulic" as "Roller hydraulic"."""
    return QCoreApplication.translate(_CONTEXT, _WORDS.get(word, word.replace("-", " ").capitalize()))


_WORDS = {
    "street-strip": "Street and strip",
    "tie-bar": "Tie bar",
    "valve-tip": "Valve tip",
    "bucket-shim": "Bucket shim",
    "pivot": "At the pivot",
    "flat": "Flat",
    "retainer": "In the retainer",
    "inch-pound": "Inch-pound",
}


def words_of(field: str) -> tuple[str, ...]:
    """The closed list of words that a field takes; () for other fields."""
    mark = mark_for(field)
    return mark.words if isinstance(mark, Words) else ()


def _longest(table: dict[str, str], pattern: str) -> str | None:
    """The entry of the pattern, else of its shortest tail that the table knows with a leading star."""
    if pattern in table:
        return table[pattern]
    steps = pattern.split(".")
    tails = (".".join(["**", *steps[place:]]) for place in range(1, len(steps)))
    return next((table[tail] for tail in tails if tail in table), None)
