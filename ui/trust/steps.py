"""From mark to mark by the arrow keys: along the column by load, across by column."""

from __future__ import annotations

from ui.trust.scene import Dot, Scene


def stepped(scene: Scene, current: int | None, way: str) -> int | None:
    """The mark that a key goes to.

    Args:
        scene: on show.
        current: place of the current mark; None before the first key.
        way: "left", "right", "up", "down", "first", "last".

    Returns:
        Its place; the current one where there is none that way, None in an empty scene.
    """
    dots = scene.dots
    order = sorted(range(len(dots)), key=lambda each: (dots[each].x, dots[each].y, each))
    if not order:
        return None
    if current is None or way in ("first", "last"):
        return order[-1] if way == "last" else order[0]
    if way in ("up", "down"):
        return _along(dots, current, way == "up", within=_columns(scene))
    return _across(scene, current, way == "right") if _columns(scene) else _next(order, current, way == "right")


def _columns(scene: Scene) -> bool:
    """Whether several marks stand in one column."""
    return bool(scene.places) and not scene.bars


def _along(dots: tuple[Dot, ...], current: int, up: bool, *, within: bool) -> int:
    """The next load, in the same column where there are columns."""
    own = [each for each, dot in enumerate(dots) if not within or dot.place == dots[current].place]
    order = sorted(own, key=lambda each: (dots[each].y, each))
    return _next(order, current, up)


def _next(order: list[int], current: int, on: bool) -> int:
    place = order.index(current) + (1 if on else -1)
    return order[min(max(place, 0), len(order) - 1)]


def _across(scene: Scene, current: int, right: bool) -> int:
    """The same spring in the next column that has it, else the nearest mark there."""
    dots, here = scene.dots, scene.dots[current]
    columns = sorted({dot.place for dot in dots if (dot.place > here.place if right else dot.place < here.place)})
    for column in columns if right else reversed(columns):
        own = [each for each, dot in enumerate(dots) if dot.place == column]
        same = [each for each in own if dots[each].spring == here.spring]
        return min(same or own, key=lambda each: abs(dots[each].y - here.y))
    return current
