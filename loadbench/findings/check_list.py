"""Before it goes in: the check list of the chosen family, with what this job's numbers say of each item."""

from __future__ import annotations

from typing import TYPE_CHECKING

from loadbench.findings.check_items import CheckItem
from loadbench.findings.check_texts import ALL, ITEMS, Asked
from loadbench.findings.finding import Amount, Level, Sentence
from loadbench.findings.judge import judge
from loadbench.findings.view import plain
from loadbench.sources import COMMON_PRACTICE
from loadbench.units import Kind

if TYPE_CHECKING:
    from loadbench.analysis import Analysis, LineAnalysis
    from loadbench.findings.finding import Finding, Verdicts
    from loadbench.job.model import Checked

Found = tuple[Sentence, Level | None] | None
"""What the job's own numbers say, and how that stands where it can be judged."""

UNJUDGED = {
    "crown_drop": "The crown falls by {value} to the edge of the face.",
    "tappet_offset": "The lobe touches {value} off the tappet's axis.",
    "plunger_depth_hot": "The plunger stands {value} deep when warm.",
}
"""What a figure says where no rule judges it."""
RUN_IN = ("break-in-load", "break-in-run")
"""Asked of parts that have not run yet."""


def check_list(analysis: Analysis, verdicts: Verdicts | None = None) -> tuple[CheckItem, ...]:
    """What is to do and to look at before the followers go in.

    Args:
        analysis: of the job.
        verdicts: of the same job, by the limits in force; None: judged here, without the shop's limits.

    Returns:
        The items in the order of the work, those of the stated family only; without a family, those of every family.
    """
    findings: dict[str, list[Finding]] = {}
    for finding in (verdicts or judge(analysis)).findings:
        findings.setdefault(finding.id, []).append(finding)
    done = {each.item: each for each in analysis.job.check_list if each.item}
    return tuple(_item(asked, analysis, findings, done) for asked in ITEMS if _concerns(asked, analysis))


def _concerns(asked: Asked, analysis: Analysis) -> bool:
    values = analysis.stated.values
    family = values.get("follower.family")
    if family is None:
        return asked.families == ALL
    if asked.id == "guide" and values.get("follower.guide") == "body":
        return False
    if asked.id in RUN_IN and values.get("duty.first_running") is False:
        return False
    axle, way = values.get("follower.axle"), values.get("follower.preload.way")
    return family in asked.families and asked.axle in {None, axle} and asked.way in {None, way}


def _item(
    asked: Asked, analysis: Analysis, findings: dict[str, list[Finding]], done: dict[str, Checked]
) -> CheckItem:  # fmt: skip
    told = max((each for rule in asked.rules for each in findings.get(rule, ())), key=_rank, default=None)
    kept = done.get(asked.id)
    found, level = _found(asked, analysis) or (None, None)
    source, about = COMMON_PRACTICE, asked.about
    if told is not None:
        found, level, source = told.sentence, told.level, told.source
        about = tuple(dict.fromkeys((*told.missing, *told.about, *asked.about)))
    return CheckItem(
        id=asked.id, group=asked.group, sentence=Sentence(asked.sentence), found=found, level=level, source=source,
        about=about, initials=(kept and kept.initials) or "", date=(kept and kept.date) or "",
    )  # fmt: skip


def _rank(finding: Finding) -> int:
    return finding.level.rank


def _found(asked: Asked, analysis: Analysis) -> Found:
    """What the job says of an item of which no rule speaks."""
    own = {"sheet": _sheet, "roller-on-lobe": _roller, "oil": _oil}.get(asked.id)
    if own is not None:
        return own(analysis)
    for name in asked.figures:
        figure = analysis.figures.get(name)
        if figure is not None and figure.value is not None:
            return Sentence(UNJUDGED[name], {"value": Amount(figure.value, figure.kind)}), None
    return None


def _sheet(analysis: Analysis) -> Found:
    sheet = analysis.job.follower.maker_limits.sheet
    return (Sentence(f"Stated: {plain(sheet)}."), None) if sheet else None


def _roller(analysis: Analysis) -> Found:
    """The roller against its lobe: it must not be the wider. The narrowest lobe speaks."""
    width = analysis.stated.values.get("follower.roller_width")
    faces = [face for line in analysis.lines if (face := _face(line)) is not None]
    if width is None or not faces:
        return None
    amounts = {"roller": Amount(width, Kind.LENGTH), "lobe": Amount(min(faces), Kind.LENGTH)}
    wider = width > min(faces) * (1 + 1e-9)
    more = " The roller overhangs." if wider else ""
    sentence = Sentence(f"The roller is {{roller}} wide, the lobe {{lobe}}.{more}", amounts)
    return sentence, Level.STOP if wider else Level.CLEAR


def _face(line: LineAnalysis) -> float | None:
    face = line.stated.value("cam.face_width")
    return None if face is None else float(face)


def _oil(analysis: Analysis) -> Found:
    oil = analysis.job.duty.oil
    stated = [plain(each) for each in (oil.grade, oil.category) if each]
    return (Sentence(f"Stated: {', '.join(stated)}."), None) if stated else None
