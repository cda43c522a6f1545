"""What each key of the job holds: the marks on the model's fields that say quantity, number, word or plain text."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from loadbench.units import Kind


class Sense(StrEnum):
    """Which side of zero a value may stand on."""

    ANY = "any value"
    NOT_NEGATIVE = "zero or more"
    POSITIVE = "above zero"


@dataclass(frozen=True, slots=True)
class Quantity:
    """A text with a unit. `most` is the largest value, in SI, that can be meant; beyond it a point was forgotten.

    The most of each mass is common practice with room for large marine diesels: it finds grams read as pounds.
    """

    kind: Kind
    sense: Sense = Sense.POSITIVE
    most: float = float("inf")


@dataclass(frozen=True, slots=True)
class Number:
    """A number without a dimension."""

    sense: Sense = Sense.POSITIVE
    most: float = float("inf")


@dataclass(frozen=True, slots=True)
class Words:
    """One of a closed list of words; another word is a fault of value. `also` maps other spellings to ours."""

    words: tuple[str, ...]
    also: tuple[tuple[str, str], ...] = ()

    def read(self, text: str) -> str | None:
        """The word of the list that a text means, or None."""
        plain = "-".join(text.strip().lower().replace("_", "-").split())
        plain = dict(self.also).get(plain, plain)
        return plain if plain in self.words else None


def _length(sense: Sense, most: float = 1.0) -> Quantity:
    return Quantity(Kind.LENGTH, sense, most)


Length = Annotated[str | None, _length(Sense.POSITIVE)]
LengthOrZero = Annotated[str | None, _length(Sense.NOT_NEGATIVE)]
LengthAny = Annotated[str | None, _length(Sense.ANY)]
ShimLength = Annotated[str, _length(Sense.NOT_NEGATIVE, 0.05)]
StockLength = Annotated[str, _length(Sense.POSITIVE)]
SmallLength = Annotated[str | None, _length(Sense.NOT_NEGATIVE, 0.01)]
Radius = Annotated[str | None, _length(Sense.POSITIVE, 100.0)]
Roughness = Annotated[str | None, Quantity(Kind.FILM, Sense.NOT_NEGATIVE, 1e-4)]
Force = Annotated[str | None, Quantity(Kind.FORCE, Sense.POSITIVE, 1e5)]
ForceOrZero = Annotated[str | None, Quantity(Kind.FORCE, Sense.NOT_NEGATIVE, 1e5)]
Rate = Annotated[str | None, Quantity(Kind.RATE, Sense.POSITIVE, 1e7)]
Stiffness = Annotated[str | None, Quantity(Kind.RATE, Sense.POSITIVE, 1e12)]
Damping = Annotated[str | None, Quantity(Kind.DAMPING, Sense.NOT_NEGATIVE)]
ValveMass = Annotated[str | None, Quantity(Kind.MASS, Sense.POSITIVE, 3.0)]
RetainerMass = Annotated[str | None, Quantity(Kind.MASS, Sense.POSITIVE, 1.0)]
LocksMass = Annotated[str | None, Quantity(Kind.MASS, Sense.POSITIVE, 0.3)]
PushrodMass = Annotated[str | None, Quantity(Kind.MASS, Sense.POSITIVE, 2.0)]
FollowerMass = Annotated[str | None, Quantity(Kind.MASS, Sense.POSITIVE, 3.0)]
SpringMass = Annotated[str | None, Quantity(Kind.MASS, Sense.POSITIVE, 3.0)]
MovingMass = Annotated[str | None, Quantity(Kind.MASS, Sense.POSITIVE, 10.0)]
Inertia = Annotated[str | None, Quantity(Kind.INERTIA, Sense.POSITIVE, 1.0)]
Pressure = Annotated[str | None, Quantity(Kind.PRESSURE, Sense.NOT_NEGATIVE, 1e8)]
Speed = Annotated[str | None, Quantity(Kind.SPEED, Sense.POSITIVE, 5300.0)]
Angle = Annotated[str | None, Quantity(Kind.ANGLE, Sense.ANY)]
AnglePositive = Annotated[str | None, Quantity(Kind.ANGLE, Sense.POSITIVE)]
Temperature = Annotated[str | None, Quantity(Kind.TEMPERATURE, Sense.POSITIVE, 1300.0)]

Ratio = Annotated[float | None, Number(Sense.POSITIVE, 5.0)]
Count = Annotated[float | None, Number(Sense.POSITIVE, 1000.0)]
Percent = Annotated[float | None, Number(Sense.NOT_NEGATIVE, 100.0)]
Share = Annotated[float | None, Number(Sense.NOT_NEGATIVE, 1.0)]
NumberOrZero = Annotated[float | None, Number(Sense.NOT_NEGATIVE)]
NumberPositive = Annotated[float | None, Number(Sense.POSITIVE)]
NumberAny = Annotated[float | None, Number(Sense.ANY)]

UNITS = Words(("inch-pound", "metric"))
FAMILIES = Words(("flat-tappet-solid", "flat-tappet-hydraulic", "roller-solid", "roller-hydraulic", "bucket"))
AXLES = Words(("needle", "bushed"))
TRAVELS = Words(("standard", "short"))
CAM_KINDS = Words(("flat", "roller", "bucket"))
LASH_KINDS = Words(("solid", "hydraulic"))
LASH_STATES = Words(("cold", "hot"))
USES = Words(("street", "street-strip", "drag", "circuit", "endurance", "marine", "tow"))
PRELOAD_WAYS = Words(("custom", "minimal", "bottomed"))
READINGS_ON = Words(("flat", "retainer"), (("in-retainer", "retainer"), ("in-the-retainer", "retainer")))
DIRECTIONS = Words(("loading", "unloading"))
SEAT_CUPS = Words(("steel", "none"))
GUIDES = Words(("tie-bar", "keyed", "body"), (("tiebar", "tie-bar"),))
FEEDS = Words(("pressure", "splash"))
ADJUSTERS = Words(("pivot", "pushrod", "valve-tip", "bucket-shim", "none"))
WIRE_SHAPES = Words(("round", "ovate", "rectangular"))
ANGLE_KINDS = Words(("cam", "crank"))
LIFT_SIDES = Words(("lobe", "valve"))
PARTS_OF_CASTING = Words(("iron", "aluminium", "steel"), (("aluminum", "aluminium"), ("cast-iron", "iron")))
MEANINGS = Words(("spring", "part", "height", "load", "rate", "repeat", "direction", "mark", "unit", "nothing"))
LAYOUTS = Words(("row-a-spring", "row-a-reading"))
SEPARATORS = Words(("comma", "semicolon", "tab", "bar", "blanks"))
DECIMALS = Words(("point", "comma"))
MEDIA = Words(("image/jpeg", "image/png"))
