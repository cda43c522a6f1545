"""From an older version of the document to the present one; each step turns version n into n + 1."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from loadbench.job.model import VERSION


def _printouts(tree: dict[str, Any]) -> dict[str, Any]:
    """Version 2 keeps printouts, their recipes, photos, a plan and the counts of the shims; nothing moves."""
    return tree


def _coils(tree: dict[str, Any]) -> dict[str, Any]:
    """Version 3 keeps tapered coils, the retainer's step, and the room for a wanted spring; nothing moves."""
    return tree


def _followers(tree: dict[str, Any]) -> dict[str, Any]:
    """Version 4 keeps what followers are judged and set by: axle pin, bore, oil, warming, shims; nothing moves."""
    return tree


def _ramps(tree: dict[str, Any]) -> dict[str, Any]:
    """Version 5 keeps the ramps of a lobe by law or by durations; nothing moves."""
    return tree


def _design(tree: dict[str, Any]) -> dict[str, Any]:
    """Version 6 keeps what a polydyne lobe was made for; nothing moves."""
    return tree


STEPS: dict[int, Callable[[dict[str, Any]], dict[str, Any]]] = {
    1: _printouts, 2: _coils, 3: _followers, 4: _ramps, 5: _design,
}  # fmt: skip
"""The version that a step starts from, and the step."""


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
