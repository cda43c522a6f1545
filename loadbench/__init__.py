"""LoadBench: decides from bench measurements whether valve spring, follower and setting suit each other and the duty.

The public face is lazy, so that importing the package stays light.
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from loadbench.analysis import analyse
    from loadbench.analysis.dynamic_runs import fully_analysed
    from loadbench.findings import judge
    from loadbench.job.files import open_job, save_job
    from loadbench.motion.gear import Gear
    from loadbench.motion.sampled import sampled_lift
    from loadbench.motion.sweep import sweep
    from loadbench.report.workbook import write_workbook

__version__ = "0.1.0"
__all__ = [
    "Gear", "analyse", "fully_analysed", "judge", "open_job", "sampled_lift", "save_job", "sweep", "write_workbook",
]  # fmt: skip

_HOMES = {
    "Gear": "loadbench.motion.gear",
    "analyse": "loadbench.analysis",
    "fully_analysed": "loadbench.analysis.dynamic_runs",
    "judge": "loadbench.findings",
    "open_job": "loadbench.job.files",
    "sampled_lift": "loadbench.motion.sampled",
    "save_job": "loadbench.job.files",
    "sweep": "loadbench.motion.sweep",
    "write_workbook": "loadbench.report.workbook",
}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module 'loadbench' has no attribute {name!r}")
    return getattr(importlib.import_module(_HOMES[name]), name)
