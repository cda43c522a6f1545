"""The headless face as data: an Analysis and its Verdicts as one plain dict, every number in SI at full precision."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from loadbench.analysis import Analysis, Figure, LineAnalysis
from loadbench.analysis.coils.result import CoilAnalysis
from loadbench.analysis.figure import SI_UNITS, keyed
from loadbench.analysis.springs import NumberedSpringAnalysis, ValveAnalysis
from loadbench.errors import Problem
from loadbench.findings.finding import Choice, Finding, Verdicts
from loadbench.report.follower_json import absent_as_json
from loadbench.report.motion_json import bands_of, finite, motion_as_json
from loadbench.units import Style

Plain = dict[str, Any]


def style_of(analysis: Analysis) -> Style:
    """The unit style in which a job's texts are told: its own, else inch-pound."""
    return analysis.stated.style or Style.INCH_POUND


def as_json(analysis: Analysis, verdicts: Verdicts) -> Plain:
    """Everything that was found of a job, for scripts.

    Args:
        analysis: what was computed.
        verdicts: what was judged.

    Returns:
        A dict of plain values: figures by their key with its unit (SI, but speeds of the engine in rpm), each with
        `..._U` (k = 2, None where unknown); None for what cannot be had. It holds no NaN and no infinity.
    """
    style = style_of(analysis)
    return {
        "figures": figures_as_json(analysis.figures.values())
        | motion_as_json(analysis.figures, analysis.lines)
        | absent_as_json(analysis.figures),
        "lines": {line.name: _line(line) for line in _apart(analysis)},
        "members": [each for line in analysis.lines for each in _members(line, _line_name(analysis, line.name))],
        "valves": [_valve(valve, _line_name(analysis, valve.line)) for valve in analysis.set.valves],
        "springs": [_spring(spring) for spring in analysis.set.springs],
        "loss_bands": [
            {"line": _line_name(analysis, line.name), **band} for line in analysis.lines for band in bands_of(line)
        ],
        "findings": [finding_as_json(finding, style) for finding in verdicts.findings],
        "advice": _advice(verdicts, style),
        "complete": verdicts.complete,
        "missing": list(verdicts.missing),
        "problems": problems_as_json(verdicts.problems),
        "rules_changed": list(verdicts.rules_changed),
    }


def figures_as_json(figures: Iterable[Figure]) -> Plain:
    """Figures by their key, each followed by its expanded uncertainty; the rate also by its evidence."""
    out: Plain = {}
    for figure in figures:
        out[figure.key] = _keyed(figure.value, figure)
        out[f"{figure.key}_U"] = None if figure.value is None else _keyed(figure.expanded, figure)
        if figure.name == "rate":
            out["rate_evidence"] = figure.evidence or None
    return out


def finding_as_json(finding: Finding, style: Style) -> Plain:
    """One finding: its numbers in SI, its sentences in a unit style."""
    return {
        "id": finding.id,
        "level": str(finding.level),
        "sentence": finding.sentence.told(style),
        "value": finite(finding.value),
        "unit": unit_of(finding),
        "limit": finite(finding.limit),
        "margin": finite(finding.margin),
        "chance": finite(finding.chance),
        "missing": list(finding.missing),
        "fix": None if finding.fix is None else finding.fix.told(style),
        "source": finding.source,
        "kind": str(finding.nature),
        "about": list(finding.about),
        "line": finding.line,
        "member": finding.member,
        "valve": finding.valve,
    }


def unit_of(finding: Finding) -> str | None:
    """The SI unit of a finding's value, limit and margin; "1" without a dimension, None where there is no value."""
    return None if finding.value_kind is None else SI_UNITS[finding.value_kind] or "1"


def problems_as_json(problems: Iterable[Problem]) -> list[Plain]:
    """Faults of value, or of a refused file, each with its place."""
    return [
        {
            "field": problem.place.field,
            "file": problem.place.file,
            "row": problem.place.row,
            "column": problem.place.column,
            "what": problem.what,
            "expected": problem.expected,
        }
        for problem in problems
    ]


def _keyed(value: float | None, figure: Figure) -> float | None:
    return None if value is None else finite(keyed(value, figure.kind))


