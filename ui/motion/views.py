"""Which views the Motion page has: their words, the figures that belong to each, and how each is made when wanted."""

from __future__ import annotations

from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING, cast

from ui.motion.wording import tr

if TYPE_CHECKING:
    from collections.abc import Callable

    from ui.motion.motion_picture import MotionPicture
    from ui.session import Session


@dataclass(frozen=True, slots=True, kw_only=True)
class MotionView:
    """A view: its word, what it shows, the groups of figures beneath; whether it wants the gear, the slider, inputs."""

    key: str
    word: str
    tip: str
    groups: tuple[str, ...]
    place: str
    needs_gear: bool = True
    has_speed: bool = True
    wants_inputs: bool = False
    picture: bool = True
    """Whether it is a picture, that can be read out, copied and saved."""
    has_lobes: bool = False
    """Whether durations and another lobe can be looked at beneath it."""
    has_full: bool = False
    """Whether the follower can be looked at as a mass of its own, and the sweep speed by speed beneath."""
    over_angle: bool = True
    """Whether it stands over the cam's angle: where one is read out, so are the others."""
    of_sweep: bool = False
    """Whether all that it shows is of the last sweep: an edit changes nothing before the next one is there."""

    def make(self, session: Session) -> MotionPicture:
        """The view, made now."""
        module, _, name = self.place.partition(":")
        make = cast("Callable[[Session], MotionPicture]", getattr(import_module(module), name))
        return make(session)


def views() -> tuple[MotionView, ...]:
    """The views, with their words in the user's language."""
    return (
        MotionView(
            key="lift",
            word=tr("Lift"),
            tip=tr("Lift, velocity, acceleration and jerk over the cam\u2019s angle"),
            groups=("lobe", "masses"),
            place="ui.motion.lift_view:LiftView",
            needs_gear=False,
            has_lobes=True,
        ),
        MotionView(
            key="force",
            word=tr("Force"),
            tip=tr("The contact force over the cam\u2019s angle at one speed"),
            groups=("balance", "dynamic", "pushrod"),
            place="ui.motion.force_view:ForceView",
        ),
        MotionView(
            key="map",
            word=tr("Map"),
            tip=tr("The contact force over speed and cam angle, and where contact is lost"),
            groups=("dynamic",),
            place="ui.motion.map_view:MapView",
            of_sweep=True,
        ),
        MotionView(
            key="together",
            word=tr("All"),
            tip=tr("All over one angle: lift, velocity, acceleration, contact force and map"),
            groups=("dynamic", "balance"),
            place="ui.motion.together_view:TogetherView",
        ),
        MotionView(
            key="speeds",
            word=tr("Speeds"),
            tip=tr("Forces, seating speed and surge load against the speed"),
            groups=("dynamic", "balance"),
            place="ui.motion.speeds_view:SpeedsView",
            has_full=True,
            over_angle=False,
        ),
        MotionView(
            key="matters",
            word=tr("What matters"),
            tip=tr("Which input moves the speed at which contact is lost most"),
            groups=("masses", "balance"),
            place="ui.motion.matters_view:MattersView",
            has_speed=False,
            over_angle=False,
            wants_inputs=True,
        ),
        MotionView(
            key="wanted",
            word=tr("Wanted"),
            tip=tr("Which load, rate or mass a wanted speed with a wanted margin needs"),
            groups=("balance", "masses"),
            place="ui.motion.wanted_view:WantedView",
            has_speed=False,
            over_angle=False,
            picture=False,
        ),
    )
