"""What a pair of lobe and follower is said to bear, from a table whose every row names its source."""

from __future__ import annotations

import functools
import tomllib
from dataclasses import dataclass
from importlib import resources

from loadbench.follower.elastic import (
    ALUMINIUM,
    BRONZE,
    CAST_IRON,
    CERAMIC,
    CHILLED_IRON,
    NODULAR_IRON,
    STEEL,
    Elastic,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """A pair of materials; `stress` is the greatest Hertz pressure it is said to bear, Pa; `seen` read or memory."""

    id: str
    label: str
    lobe: tuple[str, ...]
    against: str
    stress: float
    source: str
    seen: str


@functools.cache
def pairs() -> tuple[Pair, ...]:
    """All pairs of the table, in its order."""
    text = resources.files("loadbench.follower").joinpath("contact_limits.toml").read_text(encoding="utf-8")
    return tuple(
        Pair(
            id=row["id"], label=row["label"], lobe=tuple(row["lobe"]), against=row["against"], stress=row["stress"],
            source=row["source"], seen=row["seen"],
        )
        for row in tomllib.loads(text)["pair"]
    )  # fmt: skip


def _plain(text: str | None) -> str:
    words = (text or "").strip().lower().replace("-", " ").replace("_", " ")
    return " ".join(words.split()).replace("grey", "gray")


def pair_of(lobe: str | None, follower: str | None, *, rolls: bool) -> Pair | None:
    """The pair that two materials make, as they were typed.

    Args:
        lobe: material of the lobe.
        follower: material of the follower; a roller counts as hardened steel.
        rolls: whether the follower has a roller.

    Returns:
        The row of the table; None where it has none for them. Words are taken whole and in any order, those that say
        nothing of the material left out: "billet steel" and "steel billet" are one, "stainless steel" is none.
    """
    cam = _telling(_plain(lobe))
    against = _against(follower, rolls)
    if not cam or against is None:
        return None
    return next((each for each in pairs() if each.against == against and cam in map(_telling, each.lobe)), None)


def what_is_known(lobe: str | None, follower: str | None, *, rolls: bool) -> str:
    """What the table says of two materials, or what it has instead.

    Args:
        lobe: material of the lobe, as typed.
        follower: material of the follower.
        rolls: whether the follower has a roller.

    Returns:
        A sentence.
    """
    if (pair := pair_of(lobe, follower, rolls=rolls)) is not None:
        seen = "from memory" if pair.seen == "memory" else "read"
        return f"{pair.label[:1].upper()}{pair.label[1:]}: guidance of one source, {seen}, and no proof."
    against = _against(follower, rolls)
    rows = tuple(each for each in pairs() if each.against == against)
    if rows:
        others = "; ".join(each.label for each in rows)
        return f"Nothing is known here of {_named(lobe, 'this lobe')} against that follower; known are: {others}."
    return f"Nothing is known here of {_named(follower, 'this follower')} on any lobe."


def _named(material: str | None, else_: str) -> str:
    return f'"{material.strip()}"' if material and material.strip() else else_


NO_WORDS = {"camshaft", "cam", "lobe", "core", "ground", "sae", "aisi", "astm", "a48", "alloy"}


def _telling(text: str) -> frozenset[str]:
    """The words of a material that say which one it is."""
    return frozenset(_plain(text).split()) - NO_WORDS


def _against(follower: str | None, rolls: bool) -> str | None:
    if rolls:
        return "roller"
    face = _face(_plain(follower))
    return None if face == "unknown" else f"flat {face}"


def _face(material: str) -> str:
    if "tool" in material:
        return "tool steel"
    if "iron" in material:
        return "iron"
    return "steel" if "steel" in material else material or "unknown"


ELASTIC_WORDS = (
    ("nodular", NODULAR_IRON), ("ductile", NODULAR_IRON), ("gray", CAST_IRON), ("cast iron", CAST_IRON),
    ("iron", CHILLED_IRON), ("ceramic", CERAMIC), ("silicon nitride", CERAMIC), ("bronze", BRONZE),
    ("alumin", ALUMINIUM), ("steel", STEEL), ("billet", STEEL),
)  # fmt: skip
"""Words of a material and its constants; the first that is in the text counts."""


def elastic_of(material: str | None) -> Elastic | None:
    """Elastic constants of a material as it was typed.

    Args:
        material: such as "steel", "chilled iron", "tool steel", "cast iron", "ceramic", "bronze".

    Returns:
        Its constants; None where nothing is known of it. "iron" alone counts as chilled iron: the stiffer asks more.
    """
    plain = _plain(material)
    return next((constants for word, constants in ELASTIC_WORDS if word in plain), None)
