"""Jobs for the tests of the Spring page: a pair, one spring, a beehive, and what is lacking or wrong."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import loadbench
from loadbench.job.edits import replaced_all
from loadbench.job.files import open_job
from loadbench.job.model import Job

IN = 0.0254
LBF = 4.4482216152605
SAMPLES = Path(loadbench.__file__).parent.parent / "samples"
COIL = "spring__coils__0__"


def pair(**more: Any) -> Job:
    """The short-travel demo job, one line, with its pair of springs; changes by path with two underscores for a dot."""
    opened = open_job(SAMPLES / "short-travel-hydraulic-roller.loadbench.json")
    job = opened if isinstance(opened, Job) else opened.job
    return replaced_all(job, {"lines.exhaust": None} | {name.replace("__", "."): value for name, value in more.items()})


def single(**more: Any) -> Job:
    """One round-wire spring with a measured line: 152 lbf at 1.850 in, 381 lbf at 1.300 in."""
    coil = {
        "name": "outer",
        "bind_height": "1.170 in",
        "wire": {"shape": "round", "diameter": "0.192 in"},
        "mean_diameter": "1.270 in",
        "active_coils": 3.3,
        "total_coils": 5.3,
        "free_height": "2.230 in",
        "ends": "closed and ground",
        "material": "chrome-silicon",
    }
    return replaced_all(pair(spring__coils=(coil,)), {name.replace("__", "."): value for name, value in more.items()})


def beehive(**more: Any) -> Job:
    """The same with ovate wire and a small end: nothing measured, so that its own geometry gives the load."""
    changes: dict[str, Any] = {
        "spring__readings": (),
        "spring__rate": None,
        "spring__coils__0__wire": {"shape": "ovate", "width": "0.210 in", "thickness": "0.176 in"},
        "spring__coils__0__bind_height": None,
        "spring__coils__0__small_mean_diameter": "0.950 in",
        "spring__coils__0__active_coils": 4.5,
        "spring__coils__0__total_coils": 6.5,
    }
    return single(**(changes | more))
