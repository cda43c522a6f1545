"""A slip on a hidden page still shows what it took, whatever the job is by now."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from loadbench.job.model import Job
from loadbench.units import Style
from ui.session import Session
from ui.slip.slip_model import SlipModel
from ui.slip.summary_model import SummaryModel

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

READINGS = ({"height": "1.85 in", "load": "150 lbf"}, {"height": "1.25 in", "load": "tall"})


def shown(model: SlipModel) -> list[list[object]]:
    rows, columns = range(model.rowCount()), range(model.columnCount())
    roles = (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.EditRole, Qt.ItemDataRole.AccessibleTextRole)
    return [[model.data(model.index(row, column), role) for column in columns for role in roles] for row in rows]


def test_a_units_switch_on_a_hidden_slip_of_a_job_that_is_gone_fails_nowhere(qtbot: QtBot) -> None:
    springs = tuple({"id": f"S0{number}", "readings": READINGS} for number in range(1, 4))
    session = Session(Job.model_validate({"title": "invented", "springs": springs}))
    model = SlipModel(session)
    summary = SummaryModel(model)
    before = shown(model)
    model.set_live(False)
    session.reload(Job(title="another"), None)
    assert shown(model) == before
    with qtbot.captureExceptions() as raised:
        session.set_style(Style.METRIC)
        session.set_style(Style.INCH_POUND)
    assert raised == []
    assert shown(model) == before
    model.set_live(True)
    assert model.rowCount() == 1
    assert summary.text(0, 2) == ""
