"""Invented heads and springs for the tests of the fit."""

from __future__ import annotations

import json
from typing import Any

from loadbench.analysis import Analysis, analyse
from loadbench.job.reading_in import job_from_text

INCH, POUND = 0.0254, 4.4482216152605


def head(springs: list[tuple[str, float, float]], bare: list[float], **more: Any) -> dict[str, Any]:
    """A job with springs of (id, load at 1.800 in in lbf, rate in lbf/in) and valves of bare heights in inches.

    The lift is 0.500 in, the bind height 1.100 in, seal 0.600 in; `more` replaces whole keys of the job.
    """
    return {
        "format": "loadbench-job",
        "version": 2,
        "title": "An invented head",
        "units": "inch-pound",
        "spring": {"bind_height": "1.100 in", "installed_height": "1.800 in"},
        "valve_gear": {"valve_lift": "0.500 in", "lash": "0 in", "retainer_to_seal": "0.600 in"},
        "follower": {"family": "roller-solid"},
        "springs": [
            {
                "id": name,
                "readings": [
                    {"height": "1.800 in", "load": f"{load:.6f} lbf"},
                    {"height": "1.300 in", "load": f"{load + 0.5 * rate:.6f} lbf"},
                ],
            }
            for name, load, rate in springs
        ],
        "valves": [{"id": f"{place + 1}", "bare_height": f"{height:.4f} in"} for place, height in enumerate(bare)],
        "shims_in_stock": ["0.015 in", "0.030 in", "0.060 in"],
        **more,
    }


def analysed(tree: dict[str, Any]) -> Analysis:
    """The analysis of such a job."""
    return analyse(job_from_text(json.dumps(tree)))
