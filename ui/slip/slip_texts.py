"""Words and sort keys of the slip."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from loadbench.findings.finding import Level
from loadbench.units import Kind, Style, tell

if TYPE_CHECKING:
    from loadbench.findings.spec_check import SpecVerdict


def verdict_text(found: SpecVerdict, style: Style) -> str:
    """A spring's verdict in words: "Pass", "Fail: 12 lbf low at 1.900 in" with its worst miss, or "Unknown".

    Args:
        found: the verdict.
        style: the units on show.
    """
    tr = QCoreApplication.translate
    if found.level is not Level.STOP:
        return tr("Slip", "Pass") if found.level is Level.CLEAR else tr("Slip", "Unknown")
    miss = max(found.misses, key=lambda each: abs(each.off))
    off, height = tell(abs(miss.off), Kind.FORCE, style), tell(miss.height, Kind.LENGTH, style)
    low, high = tr("Slip", "Fail: {off} low at {height}"), tr("Slip", "Fail: {off} high at {height}")
    return (low if miss.off < 0 else high).format(off=off, height=height)


def natural_key(text: str) -> str:
    """A sort key in which figures count as numbers: "S9" comes before "S10"."""
    runs = ("".join(run) for _, run in groupby(text.lower(), key=str.isdigit))
    return "".join(run.zfill(12) if run.isdigit() else run for run in runs)
