"""Sets LoadBench up on a bare machine, then starts it, tests it or measures it.

    python3 loadbench/bootstrap.py              set up and open the window
    python3 loadbench/bootstrap.py --check      set up, open the window unseen for a second, leave with 0
    python3 loadbench/bootstrap.py test ...     set up and run the tests; what follows goes to pytest
    python3 loadbench/bootstrap.py strength ... set up and run the long tests
    python3 loadbench/bootstrap.py bench ...    set up and run the benchmarks

Standard library only. Older Pythons must be able to read this file as far as the sentence meant for them.
"""

import os
import sys

# Run as a script, this folder stands first on the path, and a module of ours could hide one of Python's own;
# so it goes before anything but what Python has loaded by itself is imported.
# ruff: noqa: E402, PTH120
_HERE = os.path.dirname(os.path.realpath(__file__))
if __name__ == "__main__":
    sys.path[:] = [entry for entry in sys.path if os.path.realpath(entry or ".") != _HERE]

if sys.version_info < (3, 11):  # noqa: UP036 - this is where an older Python is told
    sys.exit("LoadBench needs Python 3.11 or later; this is Python {}.{}.".format(*sys.version_info))

import argparse
import ctypes
import hashlib
import importlib.util
import platform
import shutil
import subprocess
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(_HERE).parent
TEST_SECONDS = 8 * 60
CHECK_SECONDS = 120
NO_SCREEN = 3
UNFINISHED = "unfinished"

# Library -> Debian's package. The first group is what Qt needs without a screen, the second what a window adds.
UNSEEN = {
    "libGL.so.1": "libgl1",
    "libEGL.so.1": "libegl1",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libfontconfig.so.1": "libfontconfig1",
    "libdbus-1.so.3": "libdbus-1-3",
}
WINDOW = {
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
}

# Runs the real program, but looks at its windows after a second and leaves as a user would.
CHECK = """
import runpy, sys
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
seen = []
def look():
    seen.extend(w.windowTitle() for w in QApplication.topLevelWidgets() if w.isVisible())
    QApplication.quit()
run = QApplication.exec
def run_briefly(*_):
    QTimer.singleShot(1000, look)
    return run()
QApplication.exec = staticmethod(run_briefly)
code = 0
try:
    runpy.run_module("loadbench", run_name="__main__", alter_sys=True)
except SystemExit as end:
    code = end.code
if not seen:
    sys.exit("No window was shown.")
print("A window opened: " + seen[0])
sys.exit(code)
"""


class SetupError(Exception):
    """Set-up cannot go on; the text is one for the user."""


def say(text: str) -> None:
    """Print one line of progress at once, so that it stands before what a child process prints."""
    print(text, flush=True)


# What the machine lacks


def loads(library: str) -> bool:
    """Tell whether the system's loader finds a shared library, by its file name."""
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def missing_libraries(wanted: dict[str, str]) -> dict[str, str]:
    """Those of the wanted libraries (library -> Debian package) that this machine lacks; none outside Linux."""
    if not sys.platform.startswith("linux"):
        return {}
    return {library: package for library, package in wanted.items() if not loads(library)}


def missing_venv() -> dict[str, str]:
    """The part of Python that makes environments, which Debian ships apart, if it is missing."""
    if all(importlib.util.find_spec(name) for name in ("venv", "ensurepip")):
        return {}
    return {"Python's venv": f"python3.{sys.version_info.minor}-venv"}


def provide(missing: dict[str, str]) -> None:
    """Install the missing system packages where that is allowed.

    Args:
        missing: what is missing -> the Debian package that holds it.

    Raises:
        SetupError: they can't be installed from here; the text holds the line to run.
    """
    packages = sorted(set(missing.values()))
    install = "apt-get install -y --no-install-recommends " + " ".join(packages)
    if not shutil.which("apt-get"):
        names = ", ".join(sorted(missing))
        raise SetupError(
            f"These are missing: {names}. Install them with this system's package manager, then run this again."
        )
    if sys.platform == "win32" or os.geteuid() != 0:
        raise SetupError(
            "System packages are missing. Run this line, then this command again:\n"
            f"    sudo apt-get update && sudo {install}"
        )
    say(f"Installing {len(packages)} system packages: {' '.join(packages)}")
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    wait = ["-o", "DPkg::Lock::Timeout=300", "-qq"]
    update = subprocess.run(["apt-get", *wait, "update"], env=quiet, capture_output=True, text=True, check=False)
    done = subprocess.run([*install.split(), *wait], env=quiet, capture_output=True, text=True, check=False)
    if done.returncode:
        raise SetupError(
            f"The system packages could not be installed.\n{last_lines(update.stderr + done.stderr)}\nTry: {install}"
        )


# The environment


def venv_python(venv: Path) -> Path:
    """Path of the Python of an environment."""
    return venv / "Scripts" / "python.exe" if os.name == "nt" else venv / "bin" / "python"


