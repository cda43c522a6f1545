"""JUDGED: the rule book, and the judge that turns an Analysis into findings and advice."""

from __future__ import annotations

from loadbench.findings.finding import Advice, Amount, Choice, Finding, Level, Nature, Sentence, Verdicts
from loadbench.findings.judge import judge

__all__ = ["Advice", "Amount", "Choice", "Finding", "Level", "Nature", "Sentence", "Verdicts", "judge"]
