"""The label, the hint and the unit of every field of the job in the user's language, by its dotted path."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from loadbench.job import labels
from loadbench.job.kinds import Number, Quantity, Sense, Words
from loadbench.job.labels import TABLE_COLUMNS, common_path, longest, pattern_of
from loadbench.job.stated import Mark, mark_of
from loadbench.units import Kind, Style, display_unit, parse, tell
from ui.field_texts import PLAIN_UNITS, TYPICAL

__all__ = [
    "TABLE_COLUMNS",
    "column_label",
    "common_path",
    "hint_of",
    "label_of",
    "mark_for",
    "pattern_of",
    "translated",
    "unit_of_field",
    "word_label",
    "words_of",
]
_CONTEXT = "Fields"

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
    """What a field is called beside its place, in the user's language; as `loadbench.job.labels` has it."""
    return labels.label_of(field, translated)


def translated(text: str) -> str:
    """A label in the user's language."""
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
    typical = longest(TYPICAL, pattern_of(field))
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
        return QCoreApplication.translate(_CONTEXT, longest(PLAIN_UNITS, pattern_of(field)) or "")
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
