"""What the match says: a cell for each family and criterion, the recommendation, and what would have to change."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from loadbench.analysis.figure import FigureKind
from loadbench.findings.finding import Choice, Level, Sentence


class Kit(StrEnum):
    """A follower family as it is bought: what the columns of the match are. The words are those of the JSON."""

    FLAT_SOLID = "flat-tappet-solid"
    FLAT_HYDRAULIC = "flat-tappet-hydraulic"
    ROLLER_HYDRAULIC_STANDARD = "roller-hydraulic-standard"
    ROLLER_HYDRAULIC_SHORT = "roller-hydraulic-short"
    ROLLER_SOLID_NEEDLE = "roller-solid-needle"
    ROLLER_SOLID_BUSHED = "roller-solid-bushed"
    BUCKET = "bucket"


KIT_WORDS = {
    Kit.FLAT_SOLID: "Flat tappet, solid",
    Kit.FLAT_HYDRAULIC: "Flat tappet, hydraulic",
    Kit.ROLLER_HYDRAULIC_STANDARD: "Hydraulic roller, standard travel",
    Kit.ROLLER_HYDRAULIC_SHORT: "Hydraulic roller, short travel",
    Kit.ROLLER_SOLID_NEEDLE: "Solid roller, needle axle",
    Kit.ROLLER_SOLID_BUSHED: "Solid roller, bushed axle",
    Kit.BUCKET: "Bucket",
}


class Criterion(StrEnum):
    """A row of the match."""

    OPEN_LOAD = "open-load"
    SPEED = "speed"
    CONTACT = "contact"
    AXLE_LIFE = "axle-life"
    FILM_AT_IDLE = "film-at-idle"
    OIL_TO_AXLE = "oil-to-axle"
    OIL_ADDITIVE = "oil-additive"
    TRAVEL = "travel"
    LASH_UPKEEP = "lash-upkeep"
    HEAD_MATERIAL = "head-material"
    DUTY = "duty"


CRITERION_WORDS = {
    Criterion.OPEN_LOAD: "Open load",
    Criterion.SPEED: "Speed",
    Criterion.CONTACT: "Contact of lobe and follower",
    Criterion.AXLE_LIFE: "Axle",
    Criterion.FILM_AT_IDLE: "Oil film at idle",
    Criterion.OIL_TO_AXLE: "Oil to the axle",
    Criterion.OIL_ADDITIVE: "Oil additive",
    Criterion.TRAVEL: "Plunger travel",
    Criterion.LASH_UPKEEP: "Upkeep of lash",
    Criterion.HEAD_MATERIAL: "Head material",
    Criterion.DUTY: "Duty",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One family under one criterion. `level` None: the criterion does not concern the family.

    `value` and `limit` are SI in the unit of `value_kind`. `physics` and `practice` are the two sayings where both
    speak; `disagree` where one is clear and the other is not. `sentence` says what the level rests on, and what was
    taken for a follower that the job does not state. `missing` are the fields that either side still waits for;
    `line` is the line of the level, None where it is of none or the job has one.
    """

    kit: Kit
    criterion: Criterion
    level: Level | None
    sentence: Sentence
    value: float | None = None
    value_kind: FigureKind | None = None
    limit: float | None = None
    source: str = "common practice"
    physics: Sentence | None = None
    practice: Sentence | None = None
    disagree: bool = False
    missing: tuple[str, ...] = ()
    about: tuple[str, ...] = ()
    rule: str = ""
    line: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """The whole match. `family` holds choice (a Kit's word), runner-up and the reason in plain words.

    `changes` says for each other kit what would have to change for it to suit, for every kit where none is chosen;
    `stated` is the job's own kit, None where it is not stated whole: a roller without its travel or axle.
    """

    cells: tuple[Cell, ...]
    family: Choice
    changes: dict[Kit, tuple[Sentence, ...]]
    stated: Kit | None = None

    def cell(self, kit: Kit, criterion: Criterion) -> Cell:
        """The cell of a family under a criterion."""
        return next(each for each in self.cells if each.kit is kit and each.criterion is criterion)
