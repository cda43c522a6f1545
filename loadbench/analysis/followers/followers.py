"""One line's follower: each chapter adds its figures to the line's and its curves to the result."""

from __future__ import annotations

from loadbench.analysis.builder import Bench
from loadbench.analysis.followers.axle_figures import add_axle
from loadbench.analysis.followers.contact_figures import add_contact
from loadbench.analysis.followers.cycles import cycles_of
from loadbench.analysis.followers.oil_stated import oil_of
from loadbench.analysis.followers.plunger_figures import add_plunger
from loadbench.analysis.followers.result import FollowerAnalysis
from loadbench.analysis.followers.warming import add_setting
from loadbench.analysis.motion.result import MotionAnalysis


def followers_of(bench: Bench, motion: MotionAnalysis) -> FollowerAnalysis:
    """What is known of a line's follower; its figures join the line's.

    Args:
        bench: the line, with its loads, setting and motion found.
        motion: of the line.

    Returns:
        Cycles, contact, travels.
    """
    idle, limit = cycles_of(bench, motion)
    oil = oil_of(bench)
    contact = add_contact(bench, idle, limit, motion, oil)
    add_axle(bench, idle, limit, motion, oil)
    travels = add_plunger(bench, motion, oil)
    add_setting(bench)
    return FollowerAnalysis(
        idle=idle,
        limit=limit,
        contact_idle=contact.idle,
        contact_limit=contact.limit,
        allowed=contact.allowed,
        viscosity=oil.dynamic,
        travels=travels,
        typical=contact.typical,
        missing=motion.missing,
    )
