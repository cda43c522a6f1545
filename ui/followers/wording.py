"""The words of the Followers page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from loadbench.analysis.figure import told
from loadbench.findings.match.result import CRITERION_WORDS, KIT_WORDS, Criterion, Kit
from loadbench.units import Kind, display_unit

if TYPE_CHECKING:
    from loadbench.analysis.figure import FigureKind
    from loadbench.units import Style

CONTEXT = "FollowersPage"
DASH = "\u2013"


def tr(text: str) -> str:
    """A text of the page in the user's language."""
    return QCoreApplication.translate(CONTEXT, text)


def small(text: str) -> str:
    """A label as it stands within a sentence."""
    return text[:1].lower() + text[1:]


def kit_word(kit: Kit) -> str:
    """What a family is called."""
    return tr(KIT_WORDS[kit])


def kit_head(kit: Kit) -> str:
    """The same a word a line, above its narrow column."""
    return kit_word(kit).replace(" ", "\n")


def criterion_head(criterion: Criterion) -> str:
    """What a criterion is called beside its narrow row."""
    return tr("Contact") if criterion is Criterion.CONTACT else criterion_word(criterion)


def criterion_word(criterion: Criterion) -> str:
    """What a criterion is called."""
    return tr(CRITERION_WORDS[criterion])


def value(number: float | None, kind: FigureKind, style: Style) -> str:
    """A value with its unit; a dash where it is not known."""
    return DASH if number is None else str(told(number, kind, style))


def axis(word: str, kind: Kind, style: Style) -> str:
    """What stands on an axis: quantity, comma, unit."""
    return f"{word}, {display_unit(kind, style)}"
