"""A header's words over columns of blanks: which word belongs to which column."""

from __future__ import annotations

from loadbench.readings.printout.tokens import PHRASE, WORD, Spans, Token, tokens_in


def heading(line: str, spans: Spans) -> list[tuple[int, Token]]:
    """The words of a header, each with the column that it stands over.

    As many phrases as columns go one to each. Otherwise a phrase is parted where it stands over two columns and has a
    blank at the gap, and each part goes to the column that it covers most of, or is nearest to. Where that leaves a
    column bare and there are as many words as columns, the words go one to each.

    Args:
        line: the header.
        spans: from and to (excluded) of the columns, in order, the first character is 0.

    Returns:
        Column, from 0, and token, in order.
    """
    phrases = tokens_in(line, PHRASE)
    if len(phrases) == len(spans):
        return list(enumerate(phrases))
    parts = [part for phrase in phrases for part in _parted(phrase, spans)]
    placed = [(nearest_column(part, spans), part) for part in parts]
    words = tokens_in(line, WORD)
    if len({column for column, _ in placed}) < len(spans) == len(words):
        return list(enumerate(words))
    return placed


def nearest_column(token: Token, spans: Spans) -> int:
    """The column that a token shares most characters with; if none, the nearest."""

    def closeness(place: int) -> int:
        start, end = spans[place]
        return min(token.end, end) - max(token.start, start)

    return max(range(len(spans)), key=closeness)


def _parted(phrase: Token, spans: Spans) -> list[Token]:
    """A phrase, split at the blanks that stand in a gap with the columns on both sides covered."""
    parts = [phrase]
    for place in (found for found, letter in enumerate(phrase.text) if letter == " "):
        last = parts[-1]
        at = phrase.start + place - last.start
        left, right = Token(last.start, last.text[:at]), Token(last.start + at + 1, last.text[at + 1 :])
        first_word = Token(right.start, right.text.split(" ")[0])
        here, there = _covered(left, spans), _covered(first_word, spans)
        in_gap = all(not start <= phrase.start + place < end for start, end in spans)
        if in_gap and here and there and max(here) < min(there):
            parts[-1:] = [left, right]
    return parts


def _covered(token: Token, spans: Spans) -> list[int]:
    return [place for place, (start, end) in enumerate(spans) if token.start < end and start < token.end]
