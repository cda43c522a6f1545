"""The change-over picture: both axles, the crossing, the trade's rule, the job's own place; what both say."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from loadbench.analysis.changeover import ChangeOverShown
from loadbench.findings.rulebook import Limit, rule_book
from loadbench.units import Kind, Style, to_display
from tests.ui.followers.follower_jobs import FLAT, SHORT, SOLID, line_of, line_with
from ui.followers import axle_words as words
from ui.followers.axle_chart import axle_picture
from ui.followers.axle_place import changes_at, place_at, shown_of

LBF = 4.4482216152605


def grid(name: str) -> ChangeOverShown:
    found = shown_of(line_of(name))
    assert found is not None
    return found


@pytest.fixture(scope="module")
def trade() -> Limit:
    return rule_book().limit("bushed-axle", "open_load")


@pytest.mark.parametrize("name", [SHORT, SOLID])
def test_the_jobs_place_agrees_with_the_figures(name: str) -> None:
    line, shown = line_of(name), grid(name)
    assert shown.job_share is not None
    place = place_at(shown, shown.job_load, shown.job_share)
    worst = place_at(shown, shown.job_load, 0.0)  # the figure takes the worse of idling and the limit
    for value, figure in ((place.life, "needle_life"), (place.safety, "needle_static_safety"), (worst.pv, "bush_pv")):
        known = line.figures.get(figure)
        if known is not None and known.value is not None:
            assert value == pytest.approx(known.value, rel=0.02), figure


def test_between_the_grids_points_nothing_jumps() -> None:
    shown = grid(SHORT)
    loads = np.linspace(300, 1200, 200) * LBF
    lives = np.array([place_at(shown, load, 0.33).life for load in loads])
    assert (np.diff(lives) < 0).all()
    assert np.abs(np.diff(np.log(lives), n=2)).max() < 0.01


def test_beyond_the_grid_its_edge_is_told() -> None:
    shown = grid(SHORT)
    most = float(shown.grid.loads[-1])
    assert place_at(shown, 3 * most, 0.2).life == pytest.approx(place_at(shown, most, 0.2).life)
    assert place_at(shown, most, 2.0).life == pytest.approx(place_at(shown, most, 0.9).life)


def test_where_they_change_over_both_are_equally_far_from_what_they_bear() -> None:
    shown = grid(SOLID)
    load = float(changes_at(shown)[10])
    place = place_at(shown, load, float(shown.grid.shares[10]))
    assert place.needle_margin == pytest.approx(place.bush_margin, rel=0.02)
    below = place_at(shown, 0.9 * load, float(shown.grid.shares[10]))
    assert words.parts_choice(below) == words.NEEDLE
    assert words.parts_choice(replace(below, needle_margin=0.5 * below.bush_margin)) == words.BUSH


def names(picture_of: ChangeOverShown, trade: Limit) -> dict[str, tuple[float, float]]:
    chart = axle_picture(picture_of, trade, Style.INCH_POUND).charts[0]
    return {
        stroke.name.texts[0]: (float(np.nanmin(stroke.ys)), float(np.nanmax(stroke.ys)))
        for stroke in chart.strokes
        if stroke.name is not None
    }


def test_the_trades_rule_is_drawn_at_its_own_loads(trade: Limit) -> None:
    found = names(grid(SHORT), trade)
    assert found["trade: a bush from 1000\u2009lbf"] == pytest.approx((1000, 1000), rel=1e-3)
    assert found["trade: a bush in some uses from 850\u2009lbf"] == pytest.approx((850, 850), rel=1e-3)


def test_lines_of_life_fall_in_order_and_the_wanted_one_is_drawn_once(trade: Limit) -> None:
    found = names(grid(SHORT), trade)
    assert "needles 100\u2009h" not in found
    assert found["needles 1000\u2009h"][1] < found["needles hold life and safety"][1] < found["needles 10\u2009h"][1]
    assert "these parts change over here" in found


def test_the_job_is_a_mark_or_without_a_share_a_level_line(trade: Limit) -> None:
    shown = grid(SHORT)
    told = axle_picture(shown, trade, Style.INCH_POUND)
    (mark,) = told.charts[0].marks
    assert mark.x == pytest.approx(15)
    assert mark.y == pytest.approx(float(to_display(shown.job_load, Kind.FORCE, Style.INCH_POUND)))
    bare = axle_picture(replace(shown, job_share=None), trade, Style.INCH_POUND)
    assert not bare.charts[0].marks
    assert "is not stated" in bare.notes[0]
    assert "this job" in names(replace(shown, job_share=None), trade)


def test_both_sayings_and_whether_they_agree(trade: Limit) -> None:
    easy, hard = grid(SHORT), grid(SOLID)
    assert words.trade_choice(easy.job_load, trade) == words.NEEDLE
    assert words.trade_choice(900 * LBF, trade) == words.EITHER
    assert words.trade_choice(hard.job_load, trade) == words.BUSH
    assert "suits needles" in words.notes_of(easy, trade, Style.INCH_POUND)[0]
    assert "has reached 1000\u2009lbf" in words.notes_of(hard, trade, Style.INCH_POUND)[0]
    assert words.agreement(easy, 0.15, trade) == "Both say the same here."
    # Where the needles of the same job are loaded ten times as hard, the parts say another thing than the trade.
    worse = easy.grid._replace(needle_margin=easy.grid.needle_margin / 1e3)
    assert words.agreement(replace(easy, grid=worse), 0.15, trade) == "They disagree here."
    assert words.agreement(replace(easy, job_load=900 * LBF), 0.15, trade) == ""


def test_a_crossing_off_the_picture_says_which_is_ahead() -> None:
    shown = grid(SHORT)
    for factor, word in ((1e6, "needles are ahead"), (1e-6, "bush is ahead")):
        of = replace(shown, grid=shown.grid._replace(needle_margin=factor * shown.grid.needle_margin))
        assert word in words.parts_sentence(of, 0.15, Style.METRIC)


def test_without_a_list_the_bush_is_not_judged() -> None:
    shown = replace(grid(SHORT), bush_label="")
    place = place_at(shown, shown.job_load, 0.15)
    assert "no list is known" in words.bush_sentence(place, shown)
    assert "within its list 2.00 times" in words.bush_sentence(replace(place, bush_margin=2.0), grid(SHORT))


def test_a_line_without_an_axle_has_no_grid_and_a_line_asked_twice_has_one() -> None:
    assert shown_of(line_of(FLAT)) is None
    assert grid(SHORT) is grid(SHORT)
    other = shown_of(line_with(SHORT, duty__idle_share=0.4))
    assert other is not None
    assert other.job_share == pytest.approx(0.4)


def test_the_rows_behind_are_every_place() -> None:
    shown = grid(SHORT)
    rows = words.axle_rows(shown, Style.METRIC)
    assert len(rows) == shown.grid.loads.size * shown.grid.shares.size + 1
    assert len(set(map(len, rows))) == 1
    assert float(rows[1][2]) == pytest.approx(shown.grid.needle_life[0, 0] / 3600, rel=1e-5)


def test_a_life_beyond_all_use_is_not_told_to_the_hour() -> None:
    assert words.hours(3600 * 164.4) == "164\u2009h"
    assert words.hours(3600 * 12345) == "12\u202f345\u2009h"
    assert words.hours(3600 * 2e5) == "over 100\u202f000\u2009h"
