"""The figures of the follower in the order in which they are told, by chapter."""

from __future__ import annotations

CHAPTERS: dict[str, tuple[str, ...]] = {
    "Contact": (
        "hertz_nose",
        "hertz_nose_limit",
        "hertz_flank",
        "contact_allowed",
        "contact_share",
        "shear_depth",
        "tappet_offset",
        "tappet_spin_ratio",
        "crown_drop",
        "sliding_speed",
        "wear_load",
    ),
    "Oil film": ("oil_viscosity", "film_idle", "film_ratio_idle", "film_ratio_limit"),
    "Axle": ("axle_load",),
    "Needle axle": (
        "needle_places",
        "needle_dynamic_rating",
        "needle_static_rating",
        "needle_equivalent_load",
        "needle_kappa",
        "needle_life_factor",
        "needle_life",
        "needle_life_oil",
        "needle_static_safety",
    ),
    "Bushed axle": (
        "bush_pressure",
        "bush_speed",
        "bush_pv",
        "bush_film_idle",
        "bush_film_ratio_idle",
        "bush_film_ratio_limit",
    ),
    "Axle pin": ("pin_stress", "pin_shear", "pin_safety"),
    "Plunger": (
        "plunger_stiffness",
        "plunger_squeeze",
        "leak_down_time",
        "leak_lift_loss",
        "pump_up_lift",
        "pump_up_recovery",
        "plunger_depth_hot",
    ),
    "Setting": ("adjuster_turns", "depth_a_turn", "hot_lash_change"),
}
"""Names of the figures, by the chapter they are told under."""

FOLLOWER_FIGURES = tuple(name for names in CHAPTERS.values() for name in names)
"""Names of all figures of the follower."""

TOLD_SHORTLY = (
    "hertz_nose",
    "hertz_flank",
    "contact_allowed",
    "film_ratio_idle",
    "needle_life",
    "needle_static_safety",
    "bush_pressure",
    "bush_pv",
    "bush_film_ratio_idle",
    "plunger_stiffness",
    "leak_down_time",
    "pump_up_lift",
    "adjuster_turns",
)
"""What a terminal shows of them."""
