"""The words of a line of a printout, and which of them are numbers; a number and its unit are one word."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

UNITS = "inches|inch|in|mm|cm|lbf|lbs|lb|kN|daN|N|kgf|kg|kp"
WORD = re.compile(rf"[-+]?[\d.,]*\d (?:\d+/\d+(?: (?:{UNITS})(?!\S))?|(?:{UNITS})(?!\S))|\S+")
PHRASE = re.compile(r"\S+(?: \S+)*")
# A header's word with the small words and brackets after it: "Spring no.", "Height in", "Load (N)".
HEAD = re.compile(r"\S+(?: +[a-z(\[/#]\S*)*")
FIGURE = re.compile(
    r"[-+\u2212(]?(?:\d[\d.,'\u2019]*|[.,]\d+)(?:e[-+]?\d+)?(?:[ -]?\d+/\d+)?[*!?)]?(?:\s?[A-Za-z\"'%]{1,6})?"
)
RULE_STARTS = frozenset("-=_+*~:─━═")
RULE = re.compile(r"(?=.*(?:---|===|___|\*\*\*|~~~|───|━━━|═══|--+[:+]))[-=_+*~:|\s─━═┼╪]+")

Spans = list[tuple[int, int]]


@dataclass(frozen=True, slots=True)
class Token:
    """A word and where it stands: from the character `start`, the first is 0."""

    start: int
    text: str

    @property
    def end(self) -> int:
        """The character after it."""
        return self.start + len(self.text)


def tokens_in(line: str, pattern: re.Pattern[str]) -> list[Token]:
    """The words or phrases of a line."""
    return [Token(found.start(), found[0]) for found in pattern.finditer(line)]


def is_figure(word: str) -> bool:
    """Whether a word is a number, with a unit or a mark or without."""
    return FIGURE.fullmatch(word) is not None


def numbers_apart(cell: str) -> bool:
    """Whether a cell holds two numbers with a blank between, so that it is two cells."""
    return " " in cell and sum(map(is_figure, WORD.findall(cell))) > 1


def is_rule(cells: Sequence[str]) -> bool:
    """Whether a row is a line drawn with dashes or the like."""
    first = next((cell for cell in cells if cell), " ")
    return first[0] in RULE_STARTS and RULE.fullmatch(" ".join(cells)) is not None
