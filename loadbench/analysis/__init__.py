"""Job -> Analysis: calls the physics and keeps what came out, as figures; judges nothing."""

from loadbench.analysis.figure import Figure, Input, Plain
from loadbench.analysis.line import LineAnalysis
from loadbench.analysis.result import Analysis, analyse

__all__ = ["Analysis", "Figure", "Input", "LineAnalysis", "Plain", "analyse"]
