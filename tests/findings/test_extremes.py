"""Whatever a person types into one field of a sample, the job is analysed and judged: no traceback, no warning."""

from __future__ import annotations

import copy
import json
import re
import warnings
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from loadbench import analyse, judge
from loadbench.errors import LoadBenchError
from loadbench.job.reading_in import job_from_text

SAMPLES = sorted((Path(__file__).parents[2] / "samples").glob("*.loadbench.json"), key=lambda file: file.stat().st_size)
PARTS = frozenset(
    {"record", "tester", "instruments", "spring", "valve_gear", "cam", "follower", "duty", "targets", "lines"}
)
QUANTITY = re.compile(r"-?[\d.]+(?:e-?\d+)?\s*(\D*)")
SIZES = ("0", "1e-9", "0.0001", "9", "99999", "1e9", "-1")
NUMBERS = (0, 1e-6, 1, 50, 1e6, -1)
ROWS = 2
"""Of a list: its first rows stand for all."""

Path_ = tuple[str | int, ...]


def leaves(tree: Any, path: Path_ = ()) -> Iterator[tuple[Path_, Any]]:
    """Every value of a job with its path."""
    if isinstance(tree, dict):
        for key, value in tree.items():
            yield from leaves(value, (*path, key))
    elif isinstance(tree, list):
        for place, value in enumerate(tree[:ROWS]):
            yield from leaves(value, (*path, place))
    else:
        yield path, tree


def extremes(value: Any) -> Iterator[Any]:
    """What may be typed in a value's place, its unit kept."""
    if isinstance(value, str):
        told = QUANTITY.fullmatch(value)
        yield from () if told is None else (f"{size} {told.group(1)}" for size in SIZES)
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield from NUMBERS


def with_value(tree: dict[str, Any], path: Path_, value: Any) -> str:
    """The job's text with one value in another's place."""
    changed: Any = copy.deepcopy(tree)
    at = changed
    for step in path[:-1]:
        at = at[step]
    at[path[-1]] = value
    return json.dumps(changed)


@pytest.mark.parametrize("file", SAMPLES, ids=lambda file: file.name.split(".")[0])
def test_no_entry_breaks_a_sample(file: Path) -> None:
    tree = json.loads(file.read_text("utf-8"))
    tried = 0
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        for path, value in leaves({key: part for key, part in tree.items() if key in PARTS}):
            for other in extremes(value):
                try:
                    judge(analyse(job_from_text(with_value(tree, path, other))))
                except LoadBenchError:
                    pass  # a fault of structure is refused with its place
                except Exception as error:
                    error.add_note(f"{'.'.join(map(str, path))} = {other!r}")
                    raise
                tried += 1
    assert tried > 50
