"""Invented printouts for the tests of the window that reads them."""

from __future__ import annotations

from pathlib import Path

from loadbench.readings.printout.meaning import Understood
from loadbench.readings.printout.opening import grid_of_pasted
from loadbench.readings.printout.reading import understood
from loadbench.units import Style

PLAIN = """Spring,Load at 1.900 in (lbf),Load at 1.300 in (lbf)
S01,143,402
S02,145,405
S03,141,398
"""

FAULTY = """Bench log of an invented head
Spring,Load @ 1.900 (lbf),Load @ 1.300 (lbf),F3,Remark
S01,143,402,402.5,ok
S02,145,4o5,405,ok
S03,141,398,399,
S04,,401,400,low
Average,143.0,400.3,,
"""

READINGS = """Spring\tPart\tHeight\tLoad
\t\tmm\tN
E1\touter\t46,0\t520
E1\touter\t33,5\t1350
E1\tinner\t46,0\t240
E2\touter\t46,0\t524
"""

SLIP = """   Nr   Hoehe    Kraft
        mm       N
   1    48,26    636,0
   1    33,02   1788,2
   2    48,26    640,1
"""


def read(text: str, style: Style | None = Style.INCH_POUND) -> Understood:
    return understood(grid_of_pasted(text), style=style)


def long_slip(rows: int, wrong: int) -> str:
    """A reading a row; the load of one row is no number."""
    lines = ["Spring,Height (in),Load (lbf)"]
    for place in range(rows):
        height = (1.9, 1.3)[place % 2]
        load = "x" if place == wrong else f"{143 + 259 * (place % 2)}"
        lines.append(f"S{place // 2 + 1:05d},{height},{load}")
    return "\n".join(lines) + "\n"


def written(folder: Path, text: str, name: str = "slip.csv") -> Path:
    file = folder / name
    file.write_text(text, encoding="utf-8")
    return file