def set_up_key(root: Path) -> str:
    """What an environment was made from, as one hash: lock, project file, Python and place."""
    digest = hashlib.sha256()
    for part in (root / ".ci" / "requirements.lock", root / "pyproject.toml"):
        if not part.is_file():
            raise SetupError(f"{part.name} is missing: this copy of LoadBench is not whole. Fetch it again.")
        digest.update(part.read_bytes() + b"\0")
    digest.update(f"{platform.python_version()} {sys.platform} {platform.machine()} {root}".encode())
    return digest.hexdigest()


def stamp(venv: Path) -> Path:
    """The file in an environment that holds the key it was made from."""
    return venv / "set-up-key"


def read_stamp(venv: Path) -> str:
    """The key an environment was made from; empty where there is none."""
    try:
        return stamp(venv).read_text(encoding="utf-8").strip()
    except OSError:
        return ""


def runs(venv: Path, code: str) -> bool:
    """Tell whether the environment's Python runs a line of code without a fault."""
    python = venv_python(venv)
    if not python.is_file():
        return False
    try:
        return (
            subprocess.run([str(python), "-I", "-c", code], capture_output=True, timeout=60, check=False).returncode
            == 0
        )
    except (OSError, subprocess.TimeoutExpired):
        return False


def is_ready(venv: Path, key: str) -> bool:
    """Tell whether the environment was finished from this key and still holds the main packages."""
    look = "from importlib.util import find_spec as f; assert all(map(f, ('PySide6', 'numpy', 'pytest', 'loadbench')))"
    return read_stamp(venv) == key and runs(venv, look)


def is_usable(venv: Path) -> bool:
    """Tell whether packages can be installed into what stands there: same Python, with pip, not left half-made."""
    same = f"sys.version_info[:3] == {tuple(sys.version_info[:3])} and sys.prefix != sys.base_prefix"
    look = f"import sys, pip; assert {same}"
    return read_stamp(venv) != UNFINISHED and runs(venv, look)


def make_venv(venv: Path) -> None:
    """Make an empty environment, in place of whatever stands there."""
    say("Making the environment in .venv")
    if venv.is_symlink() or venv.is_file():
        venv.unlink()
    # Under an environment's Python this is the one it was made from; .venv can't remake itself.
    python = getattr(sys, "_base_executable", None) or sys.executable
    made = subprocess.run(
        [python, "-I", "-m", "venv", "--clear", str(venv)],
        capture_output=True,
        text=True,
        check=False,
        close_fds=False,
    )
    if made.returncode:
        raise SetupError(f"The environment could not be made.\n{last_lines(made.stdout + made.stderr)}")


def pip(venv: Path, *arguments: str) -> None:
    """Run the environment's pip; its last lines are told if it fails."""
    command = [str(venv_python(venv)), "-I", "-m", "pip", "--disable-pip-version-check", "--no-input", "install", "-q"]
    env = {**os.environ, "PIP_USER": "0"}
    done = subprocess.run([*command, *arguments], env=env, capture_output=True, text=True, check=False, close_fds=False)
    if done.returncode:
        raise SetupError(
            "The packages could not be installed; is the network reachable?\n"
            f"{last_lines(done.stderr or done.stdout)}\nNothing is lost: run this command again to go on."
        )


def install(root: Path, venv: Path, key: str) -> None:
    """Bring an environment to what the lock says, then put the project itself in it."""
    if not is_usable(venv):
        make_venv(venv)
    stamp(venv).write_text(UNFINISHED, encoding="utf-8")
    try:
        say("Installing the packages (a few minutes the first time)")
        lock = root / ".ci" / "requirements.lock"
        pip(venv, "--require-hashes", "--no-deps", "--only-binary", ":all:", "-r", str(lock))
        pip(venv, "--no-deps", "--no-index", "--no-build-isolation", "-e", str(root))
    except SetupError:
        # pip failed in good order and took back what it had begun; only a killed run leaves "unfinished" behind.
        stamp(venv).unlink()
        raise
    stamp(venv).write_text(key, encoding="utf-8")


@contextmanager
def alone(path: Path) -> Iterator[None]:
    """Hold a lock on a file, so that two set-ups at once wait for each other; the dead hold none."""
    with path.open("rb") as file:
        if not try_lock(file.fileno()):
            say("Another set-up is running: waiting for it")
            while not try_lock(file.fileno()):
                time.sleep(0.2)
        # pip goes on when only this process is killed: it holds the lock too, until it ends.
        os.set_inheritable(file.fileno(), True)
        yield


def try_lock(descriptor: int) -> bool:
    """Lock an open file without waiting; closing it frees the lock."""
    try:
        if sys.platform == "win32":
            import msvcrt

            # A byte far past the end: Windows would otherwise keep others from reading the file.
            os.lseek(descriptor, 2**30, os.SEEK_SET)
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


