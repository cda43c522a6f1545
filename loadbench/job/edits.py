"""Edits of a frozen job: one field replaced, a list item added or removed.

Only the parts above the field are made and validated anew; every other part stays the very same object, so that what
was computed from it can be kept.
"""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel, ValidationError

from loadbench.errors import InputError, Place
from loadbench.job.model import Job, RuleChange


def _frozen(node: Any) -> Any:
    """A plain tree with tuples in place of lists; an emptied entry states nothing, as in a file."""
    if isinstance(node, dict):
        return {name: None if child == "" and name != "title" else _frozen(child) for name, child in node.items()}
    return tuple(_frozen(child) for child in node) if isinstance(node, list | tuple) else node


def _made(child: Any, rest: list[str]) -> Any:
    """The child, or an empty list or group where a step leads through one that is not there yet."""
    return ((() if rest[0].isdigit() else {}) if rest else None) if child is None else child


def _with(node: Any, steps: list[str], value: Any) -> Any:
    """The node with the value set at the end of the steps below it."""
    if not steps:
        return _frozen(value)
    step, rest = steps[0], steps[1:]
    if isinstance(node, tuple):
        index = int(step)
        if not 0 <= index <= len(node):
            raise IndexError(step)
        child = _made(node[index] if index < len(node) else None, rest)
        return (*node[:index], _with(child, rest, value), *node[index + 1 :])
    if not rest and value == "" and step != "title":
        value = None
    if isinstance(node, dict):
        return {**node, step: _with(_made(node.get(step), rest), rest, value)}
    if not isinstance(node, BaseModel):
        raise TypeError(step)
    fields = _fields(node)
    if step not in type(node).model_fields and not isinstance(node, RuleChange):
        raise KeyError(step)
    return type(node).model_validate({**fields, step: _with(_made(fields.get(step), rest), rest, value)})


def _fields(node: BaseModel) -> dict[str, Any]:
    """The fields of a part as they stand, its named limits included."""
    return {**node.__dict__, **(node.__pydantic_extra__ or {})}


def _without(node: Any, steps: list[str]) -> Any:
    """The node without the list item or named entry at the end of the steps."""
    step, rest = steps[0], steps[1:]
    if isinstance(node, tuple):
        index = int(step)
        if not 0 <= index < len(node):
            raise IndexError(step)
        kept = (_without(node[index], rest),) if rest else ()
        return (*node[:index], *kept, *node[index + 1 :])
    if isinstance(node, dict):
        if rest:
            return {**node, step: _without(node[step], rest)}
        node[step]  # an entry that is not there is an error
        return {name: child for name, child in node.items() if name != step}
    fields = _fields(node)
    if rest:
        return type(node).model_validate({**fields, step: _without(fields[step], rest)})
    extra = node.__pydantic_extra__ or {}
    if step not in extra:
        raise KeyError(step)
    return type(node).model_validate({name: child for name, child in fields.items() if name != step})


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
    for field, value in changes.items():
        try:
            job = _with(job, field.split("."), value)
        except ValidationError as error:
            first = error.errors()[0]
            place = Place(field=field)
            raise InputError(f"{field} cannot hold this.", expected=str(first["msg"]), place=place) from error
        except (KeyError, IndexError, TypeError, ValueError) as error:
            raise InputError(f"There is no field {field}.", place=Place(field=field)) from error
    return job


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
    try:
        after = _without(job, field.split("."))
    except (KeyError, IndexError, TypeError, ValueError, AttributeError) as error:
        raise InputError(f"There is no item {field}.", place=Place(field=field)) from error
    return Job.model_validate(after)


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
