"""The plunger's picture: two bores to one scale, and the table beneath it."""

from __future__ import annotations

import numpy as np
import pytest

from loadbench.units import Kind, Style, to_display
from tests.ui.followers.follower_jobs import FLAT, SHORT, SOLID, line_of
from ui.followers.plunger_chart import WALL, plunger_picture, plunger_rows, travel_sentence, travels_listed
from ui.followers.plunger_view import DepthAxis


@pytest.mark.parametrize("name", [SHORT, FLAT])
def test_bores_and_oil_are_drawn_to_one_scale(name: str) -> None:
    line = line_of(name)
    chart = plunger_picture(line, Style.METRIC).charts[0]
    bores = [stroke for stroke in chart.strokes if stroke.look is WALL]
    oils = chart.shades[::2]
    assert len(bores) == len(oils) == len(line.follower.travels) == 2
    for bore, oil, each in zip(bores, oils, line.follower.travels, strict=True):
        bottom = -float(to_display(each.travel, Kind.LENGTH, Style.METRIC))
        depth = -float(to_display(each.depth, Kind.LENGTH, Style.METRIC))
        assert float(bore.ys.min()) == pytest.approx(bottom)
        assert (float(oil.ys.min()), float(oil.ys.max())) == pytest.approx((bottom, depth))
        assert float(bore.ys.max()) <= chart.y_range[1]
        assert bottom > chart.y_range[0]


def test_the_stated_travel_is_the_bold_one() -> None:
    for name, stated in ((SHORT, "short travel"), (FLAT, "standard travel")):
        marks = plunger_picture(line_of(name), Style.METRIC).charts[0].marks
        bold = [mark.name.texts[0] for mark in marks if mark.name is not None and mark.name.bold]
        assert len(bold) == 1
        assert bold[0].startswith(stated)
        assert bold[0].endswith("(stated)")


def test_the_marks_are_read_out_from_bore_to_bore() -> None:
    told = plunger_picture(line_of(SHORT), Style.METRIC)
    assert list(told.says) == ["travel 0", "travel 1"]
    assert {mark.key for mark in told.charts[0].marks if mark.key} == set(told.says)
    assert told.says["travel 1"]() == travel_sentence(line_of(SHORT).follower.travels[1], Style.METRIC)


def test_less_oil_is_stiffer_in_the_table_too() -> None:
    travels = line_of(SHORT).follower.travels
    listed = travels_listed(travels, Style.METRIC)
    assert listed.heads == ("At this job", "Standard travel (as is usual)", "Short travel (stated)")
    stiffness = next(row.cells for row in listed.rows if row.cells[0] == "Stiffness")
    assert float(stiffness[1].split("\u2009")[0]) < float(stiffness[2].split("\u2009")[0])
    rows = plunger_rows(line_of(SHORT), Style.METRIC)
    assert len(rows) == 3
    assert float(rows[2][3]) == pytest.approx(float(stiffness[2].split("\u2009")[0]), rel=1e-3)


def test_without_a_plunger_there_is_nothing() -> None:
    assert plunger_picture(line_of(SOLID), Style.METRIC).empty
    assert travels_listed((), Style.METRIC).rows == ()
    assert len(plunger_rows(line_of(SOLID), Style.METRIC)) == 1


def test_depth_counts_down_and_nothing_stands_above_the_stop(qapp: object) -> None:
    axis = DepthAxis("left")
    assert axis.tickStrings([-0.1, -0.05, 0.0, 0.05], 1.0, 0.05) == ["0.10", "0.05", "0", ""]
    assert np.isfinite(axis.width())
