"""From the text of a job file to a Job: every fault of structure at once, each with its place."""

from __future__ import annotations

import difflib
import json
import math
from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Any, get_args

from pydantic import BaseModel, ValidationError

from loadbench.errors import Place, Problem, UnreadableFileError
from loadbench.job.migrations import migrated
from loadbench.job.model import FORMAT, VERSION, Job

MOST_BYTES = 16_000_000
DEEPEST = 32
"""Groups and lists inside each other; a job has no more than eight."""


class _Bad(str):
    """Stands in the parsed tree for a token that JSON numbers do not have, such as NaN."""

    __slots__ = ()


class _Object(dict[str, Any]):
    """A JSON object that remembers the keys it held twice."""

    twice: tuple[str, ...] = ()


def _object(pairs: list[tuple[str, Any]]) -> _Object:
    made = _Object(pairs)
    if len(made) < len(pairs):
        made.twice = tuple(sorted(name for name, times in Counter(name for name, _ in pairs).items() if times > 1))
    return made


def _number(text: str) -> float | _Bad:
    number = float(text)
    return number if math.isfinite(number) else _Bad(text)


def _parsed(text: str, file: str | None) -> object:
    try:
        tree: object = json.loads(text, object_pairs_hook=_object, parse_constant=_Bad, parse_float=_number)
    except json.JSONDecodeError as error:
        what = "The file is empty." if not text.strip() else f"This is not JSON: {error.msg}."
        place = Place(file=file, row=error.lineno, column=error.colno)
        raise UnreadableFileError((Problem(what=what, expected="a LoadBench job", place=place),)) from error
    except (RecursionError, ValueError) as error:
        raise _beyond(file) from error
    if _deeper(tree, DEEPEST):
        raise _beyond(file)
    return tree


def _beyond(file: str | None) -> UnreadableFileError:
    what = "This JSON is nested or sized beyond any job."
    return UnreadableFileError((Problem(what=what, expected="a LoadBench job", place=Place(file=file)),))


def _deeper(tree: object, most: int) -> bool:
    """Whether groups and lists stand inside each other deeper than so many; without going there by recursion."""
    level = [tree]
    for _ in range(most):
        level = [child for node in level for child in _children(node)]
    return bool(level)


def _children(node: object) -> Iterable[object]:
    if isinstance(node, dict):
        return node.values()
    return node if isinstance(node, list) else ()


def _halved(text: object) -> bool:
    """Whether a text holds one half of a character's pair of codes, which no file can store."""
    return isinstance(text, str) and any("\ud800" <= letter <= "\udfff" for letter in text)


def _token_faults(node: object, path: str, file: str | None) -> Iterator[Problem]:
    """Duplicate keys and tokens that are no numbers, wherever they stand."""
    place = Place(file=file, field=path or None)
    if isinstance(node, _Bad):
        yield Problem(what=f"{node} is not a number.", expected="a finite number or null", place=place)
    elif _halved(node):
        yield Problem(what="This text holds half of a character.", expected="whole characters", place=place)
    elif isinstance(node, dict):
        for name in getattr(node, "twice", ()):
            where = Place(file=file, field=f"{path}.{name}".lstrip("."))
            yield Problem(what=f'The key "{name}" stands twice.', expected="each key once", place=where)
        for name, child in node.items():
            if _halved(name):
                yield Problem(what="A key holds half of a character.", expected="whole characters", place=place)
            else:
                yield from _token_faults(child, f"{path}.{name}".lstrip("."), file)
    elif isinstance(node, list):
        for index, child in enumerate(node):
            yield from _token_faults(child, f"{path}.{index}", file)


def pruned(node: object) -> object:
    """The tree without keys that state nothing: null and "" mean the same as absent."""
    if isinstance(node, dict):
        return {name: pruned(child) for name, child in node.items() if child is not None and child != ""}
    if isinstance(node, list):
        return [pruned(child) for child in node]
    return node


