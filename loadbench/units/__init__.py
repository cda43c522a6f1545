"""Text <-> SI floats: the one grammar that every quantity in the program goes through."""

from __future__ import annotations

from loadbench.units.entry import Parsed, display_unit, everyday_unit, parse, with_unit
from loadbench.units.kinds import Kind, Style, example
from loadbench.units.nudging import nudged
from loadbench.units.screw_thread import parse_thread
from loadbench.units.table import unit_words
from loadbench.units.telling import Told, from_display, step, tell, to_display

__all__ = [
    "Kind",
    "Parsed",
    "Style",
    "Told",
    "display_unit",
    "everyday_unit",
    "example",
    "from_display",
    "nudged",
    "parse",
    "parse_thread",
    "step",
    "tell",
    "to_display",
    "unit_words",
    "with_unit",
]
