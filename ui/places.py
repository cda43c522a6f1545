"""Where the program keeps what is the user's but no job: settings, recovery copies, the log."""

from __future__ import annotations

import os
from pathlib import Path

from platformdirs import PlatformDirs

_DIRS = PlatformDirs("loadbench", appauthor=False)


def _folder(name: str, usual: str) -> Path:
    home = os.environ.get("LOADBENCH_HOME")
    folder = Path(home) / name if home else Path(usual)
    folder.mkdir(parents=True, exist_ok=True)
    return folder


def settings_folder() -> Path:
    """The settings and the shop's own rules; LOADBENCH_HOME moves all folders of the program."""
    return _folder("settings", _DIRS.user_config_dir)


def recovery_folder() -> Path:
    """Copies of unsaved work, and the locks of open jobs."""
    return _folder("recovery", str(Path(_DIRS.user_data_dir) / "recovery"))


def log_file() -> Path:
    """The log of what went wrong."""
    return _folder("log", _DIRS.user_log_dir) / "loadbench.log"
