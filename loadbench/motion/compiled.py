"""The stepping loop, compiled when first wanted and kept in the user's cache folder."""

from __future__ import annotations

import os
import threading
from collections.abc import Callable
from functools import cache
from typing import Any

_LOCK = threading.Lock()

# Not "fast": a value that is no number has to stay one.
FAST = {"nsz", "arcp", "contract", "reassoc"}


def compiled(function: Callable[..., Any]) -> Callable[..., Any]:
    """A function of plain arrays, compiled without Python's lock.

    Args:
        function: of a module of ours.

    Returns:
        The same, fast. Compiling takes a second or two at the first call on a machine, so call it off the window's
        thread; without a cache folder that can be written, at the first call of each process.
    """
    with _LOCK:
        return _compiled(function)


@cache
def _compiled(function: Callable[..., Any]) -> Callable[..., Any]:
    if "NUMBA_CACHE_DIR" not in os.environ:
        from platformdirs import user_cache_path

        os.environ["NUMBA_CACHE_DIR"] = str(user_cache_path("loadbench", appauthor=False) / "compiled")
    import numba

    settings: dict[str, Any] = {"nogil": True, "fastmath": FAST, "error_model": "numpy"}
    njit: Callable[..., Callable[..., Any]] = numba.njit
    try:
        return njit(function, cache=True, **settings)
    except RuntimeError:  # no folder to keep it in
        return njit(function, **settings)
