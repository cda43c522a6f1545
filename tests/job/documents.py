"""Documents drawn at random from the model itself: any subset of the keys, sensible and senseless entries alike."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any, get_args, get_origin

from hypothesis import strategies as st
from pydantic import BaseModel

from loadbench.job.kinds import Quantity, Words
from loadbench.job.model import Job, LimitChange, RuleChange
from loadbench.job.stated import mark_of, marks_of
from loadbench.units import Kind

TEXTS: dict[Kind, tuple[str, ...]] = {
    Kind.LENGTH: ("1.900 in", "48,26 mm", "1 7/8 in", "15 thou", "0.015", "0 in", "1.3 in", "0.35 in"),
    Kind.FORCE: ("150 lbf", "160#", "402 lb", "667 N", "0 N", "80 kp", "385"),
    Kind.RATE: ("420 lbf/in", "73.6 N/mm", "400"),
    Kind.MASS: ("112 g", "0.2 lb", "90"),
    Kind.PRESSURE: ("14.5 psi", "1 bar", "0 psi"),
    Kind.SPEED: ("6800 rpm", "850"),
    Kind.ANGLE: ("230 deg", "-10 deg"),
    Kind.TEMPERATURE: ("100 degC", "212 degF"),
    Kind.INERTIA: ("9.0e-5 kg m^2",),
    Kind.DAMPING: ("120 N s/m",),
    Kind.FILM: ("0.2 µm", "8 µin", "0.2"),
}
NONSENSE = (
    "",
    " ",
    "nan in",
    "inf",
    "-1 in",
    "1,900",
    "=1+1",
    "<b>1</b>",
    "1e400 in",
    "half",
    "1.9 furlong",
    "0x10",
    "9" * 60,
)
FREE = st.one_of(st.sampled_from(["outer", "pair", "inner", "chrome-silicon", "S01", "1E"]), st.text(max_size=12))


def whole(text: str) -> bool:
    """Whether a text can be stored: no halves of characters."""
    return not any("\ud800" <= letter <= "\udfff" for letter in text)


plain = FREE.filter(whole)
NUMBERS = st.one_of(
    st.sampled_from([0, 1, 1.6, 3.2, 5, 17, -1, 0.15]),
    st.floats(allow_nan=False, allow_infinity=False, width=32),
    st.integers(-5, 5),
)


def entry(annotation: Any, mark: object) -> st.SearchStrategy[Any]:
    """One entry of a field."""
    if get_origin(annotation) is tuple:
        return rows(annotation, mark)
    if mark is not None:
        return marked(mark)
    inner = (annotation, *get_args(annotation))
    for each in inner:
        if isinstance(each, type) and issubclass(each, BaseModel):
            return part(each)
    return st.booleans() if bool in inner else st.integers(1, 16) if int in inner else plain


def marked(mark: object) -> st.SearchStrategy[Any]:
    """A quantity, a word or a number, sensible or not."""
    if isinstance(mark, Quantity):
        return st.one_of(
            st.sampled_from(TEXTS[mark.kind]), st.sampled_from(TEXTS[mark.kind]), st.sampled_from(NONSENSE)
        )
    return st.sampled_from((*mark.words, "another word")) if isinstance(mark, Words) else NUMBERS


def rows(annotation: Any, mark: object) -> st.SearchStrategy[Any]:
    """A list of parts, of texts, or of the pairs of a table."""
    first = get_args(annotation)[0]
    if get_origin(first) is tuple:
        other = st.sampled_from(TEXTS[Kind.LENGTH]) if get_args(first)[1] is not float else st.sampled_from([1.5, 1.6])
        return st.lists(st.tuples(st.sampled_from(["0 in", "1 deg", "0.1 in"]), other).map(list), max_size=3)
    return st.lists(entry(first, mark), max_size=3)


def part(model: type[BaseModel]) -> st.SearchStrategy[dict[str, Any]]:
    """A part with any of its keys."""
    marks = marks_of(model)
    optional = {
        name: entry(info.annotation, marks[name])
        for name, info in model.model_fields.items()
        if name not in {"format", "version", "title", "rules"}
    }
    return st.fixed_dictionaries({}, optional=optional)


limits = st.fixed_dictionaries(
    {}, optional={name: st.sampled_from(["0.05 in", "0.05", 0.02, "wide", "80 lbf"]) for name in ("watch", "stop")}
)
rules = st.dictionaries(
    st.sampled_from(["bind-margin-min", "retainer-margin-min", "load-loss", "no-such-rule", "flat-solid-max"]),
    limits,
    max_size=3,
)


@st.composite
def trees(draw: st.DrawFn) -> dict[str, Any]:
    """A document as a tree that JSON can write."""
    body = draw(part(Job))
    head = {"format": "loadbench-job", "version": 1, "title": draw(st.text(max_size=20).filter(whole))}
    return head | body | {"rules": draw(rules)}


def leaves(node: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """The paths of all entries of a tree."""
    children = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    if not isinstance(node, dict | list):
        yield path
    for name, child in children:
        yield from leaves(child, (*path, name))


@st.composite
def spoiled(draw: st.DrawFn, tree: dict[str, Any]) -> dict[str, Any]:
    """A whole document with some entries taken out and some made senseless, or sensible in another way."""
    paths = [path for path in leaves(tree) if path[0] not in ("format", "version", "title", "rules")]
    spoilt: dict[str, Any] = json.loads(json.dumps(tree))
    for path in draw(st.lists(st.sampled_from(paths), max_size=12, unique=True)):
        group: Any = spoilt
        for step in path[:-1]:
            group = group[step]
        mark = mark_of(".".join(str(step) for step in path))
        if isinstance(mark, Quantity) and (draw(st.booleans()) or isinstance(group, list)):
            group[path[-1]] = draw(st.one_of(st.sampled_from(TEXTS[mark.kind]), st.sampled_from(NONSENSE)))
        elif isinstance(group, dict):
            group[path[-1]] = None
    return spoilt


def text_of(tree: dict[str, Any]) -> str:
    return json.dumps(tree, ensure_ascii=False)


assert {"watch", "stop"} <= LimitChange.model_fields.keys() <= RuleChange.model_fields.keys()
