"""The rules of the house, held over whatever stands in the tree; each check is shown a fault first."""

from __future__ import annotations

import ast
import importlib
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
OURS = ("loadbench", "ui")
PHYSICS = ("spring", "motion", "follower")
LINES = {"loadbench": 450, "ui": 450, "tests": 600}
NO_NAMES = {"utils", "misc", "helpers", "common"}
NO_SOURCE_NEEDED = ("common practice", "own derivation")
SOURCE = re.compile(r"^Sources?:(.*?)(?=^\w[\w ]*:\s*$|\Z)", re.MULTILINE | re.DOTALL)
HEAVY = ("numpy", "scipy", "pint", "pydantic", "openpyxl", "xlsxwriter", "PySide6", "pyqtgraph", "ui")
# Places of one machine and words of one desk say nothing to a reader. The ~ keeps this file from finding itself.
NO_WORDS = re.compile(
    r"(?<![\w.])/(?:wo~rk|ro~ot|ho~me)/|\bsha~red/|/tmp/br~ief|\.lib~rary\b"
    r"|(?i:trans~cript|\biss~ue #?\d|seed docu~ment)".replace("~", "")
)
NOT_OURS = {".git", ".venv", "__pycache__", ".mypy_cache", ".ruff_cache", ".pytest_cache", ".hypothesis"}


def python_files(*folders: str) -> list[Path]:
    return sorted(file for folder in folders for file in (ROOT / folder).rglob("*.py"))


def name_of(file: Path) -> str:
    return file.relative_to(ROOT).as_posix()


def texts() -> Iterator[tuple[str, str]]:
    """Name and text of every file of the project that holds text."""
    for file in sorted(ROOT.rglob("*")):
        parts = file.relative_to(ROOT).parts
        if not file.is_file() or NOT_OURS.intersection(parts) or any(part.endswith(".egg-info") for part in parts):
            continue
        try:
            yield name_of(file), file.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue


# Files and names


@pytest.mark.parametrize("folder", LINES)
def test_files_are_short(folder: str) -> None:
    counted = {name_of(file): len(file.read_bytes().splitlines()) for file in python_files(folder)}
    assert {name: lines for name, lines in counted.items() if lines > LINES[folder]} == {}


def bad_names(relative: Path) -> list[str]:
    """The parts of a path that say nothing, or that hide a module of Python's own."""
    names = [*relative.parts[:-1], relative.stem]
    return [name for name in names if name in NO_NAMES or name in sys.stdlib_module_names]


def test_names_say_what_is_inside_and_hide_nothing() -> None:
    assert bad_names(Path("loadbench/common/units.py")) == ["common"]
    assert bad_names(Path("ui/queue.py")) == ["queue"]
    files = [file.relative_to(ROOT) for file in python_files("loadbench", "ui", "tests")]
    assert {str(file): bad for file in files if (bad := bad_names(file))} == {}


def test_every_package_is_one() -> None:
    folders = {file.parent for file in python_files(*OURS)}
    assert ROOT / "loadbench" in folders
    assert [name_of(folder) for folder in folders if not (folder / "__init__.py").is_file()] == []


def test_nothing_in_the_tree_speaks_of_one_machine_or_desk() -> None:
    for bad in ("see /wo~rk/main/x", "in sha~red/design.md", "a Trans~cript", "as iss~ue 12 asks", "/ro~ot/x"):
        assert NO_WORDS.search(bad.replace("~", ""))
    for good in ("#!/usr/bin/env", "spring/wo~rk/", "an issue with the 3rd", "data shared by all"):
        assert not NO_WORDS.search(good.replace("~", ""))
    read = dict(texts())
    assert "loadbench/bootstrap.py" in read
    assert {name: found.group() for name, text in read.items() if (found := NO_WORDS.search(text))} == {}


# Code


def functions(tree: ast.AST) -> Iterator[ast.FunctionDef]:
    """The public functions and methods of a module; those inside a function are its own affair."""
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.FunctionDef):
            if not node.name.startswith("_"):
                yield node
        elif isinstance(node, ast.ClassDef | ast.If):
            yield from functions(node)


