"""Saving replaces the file whole or leaves it as it was, and leaves nothing else behind."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from loadbench.errors import SaveError
from loadbench.job import files
from loadbench.job.edits import replaced
from loadbench.job.files import open_job, save_job, text_of_job
from loadbench.job.model import Job
from tests.job.unmeasured import unmeasured

ROOT = Path(__file__).parents[2]
UNIX = pytest.mark.skipif(os.name != "posix", reason="modes and limits of Unix")
JOB = replaced(Job(title="Ünvented ½ job"), "notes", "\u2028 <b>=1+1</b> \x00 \U0001f600")


def left(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_a_new_file_and_over_an_old_one(tmp_path: Path) -> None:
    path = tmp_path / "a.loadbench.json"
    save_job(JOB, path)
    assert open_job(path) == JOB
    save_job(Job(title="b"), path)
    assert open_job(path) == Job(title="b")
    assert left(tmp_path) == ["a.loadbench.json"]
    assert path.read_bytes().endswith(b"}\n")
    assert b"\r" not in path.read_bytes()


@UNIX
@pytest.mark.parametrize("mode", [0o600, 0o644, 0o664])
def test_the_mode_is_kept(tmp_path: Path, mode: int) -> None:
    path = tmp_path / "a.json"
    path.write_text("old", encoding="utf-8")
    path.chmod(mode)
    save_job(JOB, path)
    assert stat.S_IMODE(path.stat().st_mode) == mode


@UNIX
def test_a_new_file_has_the_mode_of_the_users_mask(tmp_path: Path) -> None:
    before = os.umask(0o027)
    try:
        save_job(JOB, tmp_path / "a.json")
    finally:
        os.umask(before)
    assert stat.S_IMODE((tmp_path / "a.json").stat().st_mode) == 0o640


@UNIX
def test_a_link_stays_a_link(tmp_path: Path) -> None:
    real, link = tmp_path / "real.json", tmp_path / "link.json"
    save_job(Job(title="old"), real)
    link.symlink_to(real)
    save_job(JOB, link)
    assert link.is_symlink()
    assert open_job(real) == JOB
    assert left(tmp_path) == ["link.json", "real.json"]


@UNIX
def test_a_link_that_goes_round_is_told(tmp_path: Path) -> None:
    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")
    with pytest.raises(SaveError):
        save_job(JOB, tmp_path / "a")
    assert left(tmp_path) == ["a", "b"]


def test_a_folder_of_that_name_stays(tmp_path: Path) -> None:
    (tmp_path / "a.json").mkdir()
    with pytest.raises(SaveError, match=r"a\.json cannot be saved"):
        save_job(JOB, tmp_path / "a.json")
    assert left(tmp_path) == ["a.json"]


@pytest.mark.parametrize("name", ["none/a.json", "x" * 300, "a\0b"])
def test_a_place_that_cannot_be(tmp_path: Path, name: str) -> None:
    with pytest.raises(SaveError):
        save_job(JOB, tmp_path / name)
    assert left(tmp_path) == []


def test_a_folder_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(SaveError) as told:
        save_job(JOB, tmp_path / "none" / "a.json")
    assert (
        str(told.value) == f"a.json cannot be saved: No such file or directory: there is no folder {tmp_path / 'none'}."
    )


def test_a_text_that_no_file_can_hold_leaves_the_old_file(tmp_path: Path) -> None:
    path = tmp_path / "a.json"
    save_job(JOB, path)
    with pytest.raises(SaveError, match="half of a character"):
        save_job(replaced(JOB, "notes", "\ud800"), path)
    assert open_job(path) == JOB
    assert left(tmp_path) == ["a.json"]


@pytest.mark.parametrize("step", ["fsync", "chmod", "replace"])
def test_a_failure_at_any_step_leaves_the_old_file(tmp_path: Path, step: str, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "a.json"
    save_job(JOB, path)

    def fails(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(files.os if step == "fsync" else files.Path, step, fails)
    with pytest.raises(SaveError, match="No space left"):
        save_job(Job(title="b"), path)
    monkeypatch.undo()
    assert open_job(path) == JOB
    assert left(tmp_path) == ["a.json"]


@UNIX
def test_a_full_disk_keeps_the_old_file_and_leaves_no_other(tmp_path: Path) -> None:
    path = tmp_path / "a.json"
    save_job(JOB, path)
    code = (
        "import resource, sys\n"
        "from loadbench.errors import SaveError\n"
        "from loadbench.job.edits import replaced\n"
        "from loadbench.job.files import open_job, save_job\n"
        "job = replaced(open_job(sys.argv[1]), 'notes', 'x' * 100_000)\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, 20_000))\n"
        "try: save_job(job, sys.argv[1])\n"
        "except SaveError as error: print(error)\n"
    )
    command = [sys.executable, "-c", code, str(path)]
    run = subprocess.run(command, cwd=ROOT, env=unmeasured(), capture_output=True, text=True, check=False)
    assert (run.returncode, run.stderr) == (0, "")
    assert "a.json cannot be saved" in run.stdout
    assert open_job(path) == JOB
    assert left(tmp_path) == ["a.json"]


@UNIX
def test_a_folder_one_may_not_write_in(tmp_path: Path) -> None:
    folder = tmp_path / "locked"
    folder.mkdir()
    save_job(JOB, folder / "a.json")
    folder.chmod(0o555)
    if os.access(folder, os.W_OK):
        folder.chmod(0o755)
        pytest.skip("this user may write anywhere")
    with pytest.raises(SaveError):
        save_job(Job(title="b"), folder / "a.json")
    folder.chmod(0o755)
    assert open_job(folder / "a.json") == JOB
    assert left(folder) == ["a.json"]


def test_the_text_holds_what_is_stated_and_nothing_else() -> None:
    assert text_of_job(Job(title="t")).count("\n") == 5
    assert '"rate"' not in text_of_job(JOB)
    assert text_of_job(JOB).index('"format"') < text_of_job(JOB).index('"version"') < text_of_job(JOB).index('"title"')
