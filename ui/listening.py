"""Listens to the session for what must be said aloud: findings that got worse, rules that a job loosens."""

from __future__ import annotations

from PySide6.QtCore import QObject

from loadbench.findings import Level
from loadbench.findings.rulebook import rule_book
from loadbench.job.edits import removed
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
        state = self._session.state
        book = rule_book(self._session.shop, state.job.rules, state.analysis.stated.style)
        rules = {rule.id: rule.title for rule, _, _ in book.loosened()}
        if not rules:
            return
        said = self.tr("This job is looser than the shop\u2019s rule book: {rules}.").format(
            rules=", ".join(rules.values())
        )
        keep = (self.tr("Keep the job\u2019s"), lambda: None)
        mine = (self.tr("Use the shop\u2019s"), lambda: self._use_shop(tuple(rules)))
        self._notices.tell(Level.WATCH, said, keep, mine)

    def _use_shop(self, rules: tuple[str, ...]) -> None:
        def without(job: Job) -> Job:
            for rule in rules:
                job = removed(job, f"rules.{rule}")
            return job

        self._session.edit(self.tr("use the shop\u2019s rules"), without)
