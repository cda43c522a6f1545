"""The parts of the job that describe what is on the bench: spring, valve gear, cam, follower, duty."""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict

from loadbench.job import kinds as k


class Part(BaseModel):
    """The base of every part: frozen, no unknown keys, no silent conversions."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True, allow_inf_nan=False)


class Record(Part):
    """Who measured, when, with what, and how long the springs have run."""

    measured_by: str | None = None
    date: str | None = None
    tester: str | None = None
    tester_serial: str | None = None
    calibrated_on: str | None = None
    engine: str | None = None
    hours: k.NumberOrZero = None
    passes: k.NumberOrZero = None


class Tester(Part):
    """Stated accuracies of the spring tester, as half-widths."""

    load_accuracy_percent: k.Percent = None
    load_accuracy_fixed: k.ForceOrZero = None
    load_repeatability: k.ForceOrZero = None
    height_accuracy: k.SmallLength = None


class Instruments(Part):
    """Stated accuracies of the other instruments, as half-widths."""

    installed_height: k.SmallLength = None
    bind_height: k.SmallLength = None
    lift: k.SmallLength = None
    seal: k.SmallLength = None


class Reading(Part):
    """One load at one height; `part` says of which member of a nest, or of the pair."""

    part: str | None = None
    height: k.Length = None
    load: k.ForceOrZero = None
    direction: Annotated[str | None, k.DIRECTIONS] = None


class SpecPoint(Part):
    """A load that the spring's sheet promises at a height, with its window."""

    height: k.Length = None
    load: k.Force = None
    minus: k.ForceOrZero = None
    plus: k.ForceOrZero = None


class Wire(Part):
    """The wire's section."""

    shape: Annotated[str | None, k.WIRE_SHAPES] = None
    diameter: k.Length = None
    width: k.Length = None
    thickness: k.Length = None


class Coil(Part):
    """One spring of a nest: where it stands, and its own measurements and geometry.

    `tapered_coils` are the active coils over which the mean diameter falls to the small one, at the retainer's end;
    `retainer_step_diameter` is that of the retainer's step that centres the coil, within it.
    """

    name: str | None = None
    seat_step: k.LengthOrZero = None
    retainer_step: k.LengthOrZero = None
    bind_height: k.Length = None
    rate: k.Rate = None
    readings: tuple[Reading, ...] = ()
    wire: Wire = Wire()
    mean_diameter: k.Length = None
    small_mean_diameter: k.Length = None
    tapered_coils: k.Count = None
    active_coils: k.Count = None
    total_coils: k.Count = None
    free_height: k.Length = None
    ends: str | None = None
    material: str | None = None
    shot_peened: bool | None = None
    preset: bool | None = None
    retainer_step_diameter: k.Length = None


class Damper(Part):
    """A flat damper between two members: its friction load and its strip."""

    load: k.ForceOrZero = None
    width: k.Length = None
    thickness: k.Length = None


class SpringMakerLimits(Part):
    """What the spring maker's sheet allows."""

    sheet: str | None = None
    lift_max: k.Length = None
    seat_load_min: k.Force = None
    seat_load_max: k.Force = None
    open_load_max: k.Force = None
    bind_height: k.Length = None


class Spring(Part):
    """The spring as it stands in the head, its readings and its sheet."""

    name: str | None = None
    bare_height: k.Length = None
    shims: tuple[k.ShimLength, ...] = ()
    installed_height: k.Length = None
    bind_height: k.Length = None
    rate: k.Rate = None
    readings_on: Annotated[str | None, k.READINGS_ON] = None
    readings: tuple[Reading, ...] = ()
    spec: tuple[SpecPoint, ...] = ()
    mass: k.SpringMass = None
    seat_cup: Annotated[str | None, k.SEAT_CUPS] = None
    damper: Damper = Damper()
    coils: tuple[Coil, ...] = ()
    maker_limits: SpringMakerLimits = SpringMakerLimits()


class Masses(Part):
    """The moving parts."""

    valve: k.ValveMass = None
    retainer: k.RetainerMass = None
    locks: k.LocksMass = None
    pushrod: k.PushrodMass = None
    follower: k.FollowerMass = None
    rocker_inertia: k.Inertia = None
    rocker_valve_arm: k.Length = None


class Pushrod(Part):
    """The pushrod as a column."""

    diameter: k.Length = None
    wall: k.Length = None
    length: k.Length = None
    material: str | None = None


