"""What the job has to say of a spring's load: readings, stated rate, geometry; the best of them is chosen.

A member's reading is at the member's own height. A pair tested on flat anvils is not the pair in the head unless the
steps are zero. A pair and its members are never added.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from loadbench.arrays import Floats
from loadbench.job.stated import LineStated
from loadbench.readings.accuracy import Accuracy
from loadbench.readings.coil_geometry import coil_geometry
from loadbench.readings.coil_line import strand_of_geometry
from loadbench.readings.strand import Evidence, Strand
from loadbench.readings.strand_fit import fitted_strand, line_from_rate

WHOLE = ("", "pair")
ACCURACIES = ("load_accuracy_percent", "load_accuracy_fixed", "load_repeatability", "height_accuracy")


@dataclass(frozen=True, slots=True, kw_only=True)
class Readings:
    """Loads at heights, with the paths of what was read and of what is faulty among it."""

    heights: Floats
    loads: Floats
    paths: tuple[str, ...] = ()
    faulty: tuple[str, ...] = ()

    @property
    def count(self) -> int:
        """How many complete readings there are."""
        return len(self.heights)

    @property
    def several_heights(self) -> bool:
        """Whether a rate can be had from them."""
        return self.count >= 2 and float(np.ptp(self.heights)) > 2e-5


@dataclass(frozen=True, slots=True, kw_only=True)
class SpringEvidence:
    """Everything known of one spring (a single one, a member, or a pair as a whole).

    `strand` is the load line from the best evidence; `missing` names what would give one where there is none.
    """

    name: str
    measured: Strand | None = None
    stated_rate: float | None = None
    geometric_rate: float | None = None
    strand: Strand | None = None
    missing: tuple[str, ...] = ()
    paths: tuple[str, ...] = ()
    faulty: tuple[str, ...] = field(default=())

    @property
    def rate(self) -> tuple[float, Evidence] | None:
        """The rate from the best evidence, N/m; None where a reading is faulty or nothing is known."""
        if self.faulty:
            return None
        if self.measured is not None:
            return self.measured.rate, Evidence.MEASURED
        if self.stated_rate is not None:
            return self.stated_rate, Evidence.STATED
        return None if self.geometric_rate is None else (self.geometric_rate, Evidence.GEOMETRIC)


def accuracy_of(line: LineStated) -> Accuracy:
    """The tester's stated accuracies."""
    percent = line.value("tester.load_accuracy_percent")
    return Accuracy(
        gain=None if percent is None else percent / 100,
        zero=line.value("tester.load_accuracy_fixed"),
        repeatability=line.value("tester.load_repeatability"),
        height=line.value("tester.height_accuracy"),
        faulty=any(line.faulty(f"tester.{name}") for name in ACCURACIES),
    )


def readings_at(line: LineStated, path: str, count: int, parts: tuple[str, ...] | None = None) -> Readings:
    """The complete readings of a list.

    Args:
        line: the line's view of the job.
        path: of the list.
        count: its length.
        parts: keep the readings of these parts only ("" for those without a part); None keeps all.

    Returns:
        The readings; where a height was loaded and unloaded, the loading ones.
    """
    values, problems = line.stated.values, line.stated.problems
    heights, loads, paths, faulty = [], [], [], []
    own = [f"{path}.{index}" for index in range(count)]
    own = [each for each in own if parts is None or part_named(values.get(f"{each}.part")) in parts]
    loading = [each for each in own if values.get(f"{each}.direction") != "unloading"]
    for each in loading or own:
        faulty += [f"{each}.{name}" for name in ("height", "load", "direction") if f"{each}.{name}" in problems]
        height, load = values.get(f"{each}.height"), values.get(f"{each}.load")
        if height is not None and load is not None:
            heights.append(height)
            loads.append(load)
            paths.append(each)
    return Readings(heights=np.array(heights), loads=np.array(loads), paths=tuple(paths), faulty=tuple(faulty))


def part_named(part: str | None) -> str:
    """The part of a reading as it is compared: "pair" and no part at all are the whole."""
    name = (part or "").strip().lower()
    return "" if name in WHOLE else name


def readings_of_single(line: LineStated, path: str, count: int, name: str) -> Readings:
    """The readings of a list that speak of a spring without other members.

    Args:
        line: the line's view of the job.
        path: of the list.
        count: its length.
        name: of the spring.

    Returns:
        All of them where they are of one part, whatever its name; else those of the whole, else those of the name. A
        pair's and its members' are never mixed.
    """
    parts = {part_named(line.stated.values.get(f"{path}.{index}.part")) for index in range(count)}
    if len(parts) <= 1:
        return readings_at(line, path, count)
    return readings_at(line, path, count, ("",) if "" in parts else (part_named(name),))


def geometric_strand(line: LineStated, path: str) -> tuple[float | None, Strand | None, tuple[str, ...]]:
    """The rate and load line of a coil from its geometry: any wire, cylinder or taper.

    Args:
        line: the line's view of the job.
        path: of the coil, such as "spring.coils.0".

    Returns:
        Rate in N/m, the line through the free height, and what is missing for them.
    """
    return strand_of_geometry(coil_geometry(line, path))


def weigh(line: LineStated, name: str, readings: Readings, rate_path: str, coil_path: str | None) -> SpringEvidence:
    """Choose the best evidence for one spring.

    Args:
        line: the line's view of the job.
        name: of the spring.
        readings: its own.
        rate_path: where its rate is stated.
        coil_path: where its geometry is stated; None for a pair as a whole.

    Returns:
        What is known, with the load line chosen: two or more readings, a stated rate with a reading, geometry, a
        stated rate with the free height.
    """
    measured = None
    if readings.several_heights and not readings.faulty:
        measured = fitted_strand(readings.heights, readings.loads, accuracy_of(line))
    stated = line.value(rate_path)
    geometric, geometry, _ = (None, None, ()) if coil_path is None else geometric_strand(line, coil_path)
    free = None if coil_path is None else line.stated.values.get(f"{coil_path}.free_height")
    strand: Strand | None = measured
    if strand is None and stated is not None and readings.count:
        strand = line_from_rate(stated, readings.heights, readings.loads)
    strand = strand or geometry
    if strand is None and stated is not None and free is not None:
        strand = line_from_rate(stated, np.array([free]), np.array([0.0]))
    missing: tuple[str, ...] = ()
    faulty = readings.faulty
    if measured is None and line.faulty(rate_path):
        faulty = (*faulty, line.path(rate_path))
    if faulty:
        strand, missing = None, faulty
    elif strand is None:
        list_path = rate_path.rsplit(".", 1)[0] + ".readings"
        missing = (line.path(rate_path),) if readings.count and stated is None else (list_path,)
    return SpringEvidence(
        name=name,
        measured=measured,
        stated_rate=stated,
        geometric_rate=geometric,
        strand=strand,
        missing=missing,
        paths=readings.paths,
        faulty=faulty,
    )
