"""Entries to mend in words: each faulty entry by its name, what is wrong with it and what is wanted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from loadbench.findings.rulebook import program_rules
from loadbench.job.labels import Word, name_of

if TYPE_CHECKING:
    from loadbench.errors import Problem
    from loadbench.job.model import Job


def entry_name(field: str, job: Job | None = None, word: Word = str) -> str:
    """What a faulty entry is called.

    Args:
        field: dotted path; "" for none.
        job: where given, valves and springs are also told by their own numbers.
        word: puts a label into the reader's language.

    Returns:
        As `name_of`, "Reading 2, load"; a changed limit by its rule, "Changed limit, shim stack, watch".
    """
    steps = field.split(".")
    if steps[0] != "rules" or len(steps) == 1:
        return name_of(field, job, word)
    rule = program_rules().get(steps[1])
    title = rule.title[:1].lower() + rule.title[1:] if rule else steps[1]
    return ", ".join([word("Changed limit"), title, *(step.replace("_", " ") for step in steps[2:])])


def fault(problem: Problem) -> tuple[str, str]:
    """What is wrong as a sentence, and what is wanted: bare words, or a question as a sentence; "" for nothing."""
    what = _begun(problem.what)
    wanted = problem.expected.rstrip(".")
    return what if what.endswith((".", "?")) else f"{what}.", _begun(wanted) if wanted.endswith("?") else wanted


def entry_told(problem: Problem, job: Job | None = None) -> str:
    """An entry to mend in one line: "Lash: No number in "soon". Wanted: a length such as 1.900 in or 48.26 mm."."""
    what, wanted = fault(problem)
    told = f"{entry_name(problem.place.field or '', job)}: {what}" if problem.place.field else what
    if not wanted:
        return told
    return f"{told} {wanted}" if wanted.endswith("?") else f"{told} Wanted: {wanted}."


def entries_counted(problems: tuple[Problem, ...]) -> str:
    """How many entries are to be mended: "2 entries to mend"; "" for none."""
    if not problems:
        return ""
    return "1 entry to mend" if len(problems) == 1 else f"{len(problems)} entries to mend"


def _begun(text: str) -> str:
    return text[:1].upper() + text[1:]
