"""One line of the job analysed: its figures, its members, its load line."""

from __future__ import annotations

from dataclasses import dataclass

from loadbench.analysis import loads, members, room
from loadbench.analysis.builder import Bench
from loadbench.analysis.coils.coils import coils_of
from loadbench.analysis.coils.result import CoilAnalysis, SurgeRange
from loadbench.analysis.coils.surge_range import surge_range_of
from loadbench.analysis.damper import add_damper
from loadbench.analysis.figure import Figure
from loadbench.analysis.followers.followers import followers_of
from loadbench.analysis.followers.result import FollowerAnalysis
from loadbench.analysis.members import Member
from loadbench.analysis.motion.motion import motion_of
from loadbench.analysis.motion.result import Dynamics, MotionAnalysis
from loadbench.analysis.nest import Nest, nest_of
from loadbench.job.stated import LineStated
from loadbench.readings.load_line import LoadLine


@dataclass(frozen=True, slots=True, kw_only=True)
class LineAnalysis:
    """One line: "common", "intake" or "exhaust"."""

    name: str
    stated: LineStated
    figures: dict[str, Figure]
    members: tuple[Member, ...]
    nest: Nest
    coils: tuple[CoilAnalysis, ...]
    surge: SurgeRange
    motion: MotionAnalysis
    follower: FollowerAnalysis
    dynamics: Dynamics | None = None

    @property
    def load_line(self) -> LoadLine | None:
        """Load against installed height; None where it cannot be had."""
        return self.nest.line

    def value(self, name: str) -> float | None:
        """A figure's value, SI; None where it cannot be had or does not belong to this line."""
        figure = self.figures.get(name)
        return None if figure is None else figure.value


def analyse_line(line: LineStated) -> LineAnalysis:
    """Compute every figure of one line, in the order in which they rest on each other."""
    bench, nest = Bench(line), nest_of(line)
    room.add_ratio(bench)
    room.add_installed_height(bench)
    room.add_lifts(bench)
    room.add_open_height(bench)
    room.add_retainer_margin(bench)
    own = members.members_of(bench, nest)
    members.least_margins(bench, own)
    loads.add_rates(bench, nest)
    loads.add_loads(bench, nest)
    add_damper(bench, nest)
    coils = coils_of(bench, nest)
    motion = motion_of(bench, coils)
    follower = followers_of(bench, motion)
    return LineAnalysis(
        name=line.name,
        stated=line,
        figures=bench.figures,
        members=own,
        nest=nest,
        coils=coils,
        surge=surge_range_of(bench),
        motion=motion,
        follower=follower,
    )
