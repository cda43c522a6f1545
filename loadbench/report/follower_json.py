"""The keys of the follower that the JSON always has, null where a figure does not concern the job."""

from __future__ import annotations

from collections.abc import Mapping

from loadbench.analysis import Figure

ALWAYS = (
    "hertz_nose_Pa", "hertz_flank_Pa", "film_ratio_idle", "needle_dynamic_rating_N", "needle_static_rating_N",
    "needle_life_h", "needle_static_safety", "bush_pressure_Pa", "bush_pv_W_per_m2", "leak_down_time_s",
    "plunger_stiffness_N_per_m", "plunger_depth_m", "adjuster_turns",
)  # fmt: skip


def absent_as_json(figures: Mapping[str, Figure]) -> dict[str, None]:
    """Null for every such key that no figure gives."""
    given = {figure.key for figure in figures.values()}
    return {key: None for name in ALWAYS for key in (name, f"{name}_U") if name not in given}
