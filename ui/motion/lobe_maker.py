"""The command that makes the law of the line on show the polydyne lobe of its bench."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from loadbench.assembly.lobe_design import lobe_design
from ui.labels import label_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from loadbench.analysis import LineAnalysis
    from ui.session import Session

ANGLES = ("cam.law.opening", "cam.ramps.opening")
"""What the user has to state beside it."""


def _tr(text: str) -> str:
    return QCoreApplication.translate("LobeMaker", text)


def _line(session: Session) -> LineAnalysis:
    return session.state.analysis.line(session.line)


def make_polydyne(session: Session, lead: Callable[[str], None], tell: Callable[[str], object]) -> None:
    """Take speed limit, mass, spring, linkage and lash of the line on show for the design of its lobe.

    Args:
        session: the session; the edit is one undo step.
        lead: puts the focus into a field, which is the first that is still wanting.
        tell: shows what is to be looked at, a sentence to a line; the status line has no room for it.
    """
    line = _line(session)
    if line.stated.rows("cam.profile")[1]:
        session.announce(_tr("A lift table stands on the Cam card and comes before a law: clear it first."))
        lead(line.stated.path("cam.profile"))
        return
    design = lobe_design(line, session.style)
    if design.missing or not design.changes:
        names = ", ".join(label_of(field) for field in design.missing)
        session.announce(_tr("A polydyne lobe waits for: {names}.").format(names=names))
        if design.missing:
            lead(design.missing[0])
        return
    shared = session.line != "common" and session.own_field("cam.law.name") == "cam.law.name"
    changes: dict[str, object] = {session.own_field(field): text for field, text in design.changes.items()}
    session.set_fields(_tr("make a polydyne lobe"), changes | dict.fromkeys(design.clear, ""))
    stated = _line(session).stated
    wanting = [field for field in ANGLES if stated.value(field) is None]
    said: list[str] = []
    if shared:
        said.append(_tr("The polydyne lobe stands in the common part, for every line without a law of its own."))
    if design.typical:
        said.append(_tr("The linkage\u2019s stiffness is not stated and taken as is typical: measure it."))
    if design.proposed:
        told = ", ".join(f"{label_of(field)} {design.changes[field]}" for field in design.proposed)
        said.append(_tr("Proposed, as no angle was stated: {angles}.").format(angles=told))
    if wanting:
        names = ", ".join(label_of(field) for field in wanting)
        said.append(_tr("The polydyne lobe waits for: {names}.").format(names=names))
    session.announce(_tr("The lobe is made for this bench as it stands and stays so when the spring changes."))
    if said:
        tell("\n".join(said))
    if wanting:
        lead(stated.path(wanting[0]))
