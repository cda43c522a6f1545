"""The worksheet of the job on show, worked out once for each state and order."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from loadbench.analysis import Analysis
    from loadbench.assembly.setting_result import SettingSheet

Order = Literal["cylinder", "firing"]


class Sheets:
    """Keeps the last worksheet; the same analysis in the same order gives it again."""

    def __init__(self) -> None:
        self._kept: tuple[Analysis, Order, SettingSheet] | None = None

    def sheet(self, analysis: Analysis, order: Order = "cylinder") -> SettingSheet:
        """The worksheet.

        Args:
            analysis: of the job on show.
            order: "cylinder" or "firing".
        """
        from loadbench.assembly.setting_sheet import setting_sheet

        kept = self._kept
        if kept is None or kept[0] is not analysis or kept[1] != order:
            kept = self._kept = (analysis, order, setting_sheet(analysis, order=order))
        return kept[2]
