"""The contact's charts: nose and flanks where they are, what the pair bears with its source, the film's regimes."""

from __future__ import annotations

import numpy as np
import pytest

from loadbench.units import Kind, Style, tell, to_display
from tests.ui.followers.follower_jobs import BUCKET, SHORT, line_of, line_with
from ui.followers.contact_chart import contact_picture, places_of
from ui.followers.contact_view import contact_rows, read_out

LIMIT_FLANK = ("opening at the speed limit", "closing at the speed limit")


@pytest.mark.parametrize("name", [SHORT, BUCKET])
def test_the_marks_stand_at_the_figures(name: str) -> None:
    line = line_of(name)
    marks = {mark.key: mark.y for mark in contact_picture(line, Style.METRIC).charts[0].marks}

    def shown(figure: str) -> float:
        return float(to_display(line.value(figure), Kind.STRESS, Style.METRIC))

    assert marks["nose idling"] == pytest.approx(shown("hertz_nose"))
    assert marks["nose at the speed limit"] == pytest.approx(shown("hertz_nose_limit"))
    assert max(marks[key] for key in LIMIT_FLANK if key in marks) == pytest.approx(shown("hertz_flank"))


def test_flanks_stand_either_side_of_the_nose() -> None:
    line = line_of(SHORT)
    curve = line.follower.contact_limit
    assert curve is not None
    places = places_of(line, curve)
    angles = curve.cycle.angles
    assert angles[places["opening"]] < angles[places["nose"]] < angles[places["closing"]]


def test_what_the_pair_bears_is_drawn_and_named_with_its_source() -> None:
    line = line_of(SHORT)
    told = contact_picture(line, Style.INCH_POUND)
    allowed = line.follower.allowed
    assert allowed is not None
    names = [stroke.name.texts[0] for stroke in told.charts[0].strokes if stroke.name is not None]
    assert f"said to bear {tell(allowed.stress, Kind.STRESS, Style.INCH_POUND)}" in names
    notes = " ".join(told.notes)
    assert "Machinery's Handbook" in notes
    assert "from memory" in notes


def test_an_unknown_pair_has_no_line_and_says_so() -> None:
    told = contact_picture(line_with(SHORT, cam__material="green cheese"), Style.METRIC)
    names = [stroke.name.texts[0] for stroke in told.charts[0].strokes if stroke.name is not None]
    assert not any("said to bear" in name for name in names)
    assert "green cheese" in " ".join(told.notes)


def test_regimes_are_bands_up_to_what_is_shown() -> None:
    for name, words in ((SHORT, {"mixed"}), (BUCKET, {"mixed", "full film"})):
        film = contact_picture(line_of(name), Style.METRIC).charts[1]
        named = {mark.name.texts[0] for mark in film.marks if mark.name is not None}
        assert words | {"boundary: the surfaces touch"} <= named
        tops = [float(shade.ys.max()) for shade in film.shades]
        assert tops == sorted(tops)
        assert tops[0] == pytest.approx(1.0)
        assert tops[-1] == pytest.approx(film.y_range[1])


def test_the_idle_nose_is_the_film_that_is_named() -> None:
    film = contact_picture(line_of(SHORT), Style.METRIC).charts[1]
    mark = next(each for each in film.marks if each.key == "nose idling")
    assert mark.y == pytest.approx(line_of(SHORT).value("film_ratio_idle"))


def test_without_oil_the_film_says_what_it_waits_for() -> None:
    line = line_with(SHORT, duty__oil__grade=None, duty__oil__viscosity_40_cst=None, duty__oil__viscosity_100_cst=None)
    film = contact_picture(line, Style.METRIC).charts[1]
    texts = [mark.name.texts[0] for mark in film.marks if mark.name is not None]
    assert not film.strokes
    assert any(text.startswith("The oil film waits for: oil grade") for text in texts)


def test_the_read_out_is_what_the_curves_say() -> None:
    line = line_of(SHORT)
    curve = line.follower.contact_idle
    assert curve is not None
    text = read_out(line, 0.0, Style.METRIC)
    assert str(tell(float(curve.pressure[curve.cycle.nose]), Kind.STRESS, Style.METRIC)) in text
    assert "\u221240\u2009deg" in read_out(line, -40.0, Style.METRIC)


def test_the_rows_behind_are_every_angle() -> None:
    line = line_of(SHORT)
    rows = contact_rows(line, Style.METRIC)
    curve = line.follower.contact_idle
    assert curve is not None
    assert len(rows) == curve.cycle.angles.size + 1
    assert len(set(map(len, rows))) == 1
    at = [row[0] for row in rows].index("0.0")
    assert float(rows[at][2]) == pytest.approx(
        float(to_display(line.value("hertz_nose"), Kind.STRESS, Style.METRIC)), rel=1e-6
    )
    assert np.isfinite(float(rows[at][4]))
