"""The words of the levels and of who set a limit, in the user's language."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from loadbench.findings.finding import Level

_CONTEXT = "Levels"


def level_word(level: Level) -> str:
    """The word that stands beside a level's sign."""
    words = {
        Level.CLEAR: QCoreApplication.translate(_CONTEXT, "Clear"),
        Level.UNKNOWN: QCoreApplication.translate(_CONTEXT, "Unknown"),
        Level.WATCH: QCoreApplication.translate(_CONTEXT, "Watch"),
        Level.STOP: QCoreApplication.translate(_CONTEXT, "Stop"),
    }
    return words[level]


def house_words(house: str) -> str:
    """Who set a limit: the program's book, or a house value of this shop, this job or the part maker."""
    words = {
        "program": QCoreApplication.translate(_CONTEXT, "rule book"),
        "shop": QCoreApplication.translate(_CONTEXT, "house value of this shop"),
        "job": QCoreApplication.translate(_CONTEXT, "house value of this job"),
        "maker": QCoreApplication.translate(_CONTEXT, "the part maker\u2019s own"),
    }
    return words.get(house, house)


def line_word(line: str) -> str:
    """The name of a line."""
    words = {
        "common": QCoreApplication.translate(_CONTEXT, "Both lines"),
        "intake": QCoreApplication.translate(_CONTEXT, "Intake"),
        "exhaust": QCoreApplication.translate(_CONTEXT, "Exhaust"),
    }
    return words.get(line, line)


def source_words(source: str) -> str:
    """A source's text by its id; "common practice" and the like as they are."""
    from loadbench.sources import COMMON_PRACTICE, OWN_DERIVATION, SOURCES

    found = SOURCES.get(source)
    if found is not None:
        return found.text
    words = {
        COMMON_PRACTICE: QCoreApplication.translate(_CONTEXT, "common practice"),
        OWN_DERIVATION: QCoreApplication.translate(_CONTEXT, "own derivation"),
    }
    return words.get(source, source)
