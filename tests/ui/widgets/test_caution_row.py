"""Cautions where the work is done: springs changed on Fit-up, lash set hot and the first start on Setting."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtWidgets import QLabel

from loadbench.analysis import analyse
from loadbench.findings.check_list import check_list
from loadbench.job.edits import replaced_all
from loadbench.job.kinds import FAMILIES
from loadbench.job.model import Job
from loadbench.report.cautions import CAUTIONS, RUNNING, SPRING
from ui.pages.fitup_page import FitupPage
from ui.pages.setting_page import SettingPage
from ui.session import Session
from ui.widgets.caution_row import CautionRow

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


def test_a_caution_has_icon_and_word(qtbot: QtBot) -> None:
    row = CautionRow(SPRING)
    qtbot.addWidget(row)
    row.resize(400, 60)
    row.show()
    assert row.label.text() == f"Caution: {SPRING}"
    sign = next(label for label in row.findChildren(QLabel) if label is not row.label)
    assert not sign.pixmap().isNull()
    assert sign.accessibleName() == "Caution"


@pytest.mark.parametrize("size", [(1280, 800), (1920, 1080)])
def test_fit_up_says_what_a_spring_can_do(qtbot: QtBot, size: tuple[int, int]) -> None:
    page = FitupPage(Session(Job(title="none")))
    qtbot.addWidget(page)
    page.resize(*size)
    page.show()
    (row,) = page.findChildren(CautionRow)
    assert row.isVisible()
    assert "eye protection" in row.label.text()
    assert "spring compressor" in row.label.text()


def test_setting_speaks_of_a_running_engine_where_lash_is_set_hot_or_it_is_started(qtbot: QtBot) -> None:
    job = replaced_all(Job(title="lash"), {"follower.family": "flat-tappet-solid", "valve_gear.lash_at": "cold"})
    page = SettingPage(Session(job))
    qtbot.addWidget(page)
    page.resize(900, 600)
    page.show()
    page.words.choose("sheet")
    assert not page.caution.isVisible()
    page.session.set_field("valve_gear.lash_at", "hot")
    assert page.caution.isVisible()
    page.words.choose("gauge")
    assert not page.caution.isVisible()
    page.session.set_field("valve_gear.lash_at", "cold")
    page.words.choose("checks")
    assert page.caution.isVisible()
    assert all(word in page.caution.label.text() for word in ("hands", "fan", "hot", "engine stopped"))


@pytest.mark.parametrize("family", [None, *FAMILIES.words])
def test_the_check_list_asks_it_at_the_first_start(family: str | None) -> None:
    job = replaced_all(Job(title="any"), {"follower.family": family})
    ids = [item.id for item in check_list(analyse(job))]
    assert "running" in ids
    assert ids.index("primed") < ids.index("running")


def test_one_place_has_them_for_workbook_and_help() -> None:
    assert CAUTIONS[0] == SPRING
    assert RUNNING in CAUTIONS
