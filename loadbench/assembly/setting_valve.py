"""One valve of the worksheet while it is worked out."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from loadbench.analysis import Analysis, LineAnalysis
from loadbench.assembly.setting_result import ValveSetting


@dataclass(frozen=True, slots=True, kw_only=True)
class ValveAt:
    """One valve while it is worked out."""

    analysis: Analysis
    index: int
    line: LineAnalysis

    def own(self, name: str) -> Any:
        """A measured value of the valve."""
        return self.analysis.stated.values.get(f"valves.{self.index}.{name}")

    def path(self, name: str) -> str:
        """Where such a value stands."""
        return f"valves.{self.index}.{name}"

    def value(self, field: str) -> Any:
        """A value of its line."""
        return self.line.stated.value(field)


def cylinder_of(name: str | None) -> int | None:
    """The first number in a valve's name."""
    found = re.search(r"\d+", name or "")
    return int(found.group()) if found else None


def started(at: ValveAt) -> ValveSetting:
    """The valve's row before anything is known of it."""
    valve = at.analysis.job.valves[at.index]
    return ValveSetting(
        valve=valve.id or f"#{at.index + 1}",
        index=at.index,
        line=None if at.line.name == "common" else at.line.name,
        cylinder=cylinder_of(valve.id),
        found=None,
        wanted=None,
        set_by=valve.set_by or "",
    )
