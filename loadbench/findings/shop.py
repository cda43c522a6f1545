"""The shop's own limits: a small file beside the settings, read whole or refused, saved atomically or not at all."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from pydantic import ConfigDict, Field, ValidationError

from loadbench.errors import Place, Problem, SaveError, UnreadableFileError
from loadbench.job.files import write_atomically
from loadbench.job.model import RuleChange
from loadbench.job.own_file import own_path, own_text, refused
from loadbench.job.parts import Part

FORMAT = "loadbench-shop-rules"
VERSION = 1
FILE_NAME = "shop-rules.json"

Shop = Mapping[str, RuleChange]
"""The shop's changes to the rule book, by rule id."""


class _ShopFile(Part):
    """What the file holds."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)
    format: str
    version: int
    rules: dict[str, RuleChange] = Field(default_factory=dict)


def shop_path() -> Path:
    """Where the shop's rules live: the folder of the settings; LOADBENCH_HOME moves it."""
    return own_path(FILE_NAME)


def load_shop(path: Path | None = None) -> dict[str, RuleChange]:
    """Read the shop's rules.

    Args:
        path: the file; None for the usual place.

    Returns:
        The changes by rule id; none where there is no file. A limit that cannot be used is here as written: the
        rule book tells it and lets the program's limit hold.

    Raises:
        UnreadableFileError: the file cannot be read or is not ours; it stays as it is.
    """
    path = path or shop_path()
    text = own_text(path, "the shop's rules")
    return {} if text is None else _rules_in(path, text)


def _rules_in(path: Path, text: str) -> dict[str, RuleChange]:
    try:
        tree = json.loads(text)
    except (ValueError, RecursionError) as error:
        what = "The file is empty." if not text.strip() else f"This is not JSON: {error}."
        raise refused(path, what, "the shop's rules") from error
    if not isinstance(tree, dict) or tree.get("format") != FORMAT:
        raise refused(path, "These are not a shop's rules.", f'"format": "{FORMAT}"', "format")
    if isinstance(tree.get("version"), int) and tree["version"] > VERSION:
        raise refused(path, "These rules were saved by a later LoadBench.", "a newer program", "version")
    try:
        return dict(_ShopFile.model_validate_json(text).rules)
    except ValidationError as error:
        raise UnreadableFileError(tuple(_told(path, each) for each in error.errors())) from error


def _told(path: Path, error: Any) -> Problem:
    field = ".".join(str(step) for step in error["loc"])
    return Problem(
        what=f"{error['msg']}.", expected="watch, stop and why, as text", place=Place(file=path.name, field=field)
    )


def save_shop(path: Path | None, rules: Shop) -> None:
    """Save the shop's rules: the file is replaced whole, or stays as it was.

    Args:
        path: the file; None for the usual place. Its folder is made where it is not there yet.
        rules: the changes by rule id.

    Raises:
        SaveError: it cannot be written; says why.
    """
    path = path or shop_path()
    tree = {
        "format": FORMAT,
        "version": VERSION,
        "rules": {name: rule.model_dump(exclude_none=True) for name, rule in rules.items()},
    }
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise SaveError(f"{path.name} cannot be saved: {error.strerror or error}.") from error
    write_atomically(path, (json.dumps(tree, indent=2, ensure_ascii=False) + "\n").encode("utf-8"))
