"""A pretended translation: every text two fifths longer, as from English into many other languages."""

from __future__ import annotations

import math
from collections.abc import Iterator
from contextlib import contextmanager

from PySide6.QtCore import QCoreApplication, QTranslator
from typing_extensions import override

LONGER = 0.4
WORD = 7


class Lengthened(QTranslator):
    """Answers with the text itself and letters after it; what goes into braces or after % stays."""

    @override
    def isEmpty(self) -> bool:
        return False

    @override
    def translate(self, context: str, sourceText: str, disambiguation: str | None = None, n: int = -1) -> str:
        return longer(sourceText)


def longer(text: str) -> str:
    """A text two fifths longer: a word grows, a sentence gets more words."""
    more = math.ceil(LONGER * len(text))
    if not text.strip() or ";;" in text:
        return text
    filling = "x" * more if len(text) < 2 * WORD else ("".join(" " if i % WORD == 0 else "x" for i in range(more)))
    return text + filling.rstrip()


@contextmanager
def everything_longer() -> Iterator[None]:
    """Within it every text that is asked for comes longer."""
    translator = Lengthened()
    QCoreApplication.installTranslator(translator)
    try:
        yield
    finally:
        QCoreApplication.removeTranslator(translator)
