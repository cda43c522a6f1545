"""Runs the benchmarks beside it and prints one table: python tests/bench/run.py [part of a name ...].

A file bench_*.py has `measure() -> dict[str, float]`, each key a figure with its unit at the end ("analyse_ms"), and
may have `LIMITS: dict[str, float]`, the most each figure may be. Exit code 1: a figure over its limit, or a
benchmark that failed; 2: none was found.
"""

from __future__ import annotations

import importlib.util
import math
import os
import sys
import traceback
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType

HERE = Path(__file__).resolve().parent


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One figure of a benchmark; a limit of None is none."""

    bench: str
    figure: str
    value: float
    limit: float | None = None

    @property
    def verdict(self) -> str:
        """Whether the figure holds its limit, in a word."""
        if self.limit is None:
            return ""
        # Written so that NaN is over.
        return "within" if self.value <= self.limit else "OVER"


def load(file: Path) -> ModuleType:
    """Import a benchmark from its file."""
    spec = importlib.util.spec_from_file_location(file.stem, file)
    if spec is None or spec.loader is None:
        raise ImportError(file.name)
    module = importlib.util.module_from_spec(spec)
    sys.modules[file.stem] = module
    spec.loader.exec_module(module)
    return module


def lines(module: ModuleType) -> Iterator[Line]:
    """Measure one benchmark; a limit without its figure is an error."""
    name = module.__name__.removeprefix("bench_")
    figures: dict[str, float] = module.measure()
    limits: dict[str, float] = getattr(module, "LIMITS", {})
    if unknown := limits.keys() - figures.keys():
        raise KeyError(f"limits without a figure: {', '.join(sorted(unknown))}")
    for figure, value in figures.items():
        yield Line(bench=name, figure=figure, value=value, limit=limits.get(figure))


def row(line: Line) -> str:
    """One line of the table."""
    limit = "" if line.limit is None else f"{line.limit:.4g}"
    value = f"{line.value:.4g}" if math.isfinite(line.value) else str(line.value)
    return f"{line.bench:<20} {line.figure:<40} {value:>12} {limit:>12}  {line.verdict}".rstrip()


def main(wanted: Sequence[str], folder: Path = HERE) -> int:
    """Run the benchmarks whose name holds one of the wanted words, all where none is given."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    files = [file for file in sorted(folder.glob("bench_*.py")) if not wanted or any(w in file.stem for w in wanted)]
    if not files:
        sys.stderr.write("No benchmark of that name.\n" if wanted else "There is no benchmark yet.\n")
        return 2
    sys.stdout.write(f"{'benchmark':<20} {'figure':<40} {'value':>12} {'limit':>12}\n")
    failed = False
    for file in files:
        try:
            for line in lines(load(file)):
                sys.stdout.write(row(line) + "\n")
                failed |= line.verdict == "OVER"
        except Exception:  # noqa: BLE001 - the other benchmarks still run
            sys.stdout.write(f"{file.stem.removeprefix('bench_'):<20} FAILED\n")
            traceback.print_exc()
            failed = True
        sys.stdout.flush()
    return int(failed)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