def _line(line: LineAnalysis) -> Plain:
    figures = figures_as_json(line.figures.values()) | motion_as_json(line.figures, (line,))
    figures |= absent_as_json(line.figures)
    return {"figures": figures, "loss_bands": bands_of(line)}


def _apart(analysis: Analysis) -> tuple[LineAnalysis, ...]:
    return analysis.lines if analysis.has_lines else ()


def _line_name(analysis: Analysis, name: str) -> str | None:
    """The line as findings name it: None where the job has one common line."""
    return name if analysis.has_lines else None


def _members(line: LineAnalysis, name: str | None) -> Iterator[Plain]:
    """The springs of a line, each with its coil's figures; a pair that is judged as a whole stands before them."""
    coils = {coil.name: coil for coil in line.coils}
    for member in line.members:
        yield _member(member.title, name, member.figures.values(), coils.pop(member.title, None))
    for coil in coils.values():
        yield _member(coil.name, name, (), coil)


def _member(title: str, line: str | None, figures: Iterable[Figure], coil: CoilAnalysis | None) -> Plain:
    """One spring. What is computed of its coil stands both beside its name and among its figures."""
    own = {} if coil is None else figures_as_json(coil.figures.values())
    plain = {key: value for key, value in own.items() if not key.endswith("_U")}
    coil_path = None if coil is None else coil.path or None
    modes = {} if coil is None else _modes(coil)
    all_figures = {**figures_as_json(figures), **own}
    return {"name": title, "line": line, "coil": coil_path, **plain, **modes, "figures": all_figures}


def _modes(coil: CoilAnalysis) -> Plain:
    """The surge modes of a coil, Hz, lowest first; None where they cannot be had."""
    held = {"modes_Hz": coil.modes, "modes_closed_Hz": coil.modes_closed, "modes_open_Hz": coil.modes_open}
    return {key: None if each is None else [finite(value) for value in each.tolist()] for key, each in held.items()}


def _valve(valve: ValveAnalysis, line: str | None) -> Plain:
    figures = {
        "installed_height_m": valve.height,
        "bind_margin_m": valve.bind_margin,
        "retainer_margin_m": valve.retainer_margin,
        "seat_load_N": valve.seat_load,
        "open_load_N": valve.open_load,
    }
    own = {name: finite(value) for name, value in figures.items()}
    return {"id": valve.id, "line": line, "spring": valve.spring, "figures": own}


def _spring(spring: NumberedSpringAnalysis) -> Plain:
    figures = {
        "rate_N_per_m": spring.rate,
        "installed_height_m": spring.height,
        "open_height_m": spring.open_height,
        "seat_load_N": spring.seat_load,
        "open_load_N": spring.open_load,
    }
    return {
        "id": spring.id,
        "figures": {name: finite(value) for name, value in figures.items()},
        "missing": list(spring.missing),
    }


def _advice(verdicts: Verdicts, style: Style) -> Plain:
    advice = verdicts.advice
    return {"axle": _choice(advice.axle), "travel": _choice(advice.travel), "family": _family(verdicts, style)}


def _family(verdicts: Verdicts, style: Style) -> Plain | None:
    """The match of families: None until it was made."""
    match = verdicts.match
    if match is None:
        return None
    return {
        **_choice(match.family),
        "reason": match.family.reason.told(style),
        "stated": None if match.stated is None else str(match.stated),
        "changes": {str(kit): [each.told(style) for each in told] for kit, told in match.changes.items()},
        "match": [
            {
                "family": str(cell.kit),
                "criterion": str(cell.criterion),
                "level": None if cell.level is None else str(cell.level),
                "value": finite(cell.value),
                "unit": None if cell.value_kind is None else SI_UNITS[cell.value_kind] or "1",
                "limit": finite(cell.limit),
                "source": cell.source,
                "sentence": cell.sentence.told(style),
                "physics": None if cell.physics is None else cell.physics.told(style),
                "practice": None if cell.practice is None else cell.practice.told(style),
                "disagree": cell.disagree,
                "missing": list(cell.missing),
                "line": cell.line,
            }
            for cell in match.cells
        ],
    }


def _choice(choice: Choice) -> Plain:
    return {"choice": choice.choice, "runner_up": choice.runner_up, "because": list(choice.because)}
