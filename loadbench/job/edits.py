"""Edits of a frozen job: one field replaced, a list item added or removed; the whole validated each time."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

from pydantic import ValidationError

from loadbench.errors import InputError, Place
from loadbench.job.model import Job

NO_FIELD = (KeyError, IndexError, TypeError, ValueError, AttributeError)
"""What going along a path that the job does not have can raise."""


def _at(tree: Any, steps: list[str]) -> Any:
    for step in steps:
        tree = tree[_place(step, len(tree) - 1)] if isinstance(tree, list | tuple) else tree[step]
    return tree


def _place(step: str, last: int) -> int:
    """The place in a list that a step of a path names; counted from its end, or past it, it names none."""
    place = int(step)
    if not 0 <= place <= last:
        raise IndexError(step)
    return place


def _thawed(node: Any) -> Any:
    """The dump with lists in place of tuples, so that it can be changed."""
    if isinstance(node, dict):
        return {name: _thawed(child) for name, child in node.items()}
    if isinstance(node, tuple):
        return [_thawed(child) for child in node]
    return node


def _frozen(node: Any) -> Any:
    """The tree with tuples again; an emptied entry states nothing, as in a file."""
    if isinstance(node, dict):
        return {name: None if child == "" and name != "title" else _frozen(child) for name, child in node.items()}
    if isinstance(node, list):
        return tuple(_frozen(child) for child in node)
    return node


def _valid(tree: Any, field: str) -> Job:
    try:
        return Job.model_validate(_frozen(tree))
    except ValidationError as error:
        first = error.errors()[0]
        raise InputError(f"{field} cannot hold this.", expected=str(first["msg"]), place=Place(field=field)) from error


def replaced(job: Job, field: str, value: Any) -> Job:
    """The job with one field set.

    Args:
        job: the job before.
        field: dotted path, list items by number: "spring.readings.3.load". An index one past the end appends;
            "lines.exhaust" that is not there yet is made.
        value: text, number, truth value, None, or a plain tree of dicts and tuples for a whole part.

    Returns:
        The job after, validated.

    Raises:
        InputError: there is no such field, or it cannot hold the value.
    """
    return replaced_all(job, {field: value})


def replaced_all(job: Job, changes: dict[str, Any]) -> Job:
    """The job with several fields set at once, in order; otherwise as `replaced`."""
    tree = _thawed(job.model_dump())
    field = ""
    for field, value in changes.items():
        *above, last = field.split(".")
        try:
            parent = _parent(tree, [*above, last])
            if isinstance(parent, list):
                place = _place(last, len(parent))
                parent[place : place + 1] = [_thawed(value)]
            else:
                parent[last] = _thawed(value)
        except NO_FIELD as error:
            raise InputError(f"There is no field {field}.", place=Place(field=field)) from error
    return _valid(tree, field)


def _parent(tree: Any, steps: list[str]) -> Any:
    """The group or list that holds a field; a part or list that is not there yet (a line, an added item) is made."""
    for step, following in pairwise(steps):
        if isinstance(tree, list):
            place = _place(step, len(tree))
            if place == len(tree):
                tree.append({})
            tree = tree[place]
        else:
            if tree.get(step) is None:
                tree[step] = [] if following.isdecimal() else {}
            tree = tree[step]
    return tree


def removed(job: Job, field: str) -> Job:
    """The job without one item of a list or of a table of names.

    Args:
        job: the job before.
        field: dotted path of the item, such as "spring.readings.3" or "rules.bind-margin-min".

    Returns:
        The job after.

    Raises:
        InputError: there is no such item.
    """
    tree = _thawed(job.model_dump())
    *above, last = field.split(".")
    try:
        parent = _at(tree, above)
        del parent[_place(last, len(parent) - 1) if isinstance(parent, list) else last]
    except NO_FIELD as error:
        raise InputError(f"There is no item {field}.", place=Place(field=field)) from error
    return _valid(tree, field)


def value_at(job: Job, field: str) -> Any:
    """What stands in a field, or None where nothing does.

    Args:
        job: the job.
        field: dotted path.

    Returns:
        The text, number or part as it stands; None for an absent one.
    """
    node: Any = job
    for step in field.split("."):
        if isinstance(node, tuple):
            node = node[int(step)] if step.isdecimal() and int(step) < len(node) else None
        elif isinstance(node, dict):
            node = node.get(step)
        else:
            node = getattr(node, step, None)
        if node is None:
            return None
    return node
