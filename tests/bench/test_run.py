"""The benchmark table: a figure over its limit, a failing benchmark and an empty folder show in the exit code."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest


@pytest.fixture(scope="module")
def run() -> ModuleType:
    spec = importlib.util.spec_from_file_location("bench_runner", Path(__file__).parent / "run.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["bench_runner"] = module
    spec.loader.exec_module(module)
    return module


def bench(folder: Path, name: str, value: str, limits: str = "{}") -> None:
    code = f"LIMITS = {limits}\ndef measure():\n    return {{'edit_ms': {value}}}\n"
    (folder / f"bench_{name}.py").write_text(code, encoding="utf-8")


@pytest.mark.parametrize(
    ("value", "limits", "code", "word"),
    [
        ("12.5", "{}", 0, "12.5"),
        ("16.0", "{'edit_ms': 16.0}", 0, "within"),
        ("16.1", "{'edit_ms': 16.0}", 1, "OVER"),
        ("float('nan')", "{'edit_ms': 16.0}", 1, "OVER"),
        ("1.0", "{'edti_ms': 16.0}", 1, "FAILED"),
        ("1 / 0", "{}", 1, "FAILED"),
    ],
    ids=["no limit", "at the limit", "over", "not a number", "limit of another figure", "failing"],
)
def test_a_limit_is_held(
    run: ModuleType, tmp_path: Path, capsys: pytest.CaptureFixture[str], value: str, limits: str, code: int, word: str
) -> None:
    bench(tmp_path, "sample_of_limits", value, limits)
    assert run.main([], tmp_path) == code
    assert word in capsys.readouterr().out.splitlines()[1]


def test_a_failing_benchmark_stops_no_other(
    run: ModuleType, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bench(tmp_path, "sample_a", "1 / 0")
    bench(tmp_path, "sample_b", "3.0")
    assert run.main([], tmp_path) == 1
    assert [line.split()[0] for line in capsys.readouterr().out.splitlines()] == ["benchmark", "sample_a", "sample_b"]


def test_words_choose(run: ModuleType, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    bench(tmp_path, "sample_c", "1 / 0")
    bench(tmp_path, "sample_d", "3.0")
    assert run.main(["e_d"], tmp_path) == 0
    assert "sample_c" not in capsys.readouterr().out


def test_none_found_is_told(run: ModuleType, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run.main([], tmp_path) == 2
    assert capsys.readouterr().err == "There is no benchmark yet.\n"
