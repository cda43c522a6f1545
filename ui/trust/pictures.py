"""The pictures of the page by name, in the order in which a slip is read."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ui.trust.before_after import before_after
from ui.trust.load_lost import load_lost
from ui.trust.loads_by_height import loads_by_height
from ui.trust.over_time import over_time
from ui.trust.rate_against_load import rate_against_load
from ui.trust.residuals import residuals
from ui.trust.wording import tr

if TYPE_CHECKING:
    from loadbench.findings.set_check.result import SetCheck
    from loadbench.units import Style
    from ui.trust.scene import Scene

Build = Callable[["SetCheck", "Style"], "Scene"]


@dataclass(frozen=True, slots=True)
class Picture:
    """One picture: what it is called, what it shows, what makes it."""

    name: str
    word: str
    tip: str
    build: Build


def pictures() -> tuple[Picture, ...]:
    """Every picture, with its words in the user's language."""
    return (
        Picture(
            "loads", tr("Loads by height"), tr("Every spring at every height, against its window"), loads_by_height
        ),
        Picture("rates", tr("Rate against load"), tr("Every spring by its load and its rate"), rate_against_load),
        Picture("residuals", tr("Residuals"), tr("Every reading off the line of its own spring"), residuals),
        Picture("lost", tr("Load lost"), tr("What each spring has lost, the most first"), load_lost),
        Picture("before", tr("Before and after"), tr("Every spring at the last check and now"), before_after),
        Picture("time", tr("Loss over time"), tr("What the set has lost at each check, with its trend"), over_time),
    )
