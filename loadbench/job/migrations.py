"""From an older version of the document to the present one; each step turns version n into n + 1."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from loadbench.job.model import VERSION

STEPS: dict[int, Callable[[dict[str, Any]], dict[str, Any]]] = {}
"""The version that a step starts from, and the step. Version 1 is the first, so there is none yet."""


def migrated(tree: Any) -> Any:
    """The same document in the present version.

    Args:
        tree: the parsed JSON object, of any version from 1 on.

    Returns:
        The object in version VERSION.
    """
    while (version := tree["version"]) < VERSION:
        tree = {**STEPS[version](tree), "version": version + 1}
    return tree
