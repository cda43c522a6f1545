"""The README's Python runs as it stands."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import numpy as np
import pytest

ROOT = Path(__file__).parent.parent
BLOCKS = re.findall(r"```python\n(.*?)```", (ROOT / "README.md").read_text("utf-8"), re.DOTALL)


def test_there_are_blocks() -> None:
    assert len(BLOCKS) == 2


@pytest.mark.parametrize("place", range(len(BLOCKS)))
def test_a_block_runs(place: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    shutil.copytree(ROOT / "samples", tmp_path / "samples")
    names: dict[str, object] = {}
    exec(BLOCKS[place], names)  # noqa: S102 - the project's own words
    if "found" in names:
        peaks = names["found"].peak_force  # type: ignore[attr-defined]
        assert peaks.shape == (161,)
        assert np.all(peaks > 700)
    else:
        assert (tmp_path / "job.xlsx").stat().st_size > 10_000
