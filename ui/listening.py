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


class Listening(QObject):
    """Speaks through the session and the notices of one window."""

    def __init__(self, session: Session, notices: NoticeArea) -> None:
        super().__init__(notices)
        self._session = session
        self._notices = notices
        self._counts = self._count(session.state)
        session.changed.connect(self._changed)
        session.loaded.connect(self._loaded)

    def _count(self, state: State) -> tuple[int, int]:
        return state.verdicts.count(Level.STOP), state.verdicts.count(Level.WATCH)

    def _changed(self, state: State) -> None:
        if self._session.previewing:
            return  # said once it is committed
        before, self._counts = self._counts, self._count(state)
        if self._counts == before:
            return
        stops, watches = self._counts
        said = self.tr("Findings got worse: stop {stops}, watch {watches}.")
        if self._counts < before:
            said = self.tr("Findings got better: stop {stops}, watch {watches}.")
        self._session.announce(said.format(stops=stops, watches=watches))

    def _loaded(self) -> None:
        self._counts = self._count(self._session.state)
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
