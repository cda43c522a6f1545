"""The user's own small files beside the settings: where they live, and their text, read whole or refused."""

from __future__ import annotations

import os
from pathlib import Path

from loadbench.errors import Place, Problem, UnreadableFileError

MOST_BYTES = 1_000_000


def own_path(name: str) -> Path:
    """Where a file of the user's own lives: the folder of the settings; LOADBENCH_HOME moves it.

    Args:
        name: of the file.
    """
    home = os.environ.get("LOADBENCH_HOME")
    if home:
        return Path(home) / "settings" / name
    from platformdirs import user_config_dir

    return Path(user_config_dir("loadbench", appauthor=False)) / name


def own_text(path: Path, words: str) -> str | None:
    """The text of such a file.

    Args:
        path: the file.
        words: what it holds, such as "the shop's rules".

    Returns:
        Its text; None where there is no file.

    Raises:
        UnreadableFileError: it cannot be read, is too large or no UTF-8; it stays as it is.
    """
    try:
        if not path.exists():
            return None
        if path.is_file() and path.stat().st_size > MOST_BYTES:
            raise refused(path, f"The file has {path.stat().st_size / 1e6:.0f} MB.", "at most 1 MB")
        return path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise refused(path, f"Byte {error.start + 1} is not UTF-8 text.", f"{words} in UTF-8") from error
    except OSError as error:
        raise refused(path, f"The file cannot be read: {error.strerror or error}.", "a readable file") from error


def refused(path: Path, what: str, expected: str, field: str | None = None) -> UnreadableFileError:
    """The refusal of such a file."""
    return UnreadableFileError((Problem(what=what, expected=expected, place=Place(file=path.name, field=field)),))
