"""What a view waits for is named, and its first field is led to."""

from __future__ import annotations

import pytest

from loadbench.analysis import analyse
from tests.ui.followers.follower_jobs import BUCKET, EMPTY, FLAT, SHORT, SOLID, line_of, line_with
from ui.followers.needs import FAMILY, need_of


@pytest.mark.parametrize(
    ("name", "views"),
    [(SHORT, {"match", "contact", "axle", "plunger"}), (SOLID, {"match", "contact", "axle"}),
     (FLAT, {"match", "contact", "plunger"}), (BUCKET, {"match", "contact"})],
)  # fmt: skip
def test_a_whole_job_lacks_only_what_its_follower_has_not(name: str, views: set[str]) -> None:
    found = {key for key in ("match", "contact", "axle", "plunger") if need_of(key, line_of(name)) is None}
    assert found == views


@pytest.mark.parametrize(("name", "key", "word"), [(FLAT, "axle", "no axle"), (SOLID, "plunger", "no plunger")])
def test_another_kind_of_follower_is_the_way_out(name: str, key: str, word: str) -> None:
    need = need_of(key, line_of(name))
    assert need is not None
    assert word in need.sentence
    assert need.field == FAMILY


@pytest.mark.parametrize(
    ("key", "edit", "field", "word"),
    [
        ("axle", {"cam__base_radius": None}, "cam.base_radius", "base circle radius"),
        ("axle", {"follower__needles__length": None}, "follower.needles.diameter", "needle length"),
        ("contact", {"follower__roller_width": None}, "follower.roller_width", "roller width"),
        ("plunger", {"follower__plunger__diameter": None}, "follower.plunger.diameter", "plunger diameter"),
    ],
)
def test_a_missing_entry_is_named(key: str, edit: dict[str, None], field: str, word: str) -> None:
    need = need_of(key, line_with(SHORT, **edit))
    assert need is not None
    assert need.field == field
    assert word in need.sentence


@pytest.mark.parametrize("key", ["contact", "axle", "plunger"])
def test_an_empty_job_says_what_comes_first(key: str) -> None:
    need = need_of(key, analyse(EMPTY).lines[0])
    assert need is not None
    assert "It waits for: " in need.sentence
    assert "{" not in need.sentence
    assert need.field
