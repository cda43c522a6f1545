"""The document walked: every leaf with its path and its type, so that no key is without a field."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any, get_args, get_origin

from pydantic import BaseModel

from loadbench.job.model import Job
from ui.labels import TABLE_COLUMNS

if TYPE_CHECKING:
    from collections.abc import Iterator

HEAD = ("format", "version")


def part_in(annotation: object) -> type[BaseModel] | None:
    """The part that an annotation holds, alone, in a union or in a list; None for plain values."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((part for inner in get_args(annotation) if (part := part_in(inner))), None)


def is_list(annotation: object) -> bool:
    """Whether an annotation is a list of the document."""
    return get_origin(annotation) is tuple


def leaves(model: type[BaseModel] = Job, above: str = "") -> Iterator[tuple[str, Any]]:
    """Every leaf of a part as (path, annotation).

    Args:
        model: the part.
        above: what stands before its names, ending with a dot.

    Yields:
        Lists of parts by their first item, "spring.readings.0.load"; bare tables by their columns,
        "cam.profile.0.1"; lists of plain values whole. The head of the file, the lines (overrides of the common
        part) and the rules are left out.
    """
    for name, info in model.model_fields.items():
        path = f"{above}{name}"
        if path in HEAD or path in ("lines", "rules"):
            continue
        part = part_in(info.annotation)
        if part is not None:
            yield from leaves(part, f"{path}.0." if is_list(info.annotation) else f"{path}.")
        elif name in TABLE_COLUMNS:
            yield from ((f"{path}.0.{column}", str) for column in range(2))
        else:
            yield path, info.annotation


@cache
def annotation_of(field: str) -> Any:
    """The annotation of a field by its dotted path; None where the document has no such field."""
    model: Any = Job
    annotation: Any = None
    for step in field.split("."):
        if step.isdigit():
            continue
        if model is None or step not in model.model_fields:
            return None
        annotation = model.model_fields[step].annotation
        model = part_in(annotation)
    return annotation


def holds(annotation: object, wanted: type) -> bool:
    """Whether an annotation takes values of a plain type."""
    return annotation is wanted or any(holds(inner, wanted) for inner in get_args(annotation))
