"""Verdict on a stated bind height: what the wire and its coils stack to cannot be pressed away."""

from __future__ import annotations

from collections.abc import Iterator

from loadbench.analysis.coils.result import CoilAnalysis
from loadbench.analysis.figure import Plain
from loadbench.findings.finding import Amount, Finding, Level, Sentence
from loadbench.findings.standing import standing
from loadbench.findings.view import Scope, Told, View, asked, asker, plain, verdict
from loadbench.units import Kind

FIX = "Measure the bind height, and count the coils: the room at full lift hangs on it."


@verdict("bind-agreement", Scope.MERGED)
def bind_agreement(told: Told) -> Iterator[Finding]:
    """Each spring's stated bind height against the height of its coils one on another; only a lower one is told."""
    coils = told.view.line.coils
    for coil in coils:
        path = _stated_at(told.view, coil)
        stated = told.view.line.stated.stated.values.get(path)
        figure, coils_down = coil.figures["geometric_bind_height"], _coils_down(coil)
        if stated is None or not coils_down:
            continue
        limit = told.view.book.limit("bind-agreement")
        share = max(1 - stated / coils_down, 0.0)
        stands = standing(limit, share)
        which = f" of the {plain(coil.name)} spring" if len(coils) > 1 else ""
        start = f"The stated bind height{which}, {{stated}}, is"
        sentence = f"{start} not far below what its coils stack to, {{coils}}."
        if stands.level is not Level.CLEAR:
            sentence = f"{start} {{share}} below what its coils stack to, {{coils}}; {asker(stands)} allows {{limit}}. "
            sentence += "If the coils are right, there is less room at full lift than is told."
        amounts = {
            "stated": Amount(float(stated), Kind.LENGTH), "coils": Amount(coils_down, Kind.LENGTH),
            "share": Amount(share, Plain.SHARE), "limit": asked(limit, stands),
        }  # fmt: skip
        yield told.judged(
            figure, stands, sentence, amounts, value=share, value_kind=Plain.SHARE,
            member=coil.name if len(coils) > 1 else None, about=(path, f"{coil.path}.total_coils"),
            fix=None if stands.level is Level.CLEAR else Sentence(FIX),
        )  # fmt: skip


def _coils_down(coil: CoilAnalysis) -> float | None:
    """Height with every coil down, m; where the ends are not stated the least that any have, a wire for each coil."""
    figure, geometry = coil.figures["geometric_bind_height"], coil.geometry
    if figure.value is not None:
        return figure.value
    if (
        geometry is None
        or geometry.tapers
        or geometry.section is None
        or geometry.total_coils is None
        or geometry.ends is not None
    ):
        return None
    return float(geometry.total_coils * geometry.section.axial)


def _stated_at(view: View, coil: CoilAnalysis) -> str:
    """Where the spring's bind height stands: with the spring itself, or with the set where there is one spring only."""
    own = f"{coil.path}.bind_height"
    alone = len(view.line.coils) == 1 and own not in view.line.stated.stated.values
    return view.path("spring.bind_height") if alone else own
