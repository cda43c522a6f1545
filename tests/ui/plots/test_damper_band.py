"""The damper's band on the Bench picture: where it is drawn, what it says, what keeps it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtGui import QGuiApplication

import loadbench
from loadbench.job.files import open_job
from loadbench.units import Style
from ui.plots.bench_picture import BenchPicture
from ui.plots.export import image_of
from ui.session import Session

if TYPE_CHECKING:
    from PySide6.QtGui import QPainterPath
    from pytestqt.qtbot import QtBot

SAMPLE = Path(loadbench.__file__).parent.parent / "samples" / "nest-of-three-with-damper.loadbench.json"
IN = 0.0254


@pytest.fixture
def picture(qtbot: QtBot) -> BenchPicture:
    made = BenchPicture(Session(open_job(SAMPLE)))
    qtbot.addWidget(made)
    made.resize(640, 560)
    made.show()
    QGuiApplication.processEvents()
    return made


def ends_of(path: QPainterPath) -> list[float]:
    return [path.elementAt(place).x for place in (0, path.elementCount() - 1)]


def said(picture: BenchPicture, qtbot: QtBot, height: float) -> str:
    with qtbot.waitSignal(picture.said) as heard:
        picture.read_at(height)
    return str(heard.args[0]).replace("\u2009", " ")


def test_the_band_lies_a_friction_on_either_side(picture: BenchPicture) -> None:
    loads = next(iter(picture.items.curves.values())).loads / 4.4482216152605
    pressed, released = (ends_of(edge) for edge in picture.damper.edges)
    assert pressed == pytest.approx([loads[0] + 6, loads[-1] + 6])
    assert released == pytest.approx([loads[0] - 6, loads[-1] - 6])


def test_it_never_reaches_below_nothing(picture: BenchPicture) -> None:
    picture.session.set_field("spring.damper.load", "250 lbf")
    released = ends_of(picture.damper.edges[1])
    assert min(released) == 0.0
    assert max(released) > 0.0


def test_it_is_kept_through_an_edit_of_the_height_and_made_anew_with_friction_and_units(picture: BenchPicture) -> None:
    before = picture.damper.edges
    picture.session.set_field("spring.installed_height", "1.890 in")
    assert picture.damper.edges is before
    picture.session.set_field("spring.damper.load", "8 lbf")
    assert picture.damper.edges is not before
    pressed = ends_of(picture.damper.edges[0])
    picture.session.set_style(Style.METRIC)
    assert ends_of(picture.damper.edges[0]) == pytest.approx([4.4482216152605 * load for load in pressed])


def test_it_is_named_and_told_beside_its_colour(picture: BenchPicture, qtbot: QtBot) -> None:
    assert "6" in picture.damper._name
    text = said(picture, qtbot, 1.9 * IN)
    assert text.endswith("with the damper 188 lbf as the valve opens, 176 lbf as it closes")  # 181.9 lbf and 6 lbf
    assert "damper's friction of 6\u2009lbf" in picture.view.accessibleDescription()


@pytest.mark.parametrize("entry", ["0 lbf", None, "six"])
def test_without_friction_nothing_is_drawn_or_told(picture: BenchPicture, qtbot: QtBot, entry: str | None) -> None:
    picture.session.set_field("spring.damper.load", entry)
    assert picture.damper.shown is None
    assert all(edge.isEmpty() for edge in picture.damper.edges)
    assert "damper" not in said(picture, qtbot, 1.9 * IN)
    assert "damper" not in picture.view.accessibleDescription()


def test_without_a_load_line_there_is_no_band(picture: BenchPicture, qtbot: QtBot) -> None:
    for place in range(3):
        for entry in ("readings", "wire.diameter", "rate"):
            empty: object = () if entry == "readings" else None
            picture.session.set_field(f"spring.coils.{place}.{entry}", empty)
    assert picture.session.state.analysis.lines[0].load_line is None
    assert picture.damper.shown is None
    assert "damper" not in said(picture, qtbot, 1.9 * IN)


def test_it_is_printed_too(picture: BenchPicture) -> None:
    with_band = image_of(picture, 96)
    picture.damper.setVisible(False)
    assert with_band != image_of(picture, 96)
