"""Which pages and panels the window is made of: the one place that knows them all."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication, QSize
from PySide6.QtWidgets import QDialog, QVBoxLayout, QWidget

from ui.pages.bench_page import BenchPage
from ui.session import Session
from ui.widgets.figures_strip import FiguresStrip
from ui.widgets.findings_panel import FindingsPanel
from ui.widgets.stated_panel import StatedPanel

_CONTEXT = "Pages"
_ = QT_TRANSLATE_NOOP


@dataclass(frozen=True, slots=True, kw_only=True)
class PageKind:
    """One page: its word in the row, the question it answers, its help topic, and what stands beside it."""

    name: str
    word: str
    question: str
    topic: str
    make: Callable[[Session], QWidget]
    stated: bool
    """Whether the panel of what is stated stands to its left, and the figures beneath; else it has its own."""
    findings: bool = True
    """Whether the findings stand to its right; else the page itself tells what it means."""
    figures: tuple[str, ...] = ()
    """The key figures beneath; none: those of the bench."""
    first: str = ""
    """The group of rules whose findings stand before the others."""

    @property
    def shown_word(self) -> str:
        """The word in the user's language."""
        return QCoreApplication.translate(_CONTEXT, self.word)

    @property
    def shown_question(self) -> str:
        """The question in the user's language."""
        return QCoreApplication.translate(_CONTEXT, self.question)


def _readings_page(session: Session) -> QWidget:
    from ui.pages.readings_page import ReadingsPage

    return ReadingsPage(session)


def _spring_page(session: Session) -> QWidget:
    from ui.pages.spring_page import SpringPage

    return SpringPage(session)


def _motion_page(session: Session) -> QWidget:
    from ui.pages.motion_page import MotionPage

    return MotionPage(session)


def _followers_page(session: Session) -> QWidget:
    from ui.pages.followers_page import FollowersPage

    return FollowersPage(session)


def _setting_page(session: Session) -> QWidget:
    from ui.pages.setting_page import SettingPage

    return SettingPage(session)


def _fitup_page(session: Session) -> QWidget:
    from ui.pages.fitup_page import FitupPage

    return FitupPage(session)


def pages() -> tuple[PageKind, ...]:
    """The pages that exist, in the order of the way through the house."""
    return (
        PageKind(
            name="bench",
            word=str(_("Pages", "Bench")),
            question=str(_("Pages", "Does it fit, and does it hold?")),
            topic="bench",
            make=BenchPage,
            stated=True,
        ),
        PageKind(
            name="readings",
            word=str(_("Pages", "Readings")),
            question=str(_("Pages", "Can the springs be trusted?")),
            topic="readings",
            make=_readings_page,
            stated=False,
            findings=False,
        ),
        PageKind(
            name="spring",
            word=str(_("Pages", "Spring")),
            question=str(_("Pages", "Will the wire last?")),
            topic="spring",
            make=_spring_page,
            stated=True,
        ),
        PageKind(
            name="motion",
            word=str(_("Pages", "Motion")),
            question=str(_("Pages", "How fast can it turn?")),
            topic="motion",
            make=_motion_page,
            stated=True,
        ),
        PageKind(
            name="followers",
            word=str(_("Pages", "Followers")),
            question=str(_("Pages", "Which follower, which axle?")),
            topic="followers",
            make=_followers_page,
            stated=True,
            figures=(
                "hertz_nose",
                "film_ratio_idle",
                "needle_life",
                "needle_static_safety",
                "bush_pv",
                "plunger_stiffness",
            ),
            first="Which follower",
        ),
        PageKind(
            name="setting",
            word=str(_("Pages", "Setting")),
            question=str(_("Pages", "How is it set, valve by valve?")),
            topic="setting",
            make=_setting_page,
            stated=True,
            figures=(
                "plunger_depth",
                "plunger_depth_hot",
                "adjuster_turns",
                "depth_a_turn",
                "hot_lash_change",
                "lift_at_zero_lash",
                "bind_margin_zero_lash",
            ),
            first="Setting",
        ),
        PageKind(
            name="fitup",
            word=str(_("Pages", "Fit-up")),
            question=str(_("Pages", "Which spring on which valve, on which shims?")),
            topic="fitup",
            make=_fitup_page,
            stated=False,
            findings=False,
        ),
    )


def stated_panel(session: Session) -> StatedPanel:
    """What is stated and measured, to the left."""
    return StatedPanel(session)


def findings_panel(session: Session) -> FindingsPanel:
    """What it means, to the right."""
    return FindingsPanel(session)


def figures_strip(session: Session) -> FiguresStrip:
    """The key figures, beneath."""
    return FiguresStrip(session)


def rule_book(session: Session, window: QWidget) -> QDialog:
    """The rule book."""
    from ui.rule_book.dialog import RuleBookDialog

    return RuleBookDialog(session, window)


def turn_to(book: QDialog, rule: str) -> None:
    """Turn the rule book to a rule."""
    from ui.rule_book.dialog import RuleBookDialog

    if isinstance(book, RuleBookDialog):
        book.show_rule(rule)


def variants(session: Session, window: QWidget) -> QDialog:
    """Candidate springs side by side."""
    from ui.variants import VariantsPanel

    return _dialog(VariantsPanel(session), QCoreApplication.translate(_CONTEXT, "Variants"), window, QSize(1220, 720))


def inverse(session: Session, window: QWidget) -> QDialog:
    """The inverse answers."""
    from ui.inverse import InversePanel

    return _dialog(
        InversePanel(session), QCoreApplication.translate(_CONTEXT, "Inverse answers"), window, QSize(560, 420)
    )


def _dialog(panel: QWidget, title: str, window: QWidget, size: QSize) -> QDialog:
    dialog = QDialog(window)
    dialog.setWindowTitle(title)
    column = QVBoxLayout(dialog)
    column.addWidget(panel)
    room = window.screen().availableSize()
    dialog.resize(size.boundedTo(room - QSize(40, 60)))  # room for its frame
    return dialog
