"""What an item of the check list before fitting is."""

from __future__ import annotations

from dataclasses import dataclass

from loadbench.findings.finding import Level, Sentence


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckItem:
    """One thing to do or look at before the follower goes in.

    `id` is what the job keeps initials under; `level` and `found` tell what the job's own numbers say of it, None where
    they say nothing. `source` is `common practice` or a source's id. `about` are fields it rests on.
    """

    id: str
    group: str
    sentence: Sentence
    found: Sentence | None = None
    level: Level | None = None
    source: str = "common practice"
    about: tuple[str, ...] = ()
    initials: str = ""
    date: str = ""