class Adjuster(Part):
    """Where and with which thread the lash or preload is set."""

    at: Annotated[str | None, k.ADJUSTERS] = None
    thread: str | None = None
    pushrod_arm: k.Length = None
    cup_angle: k.Angle = None
    pushrod_lean: k.Angle = None


class Warming(Part):
    """From the temperature at which it is set to that at which it runs, and the lengths that grow."""

    cold: k.Temperature = None
    warm: k.Temperature = None
    head_height: k.Length = None
    block_height: k.Length = None
    stem_length: k.Length = None
    stem_warm: k.Temperature = None


class ValveGear(Part):
    """From lobe to valve: ratio, lifts, lash, masses, adjuster."""

    rocker_ratio: k.Ratio = None
    ratio_curve: tuple[tuple[k.LengthOrZero, float], ...] = ()
    lobe_lift: k.Length = None
    valve_lift: k.Length = None
    measured_net_lift: k.Length = None
    lash: k.LengthOrZero = None
    lash_at: Annotated[str | None, k.LASH_STATES] = None
    retainer_to_seal: k.Length = None
    head_diameter: k.Length = None
    masses: Masses = Masses()
    pushrod: Pushrod = Pushrod()
    stiffness: k.Stiffness = None
    damping: k.Damping = None
    adjuster: Adjuster = Adjuster()
    head: Annotated[str | None, k.PARTS_OF_CASTING] = None
    block: Annotated[str | None, k.PARTS_OF_CASTING] = None
    warming: Warming = Warming()


class Duration(Part):
    """Crank degrees over a lift."""

    lift: k.LengthOrZero = None
    crank: k.AnglePositive = None


class Design(Part):
    """What a polydyne lobe was made for: speed of the engine, rocker ratio, and all else at the valve."""

    speed: k.Speed = None
    mass: k.MovingMass = None
    spring_rate: k.Rate = None
    stiffness: k.Stiffness = None
    seat_load: k.Force = None
    lash: k.SmallLength = None
    ratio: k.Ratio = None


class Law(Part):
    """A lift law in place of a measured table."""

    name: str | None = None
    opening: k.Angle = None
    closing: k.Angle = None
    design: Design = Design()


class Ramps(Part):
    """The slow rise ahead of a lobe's flank and the slow fall after the other: height, and crank degrees of each."""

    height: k.Length = None
    opening: k.AnglePositive = None
    closing: k.AnglePositive = None


class Cam(Part):
    """The lobe: its kind, its material, its lift."""

    kind: Annotated[str | None, k.CAM_KINDS] = None
    lash_kind: Annotated[str | None, k.LASH_KINDS] = None
    material: str | None = None
    law: Law = Law()
    ramps: Ramps = Ramps()
    profile: tuple[tuple[k.Angle, k.LengthAny], ...] = ()
    profile_angle: Annotated[str | None, k.ANGLE_KINDS] = None
    profile_side: Annotated[str | None, k.LIFT_SIDES] = None
    profile_name: str | None = None
    durations: tuple[Duration, ...] = ()
    base_radius: k.Length = None
    face_width: k.Length = None
    taper: k.Angle = None
    roughness: k.Roughness = None


class Oil(Part):
    """The oil that will run in the engine."""

    grade: str | None = None
    category: str | None = None
    temperature: k.Temperature = None
    viscosity_40_cst: k.NumberPositive = None
    viscosity_100_cst: k.NumberPositive = None
    phosphorus_ppm: k.NumberOrZero = None


class Duty(Part):
    """What the engine is for."""

    use: Annotated[str | None, k.USES] = None
    speed_limit: k.Speed = None
    idle_speed: k.Speed = None
    idle_share: k.Share = None
    life_hours: k.NumberPositive = None
    first_running: bool | None = None
    boost: k.Pressure = None
    exhaust_back_pressure: k.Pressure = None
    cylinder_pressure_at_opening: k.Pressure = None
    oil: Oil = Oil()


class Targets(Part):
    """The loads the builder wants, and the room that a spring to be found has."""

    seat_load: k.Force = None
    open_load: k.Force = None
    tolerance_percent: k.Percent = None
    bind_height_max: k.Length = None
    outer_diameter_max: k.Length = None
    inner_diameter_min: k.Length = None
