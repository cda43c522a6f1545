"""The parts of the job that are kept from the tester and from the fit: printouts, recipes, photos, the plan."""

from __future__ import annotations

from typing import Annotated

from loadbench.job import kinds as k
from loadbench.job.parts import Part, Record


class PrintoutColumn(Part):
    """How a recipe reads one column: found by its header, else by its place (the first is 0)."""

    header: str | None = None
    place: int | None = None
    meaning: Annotated[str | None, k.MEANINGS] = None
    part: str | None = None
    height: k.Length = None
    unit: str | None = None


class Recipe(Part):
    """How the printouts of one tester are read, as the user corrected and kept it."""

    name: str | None = None
    tester: str | None = None
    layout: Annotated[str | None, k.LAYOUTS] = None
    separator: Annotated[str | None, k.SEPARATORS] = None
    decimal: Annotated[str | None, k.DECIMALS] = None
    header_row: int | None = None
    first_row: int | None = None
    unit_row: int | None = None
    columns: tuple[PrintoutColumn, ...] = ()


class Printout(Part):
    """A slip that was read: its text as it came (a workbook's cells with tabs), and the recipe it was read by.

    `name` is a label, never a path to open.
    """

    name: str | None = None
    text: str | None = None
    sheet: str | None = None
    recipe: str | None = None
    record: Record = Record()


class Photo(Part):
    """A picture kept for the record; it is shown, never read. `data` is base64."""

    name: str | None = None
    media: Annotated[str | None, k.MEDIA] = None
    data: str | None = None
    note: str | None = None


class Placed(Part):
    """One valve of a plan: the spring on it and the shims beneath."""

    valve: str | None = None
    spring: str | None = None
    shims: tuple[k.ShimLength, ...] = ()


class Plan(Part):
    """Which spring on which valve, on which shims, as it was worked out; `before` is how the valves stood."""

    made_on: str | None = None
    proved: bool | None = None
    placed: tuple[Placed, ...] = ()
    before: tuple[Placed, ...] = ()
