"""The arrow keys in the picture."""

from __future__ import annotations

from ui.trust.scene import Dot, Place, Scene
from ui.trust.steps import stepped

COLUMNS = Scene(
    places=(Place(x=0, name="1.9"), Place(x=1, name="1.3")),
    dots=(
        Dot(x=0, y=3, spring="A", place=0),
        Dot(x=0, y=1, spring="B", place=0),
        Dot(x=1, y=9, spring="B", place=1),
        Dot(x=1, y=1.5, spring="C", place=1),
    ),
)
LOOSE = Scene(dots=(Dot(x=5, y=1, spring="A"), Dot(x=2, y=3, spring="B"), Dot(x=9, y=2, spring="C")))


def test_up_and_down_stay_in_the_column() -> None:
    assert stepped(COLUMNS, 1, "up") == 0
    assert stepped(COLUMNS, 0, "up") == 0
    assert stepped(COLUMNS, 0, "down") == 1


def test_right_goes_to_the_same_spring_else_the_nearest() -> None:
    assert stepped(COLUMNS, 1, "right") == 2
    assert stepped(COLUMNS, 0, "right") == 3
    assert stepped(COLUMNS, 2, "right") == 2
    assert stepped(COLUMNS, 3, "left") == 1


def test_loose_marks_go_by_either_axis() -> None:
    assert [stepped(LOOSE, 1, way) for way in ("right", "left", "up", "down")] == [0, 1, 1, 2]


def test_home_and_end_and_the_first_key() -> None:
    assert stepped(LOOSE, None, "up") == 1
    assert stepped(LOOSE, 0, "first") == 1
    assert stepped(LOOSE, 0, "last") == 2
    assert stepped(Scene(), None, "right") is None


def test_bars_go_from_bar_to_bar() -> None:
    bars = Scene(
        bars=True,
        places=tuple(Place(x=x, name="") for x in range(3)),
        dots=tuple(Dot(x=x, y=9 - x, spring="ABC"[x], place=x) for x in range(3)),
    )
    assert stepped(bars, 0, "right") == 1
    assert stepped(bars, 1, "up") == 0
