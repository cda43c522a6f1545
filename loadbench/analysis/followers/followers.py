"""One line's follower: each chapter adds its figures to the line's and its curves to the result."""

from __future__ import annotations

from loadbench.analysis.builder import Bench
from loadbench.analysis.followers.cycles import cycles_of
from loadbench.analysis.followers.result import FollowerAnalysis
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
    return FollowerAnalysis(idle=idle, limit=limit)
