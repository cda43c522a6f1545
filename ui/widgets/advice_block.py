"""Advice in plain words: which axle, which travel, why, and what comes next."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QVBoxLayout, QWidget

from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from loadbench.findings.finding import Advice, Choice
    from loadbench.units import Style


class AdviceBlock(QWidget):
    """A heading and a sentence for each question that the follower raises; hidden where there is none."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("advice")
        column = QVBoxLayout(self)
        column.setContentsMargins(6, 4, 6, 6)
        column.setSpacing(1)
        self.rows: dict[str, tuple[WrappedLabel, WrappedLabel]] = {}
        for name in ("axle", "travel"):
            self.rows[name] = WrappedLabel(role="heading"), WrappedLabel()
            column.addWidget(self.rows[name][0])
            column.addWidget(self.rows[name][1])

    def show_advice(self, advice: Advice, style: Style) -> None:
        """Say what is advised now."""
        for name, choice in (("axle", advice.axle), ("travel", advice.travel)):
            head, reason = self.rows[name]
            head.tell(self._headline(name, choice))
            reason.tell(choice.reason.told(style) if choice.choice else "")
        self.setVisible(bool(advice.axle.choice or advice.travel.choice))

    def _headline(self, name: str, choice: Choice) -> str:
        headlines = {
            ("axle", "needle"): self.tr("Axle: needle"),
            ("axle", "bushed"): self.tr("Axle: bushed"),
            ("axle", "neither"): self.tr("Axle: neither"),
            ("axle", "open"): self.tr("Axle: an open question"),
            ("travel", "standard"): self.tr("Travel: standard"),
            ("travel", "short"): self.tr("Travel: short"),
            ("travel", "neither"): self.tr("Travel: neither"),
            ("travel", "open"): self.tr("Travel: an open question"),
        }
        seconds = {
            "needle": self.tr("needle"),
            "bushed": self.tr("bushed"),
            "standard": self.tr("standard"),
            "short": self.tr("short"),
        }
        if choice.choice is None:
            return ""
        headline = headlines[name, choice.choice]
        if choice.runner_up is None:
            return headline
        second = seconds.get(choice.runner_up, choice.runner_up)
        return self.tr("{headline} (runner-up: {second})").format(headline=headline, second=second)
