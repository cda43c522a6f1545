"""Changes of the rules made for the shop or for the job: tried while typing, kept when committed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from loadbench.errors import Problem, SaveError
from loadbench.findings.rows import rows_in_force
from loadbench.findings.rule_changes import change_of, with_change
from loadbench.findings.rulebook import Rule, RuleBook, rule_book
from loadbench.findings.shop import save_shop
from loadbench.job.model import LimitChange, RuleChange
from ui.rule_book.effects import Effect, effects, verdicts_under

if TYPE_CHECKING:
    from loadbench.findings.finding import Verdicts
    from ui.session import Session

Rules = Mapping[str, RuleChange]


class House(StrEnum):
    """Who a change is for."""

    SHOP = "shop"
    JOB = "job"


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a change would do or did."""

    effects: tuple[Effect, ...]
    tried: bool


class Houses(QObject):
    """The rules of both houses, and the changes to them."""

    outcome = Signal(object)  # Outcome; None where nothing is tried
    refused = Signal(str)  # why the shop's rules could not be saved; "" once they could

    def __init__(self, session: Session) -> None:
        super().__init__(session)
        self.session = session

    def rules(self, house: House) -> Rules:
        """The changes of one house."""
        return (self.session.shop or {}) if house is House.SHOP else self.session.state.job.rules

    @property
    def in_force(self) -> dict[str, str]:
        """Which of a rule's alternatives holds for the job."""
        return rows_in_force(self.session.state.analysis.lines[0].stated)

    def book(self) -> RuleBook:
        """The rules in force."""
        job = self.session.state.job
        return rule_book(self.session.shop, job.rules, self.session.state.analysis.stated.style, self.in_force)

    def change(self, house: House, rule: Rule, limit: str) -> LimitChange:
        """What a house says of one limit."""
        return change_of(self.rules(house), rule, limit, self.in_force)

    def problems(self, house: House) -> tuple[Problem, ...]:
        """The faults of one house's changes."""
        style, in_force = self.session.state.analysis.stated.style, self.in_force
        alone = rule_book(self.session.shop, None, style, in_force).problems
        return alone if house is House.SHOP else tuple(each for each in self.book().problems if each not in alone)

    # Trying and keeping

    def _edited(self, house: House, rule: Rule, limit: str, part: Mapping[str, str]) -> dict[str, RuleChange]:
        entry = self.change(house, rule, limit).model_dump() | {end: text or None for end, text in part.items()}
        return with_change(self.rules(house), rule, limit, LimitChange.model_validate(entry), self.in_force)

    def attempt(self, house: House, rule: Rule, limit: str, part: Mapping[str, str]) -> None:
        """Tell what a change would do, without making it."""
        after = self._verdicts(house, self._edited(house, rule, limit, part))
        self.outcome.emit(Outcome(effects(self.session.state.verdicts, after), tried=True))

    def _verdicts(self, house: House, rules: Rules) -> Verdicts:
        analysis = self.session.state.analysis
        if house is House.SHOP:
            return verdicts_under(analysis, rules)
        return verdicts_under(analysis, self.session.shop, rules)

    def drop(self) -> None:
        """Nothing is tried any more."""
        self.outcome.emit(None)

    def keep(self, house: House, rule: Rule, limit: str, part: Mapping[str, str]) -> None:
        """Make a change: the shop's is saved at once, the job's is one undo step."""
        self._install(house, self._edited(house, rule, limit, part))

    def reset(self, house: House, rule: Rule) -> None:
        """Take all of a house's changes to one rule out."""
        self._install(house, {name: each for name, each in self.rules(house).items() if name != rule.id})

    def _install(self, house: House, rules: dict[str, RuleChange]) -> None:
        before = self.session.state.verdicts
        if house is House.SHOP:
            try:
                save_shop(None, rules)
            except SaveError as error:
                self.refused.emit(str(error))
                return
            self.refused.emit("")
            self.session.install_shop(rules)
        else:
            self.session.edit(
                self.tr("change the job\u2019s rules"), lambda job: job.model_copy(update={"rules": rules})
            )
        self.outcome.emit(Outcome(effects(before, self.session.state.verdicts), tried=False))