def set_up(root: Path, libraries: dict[str, str]) -> Path:
    """Make the machine ready.

    Args:
        root: the project's folder.
        libraries: system libraries that must be there -> Debian package.

    Returns:
        The Python of the ready environment.

    Raises:
        SetupError: something is missing that can't be had from here.
    """
    venv, key = root / ".venv", set_up_key(root)
    with alone(root / "pyproject.toml"):
        missing = missing_libraries(libraries)
        ready = is_ready(venv, key)
        if not ready:
            missing.update(missing_venv())
        if missing:
            provide(missing)
        if not ready:
            started = time.monotonic()
            install(root, venv, key)
            say(f"Set up in {time.monotonic() - started:.0f} s")
    return venv_python(venv)


# What is run


def start(python: Path, _rest: Sequence[str]) -> int:
    """Open the window with whatever the program shows by itself; without a screen, say so."""
    named = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    if sys.platform.startswith("linux") and not any(os.environ.get(name) for name in named):
        say(
            "LoadBench is set up, but there is no screen here: run this command again at a desktop, "
            "or judge a job without a window with '.venv/bin/loadbench check JOB'."
        )
        return NO_SCREEN
    say("Starting LoadBench")
    return call([str(python), "-P", "-m", "loadbench"])


def check(python: Path, _rest: Sequence[str]) -> int:
    """Open the window unseen for a second, with settings of its own."""
    with tempfile.TemporaryDirectory() as home:
        env = {"QT_QPA_PLATFORM": "offscreen", "LOADBENCH_HOME": home}
        return call([str(python), "-P", "-c", CHECK], env, seconds=CHECK_SECONDS)


def test(python: Path, rest: Sequence[str]) -> int:
    """Run the everyday tests on two cores."""
    command = [str(python), "-m", "pytest", "-n", "2", "--dist", "worksteal", "-m", "not strength", *rest]
    return call(command, {"QT_QPA_PLATFORM": "offscreen"}, seconds=TEST_SECONDS)


def strength(python: Path, rest: Sequence[str]) -> int:
    """Run the long tests, and every property test with many more examples."""
    chosen = ["-m", "strength or hypothesis", "--hypothesis-profile", "strength"]
    return call(
        [str(python), "-m", "pytest", "-n", "2", "--dist", "worksteal", *chosen, *rest],
        {"QT_QPA_PLATFORM": "offscreen"},
    )


def bench(python: Path, rest: Sequence[str]) -> int:
    """Run the benchmarks and print their table."""
    script = str(ROOT / "tests" / "bench" / "run.py")
    return call([str(python), "-P", script, *rest], {"QT_QPA_PLATFORM": "offscreen"})


def call(command: Sequence[str], env: dict[str, str] | None = None, seconds: float | None = None) -> int:
    """Run a command in the project's folder and wait for it.

    Args:
        command: program and arguments.
        env: what to set over this process's environment.
        seconds: the longest it may take, s; None for no end.

    Returns:
        Its exit code, 128 + signal where a signal ended it, 124 where time was up.
    """
    inherited = {name: text for name, text in os.environ.items() if name not in ("PYTHONPATH", "PYTHONHOME")}
    with subprocess.Popen(command, cwd=ROOT, env={**inherited, **(env or {})}) as process:
        try:
            code = process.wait(timeout=seconds)
        except subprocess.TimeoutExpired:
            process.terminate()
            try:
                process.wait(timeout=10)
            except subprocess.TimeoutExpired:
                process.kill()
            say(f"Stopped: it took more than {seconds:.0f} s.")
            return 124
        except KeyboardInterrupt:
            process.wait()
            raise
    return code if code >= 0 else 128 - code


def last_lines(text: str, count: int = 8) -> str:
    """The last few lines of what a program said, set in."""
    return "\n".join("    " + line for line in text.strip().splitlines()[-count:])


RUNS = {"start": start, "check": check, "test": test, "strength": strength, "bench": bench}


def main(arguments: Sequence[str]) -> int:
    """Set up, then run what was asked for; returns the exit code."""
    parser = argparse.ArgumentParser(prog="bootstrap.py", description="Sets LoadBench up and starts it.")
    parser.add_argument("what", nargs="?", default="start", choices=["start", "test", "strength", "bench"])
    parser.add_argument("--check", action="store_true", help="open the window unseen for a second and leave")
    chosen, rest = parser.parse_known_args(arguments)
    if chosen.check and chosen.what != "start":
        parser.error("--check goes with no other word")
    if chosen.what == "start" and rest:
        parser.error("not understood: " + " ".join(rest))
    what = "check" if chosen.check else chosen.what
    try:
        python = set_up(ROOT, {**UNSEEN, **WINDOW} if what == "start" else UNSEEN)
        return RUNS[what](python, rest)
    except SetupError as error:
        print(error, file=sys.stderr)
    except OSError as error:
        print(f"Set-up stopped: {error.strerror or error} ({error.filename or 'no file named'}).", file=sys.stderr)
    except KeyboardInterrupt:
        print("Stopped. Run this command again to go on.", file=sys.stderr)
        return 130
    return 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
