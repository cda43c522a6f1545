"""The way from the slip to the bench: offered where readings are wanted, one undo step, told in a sentence."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QPushButton

from loadbench.job.edits import replaced_all
from loadbench.job.model import Job
from loadbench.units import Style
from ui.pages.bench_page import BenchPage
from ui.pages.readings_page import ReadingsPage
from ui.session import Session
from ui.slip.set_mean import mean_offered, take_mean, taken_told, why_told, words_of

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from ui.window import MainWindow

SLIP = "Spring\t1.900 in\t1.300 in\nS01\t143\t402\nS02\t145\t405\nS03\t141\t398\nS04\t142\t400\n"
GEAR: dict[str, Any] = {
    "spring.installed_height": "1.900 in",
    "valve_gear.measured_net_lift": "0.600 in",
    "record": {"measured_by": "B.", "tester": "the long one"},
    "tester.load_repeatability": "1 lbf",
}


def slip(*heights: str) -> tuple[dict[str, Any], ...]:
    loads = (("S1", "143 lbf"), ("S2", "145 lbf"))
    return tuple(
        {"id": name, "readings": ({"height": height, "load": load},)}
        for (name, load), height in zip(loads, heights, strict=True)
    )


def bench(**changes: Any) -> Session:
    return Session(replaced_all(Job(title="Set", units="inch-pound"), GEAR | changes))


def paged(qtbot: QtBot, session: Session) -> BenchPage:
    page = BenchPage(session)
    qtbot.addWidget(page)
    page.resize(660, 620)
    page.show()
    return page


def test_a_pasted_slip_reaches_the_bench_by_one_button(qtbot: QtBot) -> None:
    session = bench()
    readings, page = ReadingsPage(session), paged(qtbot, session)
    qtbot.addWidget(readings)
    readings.resize(1280, 700)
    readings.show()
    assert page.mean_button.isHidden()
    QGuiApplication.clipboard().setText(SLIP)
    readings.slip.paste_slip()
    assert len(session.job.springs) == 4
    assert page.mean_button.text() == "Take the mean of the 4 springs as readings"
    assert page.mean_button.isVisible()
    assert "4 numbered springs were tested" in page.needs.text()
    before, steps = session.job, session.undo_stack.count()
    page.mean_button.click()
    assert session.undo_stack.count() == steps + 1
    assert [(each.height, each.load) for each in session.job.spring.readings] == [
        ("1.900 in", "142.75 lbf"),
        ("1.300 in", "401.25 lbf"),
    ]
    assert (session.job.record, session.job.tester) == (before.record, before.tester)
    assert session.job.springs == before.springs
    assert page.mean_button.isHidden()
    assert "mean of 4 springs" in page.read_out.text()
    assert "springs within" in page.read_out.text()
    session.undo_stack.undo()
    assert session.job == before
    assert page.mean_button.isVisible()


def test_springs_whose_heights_differ_are_told_and_nothing_is_offered(qtbot: QtBot) -> None:
    session = bench(springs=slip("1.900 in", "1.850 in"))
    page = paged(qtbot, session)
    assert page.mean_button.isHidden()
    assert "differ too much for a mean" in page.needs.text()
    steps = session.undo_stack.count()
    assert take_mean(session) == ""
    assert session.undo_stack.count() == steps


def test_nothing_is_offered_where_readings_stand(qtbot: QtBot) -> None:
    own = ({"height": "1.900 in", "load": "150 lbf"},)
    session = bench(**{"springs": slip("1.900 in", "1.900 in"), "spring.readings": own})
    assert mean_offered(session) is None
    assert take_mean(session) == ""
    page = paged(qtbot, session)
    assert page.mean_button.isHidden()  # one reading: the rate is waited for
    assert "tested" not in page.needs.text()


def test_the_slip_has_the_same_way(qtbot: QtBot) -> None:
    session = bench(springs=slip("1.900 in", "1.900 in"))
    page = ReadingsPage(session)
    qtbot.addWidget(page)
    page.resize(1280, 700)
    page.show()
    button = page.slip.buttons["slip_take_mean"]
    assert button.isVisible()
    button.click()
    assert session.job.spring.readings[0].load == "144 lbf"
    assert not button.isVisible()
    said: list[str] = []
    session.announced.connect(said.append)
    page.slip.take_mean()
    assert "Nothing was taken" in said[-1]


def test_one_spring_and_many_heights_are_told_in_words() -> None:
    session = bench(springs=(slip("1.900 in", "1.900 in")[0],))
    offered = mean_offered(session)
    assert offered is not None
    assert words_of(offered) == "Take the loads of the one spring as readings"
    assert why_told(offered).startswith("One numbered spring")
    assert "within" not in taken_told(offered, Style.INCH_POUND)
    heights = tuple({"height": f"1.{900 - 100 * place} in", "load": f"{100 + 40 * place} lbf"} for place in range(6))
    lacking = ({"id": "S1", "readings": heights}, {"id": "S2", "readings": heights[:5]})
    offered = mean_offered(bench(springs=lacking))
    assert offered is not None
    told = taken_told(offered, Style.METRIC)
    assert "and 1 heights more" not in told
    assert "and 1 more height" in told
    assert "Left out, as not every spring was tested there: 35.56" in told


def test_a_line_with_springs_of_its_own_takes_them_alone() -> None:
    valves = ({"id": "1I", "line": "intake", "spring": "S1"}, {"id": "1E", "line": "exhaust", "spring": "S2"})
    own = {"spring": {"bind_height": "1.000 in"}}
    session = bench(**{"springs": slip("1.900 in", "1.900 in"), "valves": valves, "lines.exhaust": own})
    session.choose_line("exhaust")
    take_mean(session)
    assert session.job.lines.exhaust is not None
    assert [each.load for each in session.job.lines.exhaust.spring.readings] == ["145 lbf"]
    assert session.job.spring.readings == ()
    session.choose_line("intake")
    take_mean(session)
    assert session.job.lines.intake is not None
    assert [each.load for each in session.job.lines.intake.spring.readings] == ["143 lbf"]


@pytest.mark.parametrize("after", ["wanted", "typed meanwhile"])
def test_the_notice_after_an_import_offers_it(window: MainWindow, after: str) -> None:
    session = window.session
    session.reload(bench(springs=slip("1.900 in", "1.900 in")).job, None)
    window.documents.printouts._taken()
    notice = window.notices.notices()[-1]
    assert "2 numbered springs were tested" in notice.text
    button = next(each for each in notice.findChildren(QPushButton) if "mean of the 2 springs" in each.text())
    if after != "wanted":
        session.set_field("spring.readings", ({"height": "1.900 in", "load": "150 lbf"},))
    button.click()
    assert session.job.spring.readings[0].load == ("144 lbf" if after == "wanted" else "150 lbf")
    said = window.notices.notices()[-1].text
    assert ("mean of 2 springs" in said) is (after == "wanted")


def test_the_notice_says_why_there_is_no_mean(window: MainWindow) -> None:
    window.session.reload(bench(springs=slip("1.900 in", "1.850 in")).job, None)
    window.documents.printouts._taken()
    notice = window.notices.notices()[-1]
    assert "differ too much" in notice.text
    assert [button.text() for button in notice.buttons] == ["Close"]


def test_no_notice_where_the_bench_has_readings(window: MainWindow) -> None:
    window.documents.printouts._taken()
    assert window.notices.notices() == []