def takes_real(function: ast.FunctionDef) -> bool:
    """Tell whether an argument is annotated with Real, alone or in a union."""
    arguments = [*function.args.posonlyargs, *function.args.args, *function.args.kwonlyargs]
    arguments += [one for one in (function.args.vararg, function.args.kwarg) if one]
    words = [ast.unparse(one.annotation) for one in arguments if one.annotation]
    return any(re.search(r"\bReal\b", word) for word in words)


def without_source(code: str, sources: set[str]) -> list[str]:
    """The physics functions of a module whose docstring names no known source under 'Source:'."""
    missing = []
    for function in functions(ast.parse(code)):
        told = SOURCE.search(ast.get_docstring(function) or "")
        text = told.group(1).lower() if told else ""
        words = {word.strip(".,;:()'\"`") for word in text.split()}
        if takes_real(function) and not (words & sources or any(way in text for way in NO_SOURCE_NEEDED)):
            missing.append(function.name)
    return missing


def known_sources() -> set[str]:
    try:
        return set(importlib.import_module("loadbench.sources").SOURCES)
    except ModuleNotFoundError:
        return set()


def test_a_function_without_source_is_found() -> None:
    code = '''
class Coil:
    def load(self, height: "Real") -> None:
        """No source."""
def rate(d: float | Real) -> None:
    """Rate.

    Source:
        {}
    """
def _split(d: Real) -> None: ...
def count(n: int) -> None: ...
'''
    assert without_source(code.format("en-13906-1, equation for the rate."), {"en-13906-1"}) == ["load"]
    assert without_source(code.format("Own derivation from the balance of forces."), set()) == ["load"]
    assert without_source(code.format("a book."), {"en-13906-1"}) == ["load", "rate"]


def test_every_physics_function_names_its_source() -> None:
    files = python_files(*(f"loadbench/{folder}" for folder in PHYSICS))
    sources = known_sources()
    faults = {name_of(file): without_source(file.read_text(encoding="utf-8"), sources) for file in files}
    assert {name: missing for name, missing in faults.items() if missing} == {}


def prints(code: str) -> list[int]:
    """The lines of a module that print."""
    calls = (node for node in ast.walk(ast.parse(code)) if isinstance(node, ast.Call))
    return [call.lineno for call in calls if isinstance(call.func, ast.Name) and call.func.id == "print"]


def test_only_the_command_line_prints() -> None:
    assert prints("x = 1\nprint(x)\nlog.print(x)") == [2]
    allowed = re.compile(r"loadbench/(bootstrap\.py|cli\.py|cli/.*)")
    files = [file for file in python_files(*OURS) if not allowed.fullmatch(name_of(file))]
    faults = {name_of(file): prints(file.read_text(encoding="utf-8")) for file in files}
    assert {name: lines for name, lines in faults.items() if lines} == {}


def test_importing_loadbench_is_light() -> None:
    code = (
        f"import sys; before = set(sys.modules); import loadbench; print(*({{*{HEAVY}}} & set(sys.modules) - before))"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout.split(), done.stderr) == (0, [], "")


# Qt as it is installed


@pytest.mark.skipif(sys.version_info >= (3, 12), reason="None is never freed from Python 3.12 on")
def test_qt_calls_do_not_eat_references_to_none(qapp: object) -> None:
    from PySide6.QtWidgets import QLabel

    label = QLabel()
    before = sys.getrefcount(None)
    for _ in range(200):
        label.setText("x")
    assert sys.getrefcount(None) > before - 100


def test_letters_can_be_drawn(qapp: object) -> None:
    from PySide6.QtGui import QFont, QFontDatabase, QRawFont

    assert QFontDatabase.families()
    # As a number: given as text, the binding asks for the first byte of its UTF-8 alone.
    assert QRawFont.fromFont(QFont()).supportsCharacter(ord("±"))


def test_the_everyday_list_names_tests_that_exist() -> None:
    for file, names in tomllib.loads((ROOT / "tests/everyday.toml").read_text(encoding="utf-8")).items():
        tree = ast.parse((ROOT / file).read_text(encoding="utf-8"))
        assert set(names) <= {node.name for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)}, file
