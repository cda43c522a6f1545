"""Builds the stress picture of one spring of the nest: its charts, what they say, and what they rest on."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from ui.spring import stress_words as words
from ui.spring.chart import Told
from ui.spring.stress_goodman import goodman_chart
from ui.spring.stress_haigh import haigh_chart
from ui.spring.stress_sight import chosen_of, sight_of
from ui.spring.stress_words import tr
from ui.spring.waiting import waited_for

if TYPE_CHECKING:
    from loadbench.analysis.coils.result import CoilAnalysis
    from loadbench.units import Style


def stress_picture(coils: tuple[CoilAnalysis, ...], member: str | None, style: Style) -> Told:
    """The whole picture of a nest.

    Args:
        coils: its springs.
        member: name of the chosen one; None: the first.
        style: the units on show.

    Returns:
        Goodman's chart and Haigh's, or what they wait for.
    """
    sight = sight_of(coils, member, style)
    if sight is None:
        place = chosen_of(coils, member)
        fields = waited_for(None if place is None else coils[place], "tensile_strength", "fatigue_factor_goodman")
        return Told(
            empty=tr("The stress picture needs the wire, its material and the loads.\nIt waits for: {fields}.").format(
                fields=fields
            )
        )
    others = {f"member {place}": partial(words.other_says, coil, lines, style) for place, coil, lines in sight.others}
    return Told(
        charts=(goodman_chart(sight), haigh_chart(sight)),
        says=words.says(sight.coil, sight.lines, style) | others,
        notes=words.notes(sight.coil, sight.lines),
        description=words.description(sight.coil, sight.lines, len(sight.others), style),
    )
