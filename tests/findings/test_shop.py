"""The shop's rules on disk: kept, told when faulty, never lost."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from loadbench.errors import SaveError, UnreadableFileError
from loadbench.findings import shop as shop_module
from loadbench.findings.rulebook import rule_book
from loadbench.findings.shop import load_shop, save_shop, shop_path
from loadbench.job.model import LimitChange, RuleChange

if TYPE_CHECKING:
    from pathlib import Path

RULES = {
    "bind-margin-min": RuleChange(watch="0.070 in", stop="0.035 in", why="<b>our</b> springs"),
    "solid-lash": RuleChange.model_validate({"bucket_least": {"watch": "0.005 in"}}),
}


def test_no_file_is_no_rules(tmp_path: Path) -> None:
    assert load_shop(tmp_path / "none.json") == {}


def test_rules_come_back_as_saved(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "shop-rules.json"
    save_shop(path, RULES)
    assert load_shop(path) == RULES
    assert load_shop(path)["solid-lash"].named == {"bucket_least": LimitChange(watch="0.005 in")}
    assert [file.name for file in path.parent.iterdir()] == ["shop-rules.json"]


def test_rules_govern_the_book(tmp_path: Path) -> None:
    save_shop(tmp_path / "s.json", RULES)
    limit = rule_book(load_shop(tmp_path / "s.json")).limit("bind-margin-min")
    assert (limit.watch, limit.watch_house) == (pytest.approx(0.070 * 0.0254), "shop")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "empty"),
        ("{", "not JSON"),
        ("[]", "not a shop's rules"),
        ('{"format": "loadbench-job", "version": 1}', "not a shop's rules"),
        ('{"format": "loadbench-shop-rules", "version": 99}', "later"),
        ('{"format": "loadbench-shop-rules", "version": 1, "rules": {"prep": {"why": 3}}}', "rules.prep.why"),
        ('{"format": "loadbench-shop-rules", "version": 1, "more": 1}', "more"),
        ("\x00" * 1_000_001, "1 MB"),
    ],
)
def test_a_file_that_is_not_right_is_told_and_kept(tmp_path: Path, text: str, said: str) -> None:
    path = tmp_path / "shop-rules.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(UnreadableFileError, match=said):
        load_shop(path)
    assert path.read_text(encoding="utf-8") == text


def test_bytes_that_are_no_text_and_a_folder_are_told(tmp_path: Path) -> None:
    path = tmp_path / "shop-rules.json"
    path.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(UnreadableFileError, match="UTF-8"):
        load_shop(path)
    with pytest.raises(UnreadableFileError, match="cannot be read"):
        load_shop(tmp_path)


def test_a_save_that_fails_leaves_the_old_rules(tmp_path: Path) -> None:
    path = tmp_path / "shop-rules.json"
    save_shop(path, RULES)
    (tmp_path / "file").write_text("x")
    with pytest.raises(SaveError):
        save_shop(tmp_path / "file" / "shop-rules.json", {})
    assert load_shop(path) == RULES


def test_an_unusable_limit_stays_in_the_file_and_is_told_by_the_book(tmp_path: Path) -> None:
    path = tmp_path / "shop-rules.json"
    path.write_text(
        json.dumps(
            {
                "format": shop_module.FORMAT,
                "version": 1,
                "rules": {"prep-x": {"watch": "1 in"}, "bind-margin-min": {"watch": "5 lbf"}},
            }
        )
    )
    rules = load_shop(path)
    assert len(rule_book(rules).problems) == 2
    assert rule_book(rules).limit("bind-margin-min").watch == pytest.approx(0.060 * 0.0254)


def test_the_usual_place_follows_the_home(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("LOADBENCH_HOME", str(tmp_path))
    save_shop(None, RULES)
    assert shop_path() == tmp_path / "settings" / "shop-rules.json"
    assert load_shop() == RULES
    monkeypatch.delenv("LOADBENCH_HOME")
    assert shop_path().name == "shop-rules.json"
    assert tmp_path not in shop_path().parents
