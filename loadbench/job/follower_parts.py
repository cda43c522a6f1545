"""The parts of the job that describe the follower: axle, plunger, sizes, guidance, setting."""

from __future__ import annotations

from typing import Annotated

from loadbench.job import kinds as k
from loadbench.job.parts import Part


class Needles(Part):
    """The needles of a roller's axle."""

    count: k.Count = None
    diameter: k.Length = None
    length: k.Length = None
    axle_diameter: k.Length = None


class Bush(Part):
    """The bush of a roller's axle."""

    bore: k.Length = None
    length: k.Length = None
    clearance: k.LengthOrZero = None
    material: str | None = None


class AxlePin(Part):
    """The pin that a roller turns on, held in two ears: the room between them, its bore, its material."""

    span: k.Length = None
    bore: k.LengthOrZero = None
    material: str | None = None


class Plunger(Part):
    """The plunger of a hydraulic follower; `chamber` is the oil's height left under a plunger on its bottom."""

    diameter: k.Length = None
    travel: k.Length = None
    clearance: k.LengthOrZero = None
    length: k.Length = None
    chamber: k.Length = None
    air_share: k.Share = None


class Preload(Part):
    """How a hydraulic follower is set: the way, and the cold depth or the turns past zero lash."""

    way: Annotated[str | None, k.PRELOAD_WAYS] = None
    depth: k.LengthAny = None
    turns: k.NumberAny = None


class FollowerBore(Part):
    """The bore that guides the body; its ends are heights over the follower's foot while the valve is closed."""

    diameter: k.Length = None
    lower_end: k.LengthAny = None
    upper_end: k.Length = None


class OilBand(Part):
    """The band around the body that takes oil from the bore; its edges are heights over the follower's foot."""

    lower: k.LengthOrZero = None
    upper: k.Length = None


class FollowerMakerLimits(Part):
    """What the follower maker's sheet allows."""

    sheet: str | None = None
    open_load_max: k.Force = None
    speed_max: k.Speed = None
    preload_min: k.LengthOrZero = None
    preload_max: k.LengthOrZero = None
    lash_min: k.LengthOrZero = None
    lash_max: k.LengthOrZero = None


class Follower(Part):
    """The follower (lifter, tappet): family, axle, travel, sizes, setting."""

    family: Annotated[str | None, k.FAMILIES] = None
    axle: Annotated[str | None, k.AXLES] = None
    travel: Annotated[str | None, k.TRAVELS] = None
    material: str | None = None
    guide: Annotated[str | None, k.GUIDES] = None
    offset: k.LengthAny = None
    oil_side: str | None = None
    oil_feed: Annotated[str | None, k.FEEDS] = None
    body_diameter: k.Length = None
    roller_diameter: k.Length = None
    roller_width: k.Length = None
    crown_radius: k.Radius = None
    face_diameter: k.Length = None
    roughness: k.Roughness = None
    needles: Needles = Needles()
    bush: Bush = Bush()
    pin: AxlePin = AxlePin()
    plunger: Plunger = Plunger()
    preload: Preload = Preload()
    bore: FollowerBore = FollowerBore()
    oil_band: OilBand = OilBand()
    guide_clearance: k.LengthOrZero = None
    maker_limits: FollowerMakerLimits = FollowerMakerLimits()
