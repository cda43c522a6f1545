"""What every field of the job is called, by its dotted path: the one place where fields have names."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import cache
from typing import TYPE_CHECKING

from loadbench.job.label_texts import LABELS

if TYPE_CHECKING:
    from loadbench.job.model import Job

Word = Callable[[str], str]
TABLE_COLUMNS = {"profile": ("angle", "lift"), "ratio_curve": ("lift", "ratio")}
NUMBERED = ("valves", "springs")
"""The lists whose items carry a number or mark of their own."""


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
    if _in_bare_table(steps):
        steps[-1] = TABLE_COLUMNS[steps[-3]][int(steps[-1])]
    named = ["*" if step.isdigit() else step for step in steps]
    return ".".join(named)


def _in_bare_table(steps: list[str]) -> bool:
    return len(steps) > 2 and steps[-3] in TABLE_COLUMNS


def longest(table: Mapping[str, str], pattern: str) -> str | None:
    """The entry of a pattern in a table, else that of its longest tail that the table knows after two stars."""
    if pattern in table:
        return table[pattern]
    steps = pattern.split(".")
    tails = (".".join(["**", *steps[place:]]) for place in range(1, len(steps)))
    return next((table[tail] for tail in tails if tail in table), None)


def label_of(field: str, word: Word = str) -> str:
    """What a field is called beside its place.

    Args:
        field: dotted path, list items by number.
        word: puts a label into the reader's language.

    Returns:
        Its label; for a path without one, its last name in words.
    """
    text = longest(LABELS, pattern_of(field))
    return field.rsplit(".", 1)[-1].replace("_", " ").capitalize() if text is None else word(text)


def name_of(field: str, job: Job | None = None, word: Word = str) -> str:
    """What a field is called where its place is not seen: with its line, and each item it stands in by number.

    Args:
        field: dotted path, such as "springs.2.readings.0.height".
        job: where given, its valves and springs are also told by their own numbers.
        word: puts a label into the reader's language.

    Returns:
        "Spring 3 (S03), reading 1, height"; a field that is no part of a list by its label alone.
    """
    steps = field.split(".")
    parts, item = [], ""
    if steps[0] == "lines" and len(steps) > 2:
        parts.append(label_of(".".join(steps[:2]), word))
    last = len(steps) - (1 if _in_bare_table(steps) else 0)
    for place in range(1, last):
        if steps[place].isdigit():
            item = _item_word(steps[: place + 1], word)
            parts.append(f"{item} {int(steps[place]) + 1}{_own_number(steps[: place + 1], job)}")
    if not steps[-1].isdigit() or last < len(steps):
        label = label_of(field, word)
        parts.append(label.removeprefix(f"{item} ") if item else label)
    return _joined(parts)


def names_of(fields: Iterable[str], job: Job | None = None) -> str:
    """Several fields in a sentence: "reading 2, load; bind height"."""
    names = dict.fromkeys(name_of(field, job) for field in fields)
    return "; ".join(_small(name) for name in names)


def _item_word(steps: list[str], word: Word) -> str:
    """What one item of a list is called; of a list without a word, its name without the plural."""
    text = longest(LABELS, pattern_of(".".join(steps)))
    return steps[-2].replace("_", " ").removesuffix("s").capitalize() if text is None else word(text)


def _own_number(steps: list[str], job: Job | None) -> str:
    """The number or mark that a valve or a spring carries, where it is not its place in the list."""
    if job is None or len(steps) != 2 or steps[0] not in NUMBERED:
        return ""
    items, place = getattr(job, steps[0]), int(steps[1])
    number = items[place].id if place < len(items) else None
    return f" ({number})" if number and number != str(place + 1) else ""


def _joined(parts: list[str]) -> str:
    return ", ".join([*parts[:1], *(_small(part) for part in parts[1:])])


def _small(text: str) -> str:
    return text[:1].lower() + text[1:]