def _known_keys(path: tuple[str | int, ...]) -> tuple[str, ...]:
    """The keys that the part at a path of the document takes."""
    model: Any = Job
    for step in path:
        if isinstance(step, int):
            continue
        field = model.model_fields.get(step) if isinstance(model, type) and issubclass(model, BaseModel) else None
        if field is None:
            return ()
        model = next(_models_in(field.annotation), None)
    return tuple(model.model_fields) if isinstance(model, type) and issubclass(model, BaseModel) else ()


def _models_in(annotation: object) -> Iterator[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for inner in get_args(annotation):
        yield from _models_in(inner)


_TYPES = {
    "string_type": "text in quotes",
    "float_type": "a number without quotes",
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "bool_type": "true or false",
    "tuple_type": "a list in square brackets",
    "model_type": "a group in braces",
    "model_attributes_type": "a group in braces",
    "dict_type": "a group in braces",
    "too_long": "a shorter list",
    "missing": "this key",
    "finite_number": "a finite number",
}


_UNION_STEPS = frozenset({"str", "float", "constrained-str"})


def _told(error: Any, file: str | None) -> Problem:
    """One of pydantic's errors in our words."""
    path = tuple(error["loc"])
    dotted = ".".join(str(step) for step in path if step not in _UNION_STEPS)
    place = Place(file=file, field=dotted or None)
    kind = error["type"]
    if kind == "extra_forbidden":
        near = difflib.get_close_matches(str(path[-1]), _known_keys(path[:-1]), n=1)
        expected = f'did you mean "{near[0]}"?' if near else "only the keys of this version"
        return Problem(what=f'The key "{path[-1]}" is unknown.', expected=expected, place=place)
    if kind == "missing":
        return Problem(what=f'The key "{path[-1]}" is missing.', expected=_TYPES[kind], place=place)
    shown = repr(error["input"])
    shown = shown if len(shown) <= 40 else shown[:39] + "…"
    return Problem(what=f"{shown} is of the wrong type.", expected=_TYPES.get(kind, error["msg"]), place=place)


def _header_fault(tree: object, file: str | None) -> Problem | None:
    """Whether this is ours, and of a version that we know; asked before anything else."""
    if not isinstance(tree, dict) or tree.get("format") != FORMAT:
        return Problem(
            what="This is not a LoadBench job.",
            expected=f'"format": "{FORMAT}"',
            place=Place(file=file, field="format"),
        )
    version = tree.get("version")
    place = Place(file=file, field="version")
    if isinstance(version, bool) or not isinstance(version, int) or version < 1:
        return Problem(
            what=f"The version {version!r} is not one of ours.", expected=f"a whole number, 1 to {VERSION}", place=place
        )
    if version > VERSION:
        what = (
            f"This job was made by a later LoadBench: version {version} of the format, where this one reads {VERSION}."
        )
        return Problem(what=what, expected="a newer program", place=place)
    return None


def job_from_text(text: str, file: str | None = None) -> Job:
    """Read a job from the text of its file.

    Args:
        text: the whole file.
        file: its name, for messages.

    Returns:
        The job, with every entry as typed.

    Raises:
        UnreadableFileError: any fault of structure; all of them at once.
    """
    tree = _parsed(text.removeprefix("\ufeff"), file)
    if fault := _header_fault(tree, file):
        raise UnreadableFileError((fault,))
    problems = list(_token_faults(tree, "", file))
    try:
        kept = json.dumps(_with_title(pruned(migrated(tree)), tree), ensure_ascii=False)
        job = Job.model_validate_json(kept.encode("utf-8", "replace"))  # halves of characters are told above
    except ValidationError as error:
        bad = {problem.place.field for problem in problems}
        problems += [told for told in (_told(each, file) for each in error.errors()) if told.place.field not in bad]
        raise UnreadableFileError(tuple(problems)) from error
    if problems:
        raise UnreadableFileError(tuple(problems))
    return job


def _with_title(kept: Any, tree: Any) -> Any:
    """An empty title is a title; only a missing one is a fault."""
    if tree.get("title") == "":
        kept["title"] = ""
    return kept
