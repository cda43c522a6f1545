"""Set-up: what it looks for, what it tells, and that nothing half-made stays. Nothing is downloaded here."""

from __future__ import annotations

import ast
import os
import shutil
import subprocess
import sys
import time
import tomllib
from collections.abc import Sequence, Set
from pathlib import Path

import pytest
from packaging.requirements import Requirement

from loadbench import bootstrap
from loadbench.bootstrap import SetupError

ROOT = Path(__file__).parent.parent
SCRIPT = ROOT / "loadbench" / "bootstrap.py"
LOCK = ROOT / ".ci" / "requirements.lock"
linux_only = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="apt and the screen's names are Linux's")


# An older Python, a foreign folder


def test_an_older_python_can_read_the_file_and_is_told_in_one_sentence() -> None:
    ast.parse(SCRIPT.read_text(encoding="utf-8"), feature_version=(3, 7))
    code = f"import runpy, sys; sys.version_info = (3, 9, 2); runpy.run_path({str(SCRIPT)!r}, run_name='__main__')"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 1
    assert done.stderr == "LoadBench needs Python 3.11 or later; this is Python 3.9.\n"


def test_a_file_beside_the_script_hides_nothing_of_pythons_own(tmp_path: Path) -> None:
    shutil.copy(SCRIPT, tmp_path / "bootstrap.py")
    for name in ("argparse", "ctypes", "hashlib", "tempfile", "pathlib"):
        (tmp_path / f"{name}.py").write_text("raise SystemExit('the wrong module')", encoding="utf-8")
    for script in (tmp_path / "bootstrap.py", Path("bootstrap.py")):
        command = [sys.executable, str(script), "--help"]
        done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=False)
        assert (done.returncode, done.stderr) == (0, "")


def test_it_needs_nothing_but_the_standard_library() -> None:
    tree = ast.walk(ast.parse(SCRIPT.read_text(encoding="utf-8")))
    names = {alias.name for node in tree if isinstance(node, ast.Import) for alias in node.names}
    tree = ast.walk(ast.parse(SCRIPT.read_text(encoding="utf-8")))
    names |= {str(node.module) for node in tree if isinstance(node, ast.ImportFrom)}
    assert "argparse" in names
    assert {name for name in names if name.partition(".")[0] not in sys.stdlib_module_names} == set()


# System packages


@linux_only
def test_only_what_the_loader_cannot_find_is_missing() -> None:
    wanted = {"libc.so.6": "libc6", "libno-such-thing.so.9": "libno-such-thing9"}
    assert bootstrap.missing_libraries(wanted) == {"libno-such-thing.so.9": "libno-such-thing9"}


def test_python_without_venv_names_debians_package(monkeypatch: pytest.MonkeyPatch) -> None:
    assert bootstrap.missing_venv() == {}
    monkeypatch.setattr("importlib.util.find_spec", lambda name: None if name == "ensurepip" else object())
    assert list(bootstrap.missing_venv().values()) == [f"python3.{sys.version_info.minor}-venv"]


def fake_apt(folder: Path, monkeypatch: pytest.MonkeyPatch, code: int) -> Path:
    """Put an apt-get first on the path that only notes how it was called."""
    log = folder / "apt.log"
    script = folder / "apt-get"
    script.write_text(
        f'#!/bin/sh\necho "$DEBIAN_FRONTEND $@" >> {log}\necho "E: no such package" >&2\nexit {code}\n',
        encoding="utf-8",
    )
    script.chmod(0o755)
    monkeypatch.setenv("PATH", str(folder), prepend=os.pathsep)
    return log


@linux_only
def test_root_gets_the_packages_installed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("os.geteuid", lambda: 0)
    log = fake_apt(tmp_path, monkeypatch, 0)
    bootstrap.provide({"libGL.so.1": "libgl1", "libEGL.so.1": "libegl1"})
    update, install = log.read_text(encoding="utf-8").splitlines()
    assert update.startswith("noninteractive")
    assert update.endswith("update")
    assert install.startswith("noninteractive install -y --no-install-recommends libegl1 libgl1")


@linux_only
def test_another_user_gets_the_line_to_run_and_nothing_is_run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("os.geteuid", lambda: 1000)
    log = fake_apt(tmp_path, monkeypatch, 0)
    with pytest.raises(SetupError) as told:
        bootstrap.provide({"libGL.so.1": "libgl1"})
    line = "    sudo apt-get update && sudo apt-get install -y --no-install-recommends libgl1"
    assert line in str(told.value).splitlines()
    assert not log.exists()


