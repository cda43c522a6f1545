"""The topics of Help and their texts; what other parts of the program know is taken from there, not told twice."""

from __future__ import annotations

from importlib import resources

from loadbench.findings.rulebook import program_rules
from loadbench.report.cautions import CAUTIONS, NOT_COVERED
from loadbench.sources import COMMON_PRACTICE, SOURCES
from loadbench.units import Kind, unit_words

TOPICS = (
    "start",
    "bench",
    "readings",
    "printout",
    "spring",
    "motion",
    "followers",
    "setting",
    "fitup",
    "variants",
    "inverse",
    "entries",
    "rules",
    "formulas",
    "cautions",
    "sources",
)


def text_of(topic: str) -> str:
    """A topic's text in Markdown; the first topic's for an unknown one."""
    name = topic if topic in TOPICS else TOPICS[0]
    text = resources.files(__package__).joinpath(f"{name}.md").read_text(encoding="utf-8")
    made = {"cautions": _cautions, "sources": _sources, "entries": _units, "rules": _rules}.get(name)
    return f"{text}\n{made()}" if made else text


def title_of(topic: str) -> str:
    """A topic's title: the heading of its text."""
    return text_of(topic).partition("\n")[0].lstrip("# ").strip()


def _list(items: tuple[str, ...] | list[str]) -> str:
    return "\n".join(f"- {item}" for item in items)


def _cautions() -> str:
    return f"{_list(CAUTIONS)}\n\n## Not covered\n\n{_list(NOT_COVERED)}\n"


def _sources() -> str:
    seen = {"memory": " (from memory)"}
    return _list([f"{source.text}{seen.get(source.seen, '')}" for source in SOURCES.values()])


def _units() -> str:
    rows = [f"**{kind.value}**: {', '.join(unit_words(kind)[:24])}" for kind in Kind if kind is not Kind.RATE]
    return _list([*rows, "**rate**: any load by any length, such as lb/in, #/in, N/mm, kg/mm"])


def _rules() -> str:
    groups: dict[str, list[str]] = {}
    for rule in program_rules().values():
        source = "" if rule.source == COMMON_PRACTICE else f" ({rule.source})"
        groups.setdefault(rule.group, []).append(f"{rule.title}{source}")
    return "\n\n".join(f"## {group}\n\n{_list(titles)}" for group, titles in groups.items())
