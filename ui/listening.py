"""Listens to the session for what must be said aloud: findings that got worse, rules that a job loosens."""

from __future__ import annotations

from PySide6.QtCore import QObject

from loadbench.findings import Level
from loadbench.findings.rows import rows_in_force
from loadbench.findings.rule_changes import without_loosened
from loadbench.findings.rulebook import RuleBook, rule_book
from loadbench.job.model import Job
from ui.notice import NoticeArea
from ui.session import Session
from ui.state import State

OF_RUN = frozenset({"contact-lost", "least-contact-force", "seating-velocity", "surge-resonance"})
"""Rules that wait for the dynamic run, which is made anew after an edit."""


def counted(state: State, *, at_once: bool = False) -> tuple[int, int]:
    """How many findings are a stop and how many a watch.

    Args:
        state: of the session.
        at_once: without those that wait for the dynamic run.
    """
    levels = [each.level for each in state.verdicts.findings if not (at_once and each.id in OF_RUN)]
    return levels.count(Level.STOP), levels.count(Level.WATCH)


def judged(state: State) -> frozenset[str]:
    """The rules that say more than what they wait for, those of the dynamic run apart."""
    told = (each.id for each in state.verdicts.findings if each.level is not Level.UNKNOWN)
    return frozenset(told) - OF_RUN


def waiting(state: State) -> frozenset[str]:
    """The rules that only say what they wait for."""
    return frozenset(each.id for each in state.verdicts.findings) - judged(state) - OF_RUN


class Listening(QObject):
    """Speaks through the session and the notices of one window."""

    def __init__(self, session: Session, notices: NoticeArea) -> None:
        super().__init__(notices)
        self._session = session
        self._notices = notices
        self._take(session.state)
        session.changed.connect(self._changed)
        session.loaded.connect(self._loaded)

    def _take(self, state: State) -> None:
        """What there is now, for the next time: the job, all that is judged, and what of it waits for no run."""
        self._job, self._counts, self._at_once = state.job, counted(state), counted(state, at_once=True)
        self._judged = judged(state)

    def _changed(self, state: State) -> None:
        if self._session.previewing:
            return  # said once it is committed
        same_job, counts, at_once, known = state.job is self._job, self._counts, self._at_once, self._judged
        self._take(state)
        if same_job:
            # a run that comes in later changes no entry: nothing got worse
            said = self.tr("The dynamic run is in: stop {stops}, watch {watches}.") if self._counts != counts else ""
        elif self._at_once == at_once:
            return
        elif self._at_once < at_once and known & waiting(state):
            # fewer are told for want of an entry, and that is no better
            said = self.tr("Less can be judged now: stop {stops}, watch {watches}.")
        elif self._at_once < at_once:
            said = self.tr("Findings got better: stop {stops}, watch {watches}.")
        else:
            said = self.tr("Findings got worse: stop {stops}, watch {watches}.")
        if said:
            stops, watches = self._counts
            self._session.announce(said.format(stops=stops, watches=watches))

    def _loaded(self) -> None:
        self._take(self._session.state)
        self.tell_loosened()

    def tell_loosened(self) -> None:
        """Say so where the job on the table is looser than the shop's rules: keep, or use the shop's."""
        rules = dict.fromkeys(rule.title for rule, _, _ in self._book().loosened())
        if not rules:
            return
        said = self.tr("This job is looser than the shop\u2019s rule book: {rules}.").format(rules=", ".join(rules))
        keep = (self.tr("Keep the job\u2019s"), lambda: None)
        mine = (self.tr("Use the shop\u2019s"), self._use_shop)
        self._notices.tell(Level.WATCH, said, keep, mine)

    def _in_force(self) -> dict[str, str]:
        return rows_in_force(self._session.state.analysis.lines[0].stated)

    def _book(self) -> RuleBook:
        state = self._session.state
        return rule_book(self._session.shop, state.job.rules, state.analysis.stated.style, self._in_force())

    def _use_shop(self) -> None:
        """Only what is looser goes; a limit that the job made stricter stays."""
        book, in_force = self._book(), self._in_force()

        def without(job: Job) -> Job:
            return job.model_copy(update={"rules": without_loosened(job.rules, book, in_force)})

        self._session.edit(self.tr("use the shop\u2019s rules"), without)