@linux_only
def test_a_failing_apt_is_told_in_its_own_words(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("os.geteuid", lambda: 0)
    fake_apt(tmp_path, monkeypatch, 100)
    with pytest.raises(SetupError, match="E: no such package"):
        bootstrap.provide({"libGL.so.1": "libgl1"})


def test_without_apt_the_libraries_are_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("shutil.which", lambda _name: None)
    with pytest.raises(SetupError, match=r"missing: libGL\.so\.1\."):
        bootstrap.provide({"libGL.so.1": "libgl1"})


# The environment


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A project with a lock and nothing in it."""
    (tmp_path / ".ci").mkdir()
    (tmp_path / ".ci" / "requirements.lock").write_text("numpy==2\n", encoding="utf-8")
    (tmp_path / "pyproject.toml").write_text("[project]\n", encoding="utf-8")
    return tmp_path


@pytest.fixture
def pip_calls(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, ...]]:
    """What pip is asked for, instead of asking it."""
    calls: list[tuple[str, ...]] = []
    monkeypatch.setattr(bootstrap, "pip", lambda _venv, *arguments: calls.append(arguments))
    return calls


def test_the_key_changes_with_lock_project_and_place(project: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    keys = [bootstrap.set_up_key(project)]
    assert bootstrap.set_up_key(project) == keys[0]
    for name in (".ci/requirements.lock", "pyproject.toml"):
        with (project / name).open("a", encoding="utf-8") as file:
            file.write("# more\n")
        keys.append(bootstrap.set_up_key(project))
    moved = tmp_path_factory.mktemp("moved") / "project"
    shutil.copytree(project, moved)
    keys.append(bootstrap.set_up_key(moved))
    assert len(set(keys)) == 4


def test_a_copy_without_its_lock_is_told_so(project: Path) -> None:
    (project / ".ci" / "requirements.lock").unlink()
    with pytest.raises(SetupError, match=r"requirements\.lock is missing"):
        bootstrap.set_up_key(project)


def test_an_environment_is_made_kept_and_remade_when_half_made(
    project: Path, pip_calls: list[tuple[str, ...]], capfd: pytest.CaptureFixture[str]
) -> None:
    venv = project / ".venv"
    (venv / "bin").mkdir(parents=True)
    (venv / "bin" / "python").write_text("not a program", encoding="utf-8")
    bootstrap.install(project, venv, "key 1")
    assert bootstrap.read_stamp(venv) == "key 1"
    from_lock, own = pip_calls
    assert "--require-hashes" in from_lock
    assert str(project / ".ci" / "requirements.lock") in from_lock
    assert "--no-deps" in own
    assert own[-2:] == ("-e", str(project))

    mark = venv / "mark"
    mark.touch()
    bootstrap.install(project, venv, "key 2")
    assert mark.exists()
    assert bootstrap.read_stamp(venv) == "key 2"

    bootstrap.stamp(venv).write_text(bootstrap.UNFINISHED, encoding="utf-8")
    bootstrap.install(project, venv, "key 3")
    assert not mark.exists()
    assert bootstrap.read_stamp(venv) == "key 3"
    assert capfd.readouterr().out.count("Making the environment") == 2


def test_without_a_network_the_old_environment_stays(project: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    venv = project / ".venv"
    venv.mkdir()
    monkeypatch.setattr(bootstrap, "runs", lambda *_: True)

    def fail(*_: object) -> None:
        raise SetupError("no network")

    monkeypatch.setattr(bootstrap, "pip", fail)
    (venv / "mark").touch()
    with pytest.raises(SetupError, match="no network"):
        bootstrap.install(project, venv, "key")
    assert (venv / "mark").exists()
    assert bootstrap.read_stamp(venv) == ""


def test_a_set_up_killed_half_way_is_seen_by_the_next(
    project: Path, pip_calls: list[tuple[str, ...]], monkeypatch: pytest.MonkeyPatch
) -> None:
    venv = project / ".venv"
    venv.mkdir()
    monkeypatch.setattr(bootstrap, "runs", lambda *_: True)

    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(bootstrap, "pip", stop)
    with pytest.raises(KeyboardInterrupt):
        bootstrap.install(project, venv, "key")
    assert not bootstrap.is_usable(venv)
    assert not bootstrap.is_ready(venv, "key")
    assert pip_calls == []


def test_a_ready_machine_is_left_alone(
    project: Path, pip_calls: list[tuple[str, ...]], monkeypatch: pytest.MonkeyPatch
) -> None:
    venv = project / ".venv"
    venv.mkdir()
    bootstrap.stamp(venv).write_text(bootstrap.set_up_key(project), encoding="utf-8")
    monkeypatch.setattr(bootstrap, "runs", lambda *_: True)
    assert bootstrap.set_up(project, {}) == bootstrap.venv_python(venv)
    assert pip_calls == []


def test_a_failing_pip_is_told_without_a_traceback(project: Path) -> None:
    venv = project / ".venv"
    python = bootstrap.venv_python(venv)
    python.parent.mkdir(parents=True)
    python.write_text("#!/bin/sh\necho 'ERROR: hashes do not match' >&2\nexit 1\n", encoding="utf-8")
    python.chmod(0o755)
    with pytest.raises(SetupError) as told:
        bootstrap.pip(venv, "x")
    assert "ERROR: hashes do not match" in str(told.value)
    assert "Traceback" not in str(told.value)


def test_two_at_once_wait_for_each_other(tmp_path: Path) -> None:
    held, log = tmp_path / "held", tmp_path / "log"
    held.touch()
    code = (
        "import sys, time; from pathlib import Path; from loadbench.bootstrap import alone\n"
        "with alone(Path(sys.argv[1])), open(sys.argv[2], 'a', buffering=1) as log:\n"
        "    log.write('in\\n'); time.sleep(0.5); log.write('out\\n')"
    )
    command = [sys.executable, "-c", code, str(held), str(log)]
    both = [subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True) for _ in range(2)]
    said = "".join(one.communicate(timeout=30)[0] for one in both)
    assert [one.returncode for one in both] == [0, 0]
    assert log.read_text(encoding="utf-8").split() == ["in", "out"] * 2
    assert said == "Another set-up is running: waiting for it\n"


@linux_only
def test_a_pip_that_outlives_its_set_up_is_waited_for(tmp_path: Path) -> None:
    python = bootstrap.venv_python(tmp_path)
    python.parent.mkdir(parents=True)
    python.write_text("#!/bin/sh\nsleep 1\n", encoding="utf-8")
    python.chmod(0o755)
    code = (
        "import sys; from pathlib import Path; from loadbench.bootstrap import alone, pip\n"
        "with alone(Path(sys.argv[1])):\n    print('in', flush=True)\n    pip(Path(sys.argv[2]))"
    )
    held = tmp_path / "held"
    held.touch()
    command = [sys.executable, "-c", code, str(held), str(tmp_path)]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True) as one:
        assert one.stdout is not None
        assert one.stdout.readline() == "in\n"
        time.sleep(0.3)
        one.kill()
    with held.open("rb") as file:
        assert not bootstrap.try_lock(file.fileno())
        time.sleep(1.5)
        assert bootstrap.try_lock(file.fileno())


# What is run


@pytest.fixture
def ready(monkeypatch: pytest.MonkeyPatch) -> list[tuple[list[str], dict[str, str], float | None]]:
    """A machine that is set up; what would be run is noted."""
    calls: list[tuple[list[str], dict[str, str], float | None]] = []

    def call(command: Sequence[str], env: dict[str, str] | None = None, seconds: float | None = None) -> int:
        calls.append((list(command), env or {}, seconds))
        return 5

    monkeypatch.setattr(bootstrap, "set_up", lambda *_: Path("python"))
    monkeypatch.setattr(bootstrap, "call", call)
    return calls


def test_tests_run_unseen_on_two_cores_for_eight_minutes_at_most(
    ready: list[tuple[list[str], dict[str, str], float]],
) -> None:
    assert bootstrap.main(["test", "--cov", "tests/units"]) == 5
    command, env, seconds = ready[0]
    assert command == [
        "python",
        "-m",
        "pytest",
        "-n",
        "2",
        "--dist",
        "worksteal",
        "-m",
        "not strength",
        "--cov",
        "tests/units",
    ]
    assert env == {"QT_QPA_PLATFORM": "offscreen"}
    assert seconds == 480


def test_strength_takes_the_long_tests_and_more_examples(ready: list[tuple[list[str], dict[str, str], float]]) -> None:
    assert bootstrap.main(["strength", "-x"]) == 5
    command, _, seconds = ready[0]
    assert command[-5:] == ["-m", "strength or hypothesis", "--hypothesis-profile", "strength", "-x"]
    assert seconds is None


def test_bench_runs_the_benchmarks(ready: list[tuple[list[str], dict[str, str], float]]) -> None:
    assert bootstrap.main(["bench", "edit"]) == 5
    script, word = ready[0][0][-2:]
    assert Path(script).is_file()
    assert word == "edit"


@linux_only
def test_without_a_screen_it_says_so(
    ready: list[object], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    assert bootstrap.main([]) == bootstrap.NO_SCREEN
    assert "no screen" in capsys.readouterr().out
    assert ready == []
    monkeypatch.setenv("DISPLAY", ":0")
    assert bootstrap.main([]) == 5


WINDOW = """
import sys
from PySide6.QtWidgets import QApplication, QMainWindow
app = QApplication([])
window = QMainWindow()
window.setWindowTitle("the demo job")
{shown}
sys.exit(app.exec())
"""


@pytest.mark.parametrize(
    ("shown", "code", "told"),
    [
        ("window.show()", 0, "A window opened: the demo job"),
        ("", 1, "No window was shown."),
        ("sys.exit(4)", 1, "No window"),
    ],
    ids=["shown", "hidden", "gone before"],
)
def test_the_check_opens_the_real_window_and_leaves(tmp_path: Path, shown: str, code: int, told: str) -> None:
    package = tmp_path / "loadbench"
    package.mkdir()
    (package / "__init__.py").touch()
    (package / "__main__.py").write_text(WINDOW.format(shown=shown), encoding="utf-8")
    env = {**os.environ, "PYTHONPATH": str(tmp_path), "QT_QPA_PLATFORM": "offscreen"}
    command = [sys.executable, "-P", "-c", bootstrap.CHECK]
    done = subprocess.run(command, env=env, capture_output=True, text=True, check=False, timeout=60)
    assert done.returncode == code, done.stderr
    assert told in done.stdout + done.stderr


@pytest.mark.parametrize("arguments", [["tset"], ["--wrong"], ["test", "--check"]])
def test_a_wrong_word_is_refused_before_anything_is_done(ready: list[object], arguments: list[str]) -> None:
    with pytest.raises(SystemExit) as told:
        bootstrap.main(arguments)
    assert told.value.code == 2
    assert ready == []


@pytest.mark.parametrize(
    ("error", "code", "told"),
    [
        (SetupError("No packages."), 1, "No packages.\n"),
        (PermissionError(13, "Permission denied", "x/.venv"), 1, "Set-up stopped: Permission denied (x/.venv).\n"),
        (KeyboardInterrupt(), 130, "Stopped. Run this command again to go on.\n"),
    ],
    ids=["set-up", "system", "keyboard"],
)
def test_a_user_is_told_in_a_sentence(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], error: BaseException, code: int, told: str
) -> None:
    def fail(*_: object) -> None:
        raise error

    monkeypatch.setattr(bootstrap, "set_up", fail)
    assert bootstrap.main(["test"]) == code
    assert capsys.readouterr().err == told


def test_a_run_that_takes_too_long_is_stopped(capsys: pytest.CaptureFixture[str]) -> None:
    assert bootstrap.call([sys.executable, "-c", "import time; time.sleep(60)"], seconds=0.3) == 124
    assert "more than 0 s" in capsys.readouterr().out


@linux_only
def test_the_code_is_that_of_what_ran(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PYTHONPATH", "elsewhere")
    code = "import os, sys; sys.exit(7 if 'PYTHONPATH' not in os.environ and os.environ['X'] == 'y' else 1)"
    assert bootstrap.call([sys.executable, "-c", code], {"X": "y"}) == 7
    assert bootstrap.call(["sh", "-c", "kill -9 $$"]) == 137


# The lock


def pins() -> list[Requirement]:
    lines = LOCK.read_text(encoding="utf-8").replace("\\\n", " ").splitlines()
    return [Requirement(line.partition("--hash")[0].strip()) for line in lines]


def test_every_line_of_the_lock_is_one_version_with_hashes_and_no_place() -> None:
    text = LOCK.read_text(encoding="utf-8")
    assert "#" not in text
    assert "/" not in text
    for line in text.replace("\\\n", " ").splitlines():
        assert "==" in line.partition(";")[0]
        assert "--hash=sha256:" in line


@pytest.mark.parametrize("platform", ["linux", "win32", "darwin"])
@pytest.mark.parametrize("version", ["3.11", "3.12", "3.13"])
def test_the_lock_holds_what_the_project_asks_for(version: str, platform: str) -> None:
    here: dict[str, str | Set[str]] = {"python_version": version, "python_full_version": version + ".0"}
    here |= {"sys_platform": platform, "platform_python_implementation": "CPython"}
    locked = {pin.name.lower(): pin for pin in pins() if pin.marker is None or pin.marker.evaluate(here)}
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = [Requirement(text) for text in [*project["dependencies"], *project["optional-dependencies"]["dev"]]]
    for one in wanted:
        pin = locked[one.name.lower().replace("_", "-")]
        assert one.specifier.contains(next(iter(pin.specifier)).version), one
