"""How well a typed pattern fits a text: letters in order, best at the beginnings of words and side by side."""

from __future__ import annotations

NO_FIT = -1


def fit(pattern: str, text: str) -> int:
    """How well a pattern fits.

    Args:
        pattern: what was typed; blanks part it into words that may fit in any order.
        text: what it is sought in.

    Returns:
        Higher is better; NO_FIT where a letter is missing or out of order.
    """
    total = 0
    for word in pattern.casefold().split():
        score = _fit_word(word, text.casefold())
        if score == NO_FIT:
            return NO_FIT
        total += score
    return total * 100 // (100 + len(text)) if total else 0


def _fit_word(word: str, text: str) -> int:
    at = text.find(word)
    if at >= 0:
        return 100 * len(word) + (100 if at == 0 or not text[at - 1].isalnum() else 0)
    score, last = 0, -2
    for letter in word:
        at = text.find(letter, last + 1 if last >= 0 else 0)
        if at < 0:
            return NO_FIT
        score += 30 if at == last + 1 else 10
        score += 20 if at == 0 or not text[at - 1].isalnum() else 0
        last = at
    return score
