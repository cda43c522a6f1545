"""Jobs of every shape, each with a change to it as it would be typed into its workbook. The loads are invented."""

from __future__ import annotations

import copy
import json
from typing import Any

from loadbench.job.model import Job
from loadbench.job.reading_in import job_from_text

TESTER = {
    "load_accuracy_percent": 1.0,
    "load_accuracy_fixed": "1 lbf",
    "load_repeatability": "0.5 lbf",
    "height_accuracy": "0.002 in",
}
INSTRUMENTS = {"installed_height": "0.002 in", "bind_height": "0.003 in", "lift": "0.003 in", "seal": "0.005 in"}
GEAR = {
    "rocker_ratio": 1.6,
    "lobe_lift": "0.210 in",
    "lash": "0.016 in",
    "retainer_to_seal": "0.640 in",
    "head_diameter": "2.02 in",
}
SOLID = {"family": "roller-solid"}
HYDRAULIC = {"family": "roller-hydraulic", "travel": "standard", "preload": {"turns": 0.75}}


def readings(*pairs: tuple[float, float], part: str | None = None) -> list[dict[str, Any]]:
    own = {} if part is None else {"part": part}
    return [{**own, "height": f"{height} in", "load": f"{load} lbf"} for height, load in pairs]


def job(spring: dict[str, Any], follower: dict[str, Any], **more: Any) -> Job:
    gear = copy.deepcopy(GEAR) | more.pop("gear", {})
    document = {
        "format": "loadbench-job",
        "version": 1,
        "title": "Invented",
        "units": "inch-pound",
        "spring": {"bare_height": "1.915 in", "shims": ["0.015 in"], "bind_height": "1.080 in"} | spring,
        "valve_gear": gear,
        "follower": follower,
        "duty": {"boost": "10 psi"},
    } | more
    return job_from_text(json.dumps(document), "invented")


STATED = {"tester": TESTER, "instruments": INSTRUMENTS}
FIVE = readings((1.95, 131.2), (1.9, 150.4), (1.6, 278.1), (1.4, 361.0), (1.25, 424.7))
PROGRESSIVE = readings((1.95, 120), (1.8, 180), (1.6, 275), (1.45, 365), (1.3, 480))
REPEATED = readings((1.95, 120), (1.8, 180), (1.8, 182), (1.6, 275), (1.3, 480))
REPEATS = readings((1.9, 120), (1.8, 160), (1.8, 162), (1.65, 238), (1.5, 330), (1.36, 440))
OUTER = readings((1.9, 120), (1.25, 340))
INNER = readings((1.83, 45), (1.2, 150), (1.5, 99))
NEST = {
    "coils": [
        {"name": "outer", "bind_height": "1.080 in", "readings": OUTER},
        {
            "name": "inner",
            "seat_step": "0.060 in",
            "retainer_step": "0.010 in",
            "bind_height": "0.990 in",
            "readings": INNER,
        },
    ]
}
LOOSE_INNER = {
    "coils": [
        {"name": "outer", "bind_height": "1.080 in", "readings": OUTER},
        {
            "name": "inner",
            "seat_step": "0.010 in",
            "bind_height": "0.990 in",
            "readings": readings((1.5, 40), (1.2, 150)),
        },
    ]
}
GEOMETRY = {
    "wire": {"shape": "round", "diameter": "0.207 in"},
    "mean_diameter": "1.243 in",
    "active_coils": 4.2,
    "free_height": "2.257 in",
    "material": "chrome-silicon",
}
CHANGES: dict[str, Any] = {
    "spring.installed_height": "1.885 in",
    "valve_gear.lash": "0.020 in",
    "valve_gear.rocker_ratio": 1.7,
    "spring.shims.0": "0.030 in",
    "instruments.bind_height": "0.004 in",
}
PIVOT = {"adjuster": {"at": "pivot", "thread": "7/16-20"}}

PAIR = {
    "readings_on": "retainer",
    "readings": readings((1.9, 150), (1.3, 420)),
    "coils": [
        {"name": "outer", "bind_height": "1.080 in", "rate": "300 lbf/in", "readings": readings((1.9, 100))},
        {"name": "inner", "seat_step": "0.050 in", "rate": "120 lbf/in"},
    ],
}
THREE = {
    "coils": [
        {"name": "outer", "bind_height": "1.080 in", "rate": "300 lbf/in", "readings": readings((1.9, 100))},
        {"name": "inner", "seat_step": "0.050 in", "rate": "120 lbf/in", "readings": readings((1.85, 40))},
        {"name": "third", "bind_height": "1.0 in", "readings": readings((1.9, 10), (1.3, 40))},
    ],
}
MORE_LIFT = {"lobe_lift": "0.460 in"}
"""Enough for coils to land."""
RECTANGULAR = {
    **GEOMETRY,
    "wire": {"shape": "rectangular", "width": "0.190 in", "thickness": "0.150 in"},
    "active_coils": None,
    "total_coils": 6.5,
    "ends": "closed and ground",
}
OVATE_BEEHIVE = {
    **GEOMETRY,
    "wire": {"shape": "ovate", "width": "0.200 in", "thickness": "0.160 in"},
    "small_mean_diameter": "0.950 in",
    "tapered_coils": 2.0,
    "total_coils": 6.2,
    "ends": "closed and ground",
}
ROUND_CONE = {
    **GEOMETRY,
    "wire": {"shape": "round", "diameter": "0.177 in"},
    "small_mean_diameter": "0.900 in",
    "active_coils": 4.0,
    "total_coils": 6.0,
    "ends": "closed and ground",
}
BY_WIRES = {
    "coils": [
        {
            **GEOMETRY,
            "name": "outer",
            "wire": {"shape": "round", "diameter": "0.192 in"},
            "total_coils": 6.2,
            "ends": "closed and ground",
            "material": "VDSiCr",
            "shot_peened": True,
            "preset": True,
            "bind_height": "1.205 in",
            "retainer_step_diameter": "1.020 in",
            "readings": readings((1.9, 120), (1.25, 340)),
        },
        {
            "name": "inner",
            "wire": {"shape": "round", "diameter": "0.130 in"},
            "mean_diameter": "0.840 in",
            "active_coils": 5.1,
            "free_height": "2.100 in",
            "ends": "closed",
            "material": "music wire",
            "seat_step": "0.060 in",
            "retainer_step": "0.010 in",
        },
    ]
}
COUNTED = {
    "wire": {"shape": "ovate", "width": "0.200 in", "thickness": "0.160 in"},
    "mean_diameter": "1.243 in",
    "free_height": "2.3 in",
    "ends": "plain and ground",
    "material": "oil-tempered",
}
COUNTED_BEEHIVE = {
    **OVATE_BEEHIVE, "active_coils": None, "total_coils": None, "tapered_coils": 1.5, "material": "chrome-vanadium",
}  # fmt: skip
HOT = {"oil": {"temperature": "120 degC"}, "speed_limit": "7500 rpm"}
OF_COILS: dict[str, tuple[Job, dict[str, Any]]] = {
    "nest by its wires": (
        job(BY_WIRES, SOLID, duty=HOT, **STATED),
        {
            **CHANGES,
            "spring.coils.0.wire.diameter": "0.156 in",
            "spring.coils.0.active_coils": 4.0,
            "spring.coils.0.readings.0.load": "126 lbf",
            "spring.coils.0.retainer_step_diameter": "1.015 in",
            "spring.coils.1.mean_diameter": "0.850 in",
            "spring.coils.1.free_height": "2.080 in",
            "duty.oil.temperature": "230 degF",
            "duty.speed_limit": "8200 rpm",
        },
    ),
    "coils counted from a reading's rate": (
        job({"coils": [COUNTED], "readings": readings((1.9, 150), (1.25, 423))}, SOLID, duty=HOT, **STATED),
        {**CHANGES, "spring.readings.1.load": "431 lbf", "spring.coils.0.wire.width": "0.205 in"},
    ),
    "coils of a beehive counted from its rate": (
        job({"rate": "420 lbf/in", "coils": [COUNTED_BEEHIVE], "readings": readings((1.9, 150))}, SOLID, **STATED),
        {**CHANGES, "spring.rate": "405 lbf/in", "spring.coils.0.small_mean_diameter": "0.970 in"},
    ),
    "lines with a coil each": (
        job(
            {"coils": [{**GEOMETRY, "shot_peened": False, "ends": "plain"}]},
            SOLID,
            lines={"exhaust": {"spring": {"coils": [{**ROUND_CONE, "material": "hard-drawn"}]}}},
            gear=MORE_LIFT,
            **STATED,
        ),
        {**CHANGES, "spring.coils.0.active_coils": 4.5},
    ),
}
"""Jobs whose springs are known from the wire up."""
OWN_SPRINGS = {
    "intake": {"spring": {"rate": "400 lbf/in", "bind_height": "1.2 in"}},
    "exhaust": {"spring": {"shims": ["0.03 in"], "readings": readings((1.8, 180), (1.3, 420), (1.2, 500))}},
}

CASES: dict[str, tuple[Job, dict[str, Any]]] = {
    "rectangular wire, coils from the total": (
        job({"coils": [RECTANGULAR]}, SOLID, **STATED),
        {**CHANGES, "spring.coils.0.wire.thickness": "0.155 in", "spring.coils.0.total_coils": 6.25},
    ),
    "beehive of ovate wire by its curve": (job({"coils": [OVATE_BEEHIVE]}, SOLID, gear=MORE_LIFT, **STATED), CHANGES),
    "ovate beehive's rate beside readings": (
        job({"coils": [OVATE_BEEHIVE], "readings": readings((1.9, 150), (1.25, 423))}, SOLID, **STATED),
        {**CHANGES, "spring.coils.0.small_mean_diameter": "0.970 in", "spring.coils.0.tapered_coils": 1.5},
    ),
    "cone of round wire by its curve": (job({"coils": [ROUND_CONE]}, SOLID, gear=MORE_LIFT, **STATED), CHANGES),
    "two readings": (
        job({"readings": readings((1.9, 150), (1.25, 423))}, SOLID, **STATED),
        {**CHANGES, "spring.readings.1.load": "431 lbf"},
    ),
    "five readings": (job({"readings": FIVE}, SOLID), {**CHANGES, "spring.readings.2.load": "280.5 lbf"}),
    "progressive": (
        job({"readings": PROGRESSIVE}, SOLID, **STATED),
        {**CHANGES, "spring.installed_height": "1.97 in", "spring.readings.4.load": "500 lbf"},
    ),
    "progressive with repeats, beyond its ends": (
        job({"readings": REPEATS, "installed_height": "1.95 in"}, SOLID, **STATED),
        {
            **CHANGES,
            "spring.installed_height": "1.88 in",
            "valve_gear.lobe_lift": "0.40 in",
            "tester.load_repeatability": "1.2 lbf",
            "tester.height_accuracy": "0.004 in",
            "tester.load_accuracy_percent": 0.5,
            "spring.readings.5.load": "455 lbf",
        },
    ),
    "loose": (
        job({"readings": readings((1.9, 150), (1.25, 423)), "installed_height": "2.4 in"}, SOLID, **STATED),
        {**CHANGES, "spring.installed_height": "1.9 in"},
    ),
    "loose inner": (
        job(LOOSE_INNER, SOLID, **STATED),
        {**CHANGES, "spring.coils.1.readings.1.load": "158 lbf", "spring.installed_height": "1.85 in"},
    ),
    "progressive becomes straight": (
        job({"readings": REPEATED}, HYDRAULIC, gear=PIVOT),
        {
            **CHANGES,
            "spring.readings.4.load": "395 lbf",
            "spring.readings.3.load": "268 lbf",
            "follower.preload.turns": 0.5,
        },
    ),
    "straight becomes progressive": (
        job({"readings": FIVE}, SOLID, **STATED),
        {"spring.readings.4.load": "520 lbf", "spring.readings.3.load": "390 lbf", "valve_gear.lobe_lift": "0.40 in"},
    ),
    "nest": (
        job(NEST, SOLID, **STATED),
        {**CHANGES, "spring.coils.1.seat_step": "0.080 in", "spring.coils.1.readings.1.load": "158 lbf"},
    ),
    "stated rate": (
        job({"rate": "420 lbf/in", "readings": readings((1.9, 150))}, HYDRAULIC, gear=PIVOT, **STATED),
        {**CHANGES, "spring.rate": "405 lbf/in", "spring.readings.0.load": "148 lbf", "duty.boost": "0 psi"},
    ),
    "geometry": (
        job({"coils": [{"name": "outer", **GEOMETRY}]}, {"family": "bucket"}, gear={"rocker_ratio": None}),
        {
            "spring.coils.0.wire.diameter": "0.210 in",
            "spring.coils.0.free_height": "2.3 in",
            "valve_gear.lash": "0.01 in",
        },
    ),
    "lines": (
        job(
            {"readings": FIVE, "rate": "420 lbf/in"},
            HYDRAULIC,
            gear=PIVOT,
            lines={"exhaust": {"valve_gear": {"lobe_lift": "0.365 in"}, "spring": {"installed_height": "1.88 in"}}},
            **STATED,
        ),
        {
            **CHANGES,
            "lines.exhaust.valve_gear.lobe_lift": "0.300 in",
            "duty.exhaust_back_pressure": "6 psi",
            "spring.readings.0.height": "1.96 in",
        },
    ),
    "pair": (job(PAIR, SOLID, **STATED), {**CHANGES, "spring.readings.1.load": "431 lbf"}),
    "three springs": (job(THREE, SOLID, **STATED), {**CHANGES, "spring.coils.0.rate": "280 lbf/in"}),
    "own springs": (
        job(
            {"readings": readings((1.9, 150), (1.3, 420))},
            SOLID,
            gear={"measured_net_lift": "0.5 in"},
            lines=OWN_SPRINGS,
        ),
        {
            "spring.readings.0.load": "160 lbf",
            "lines.exhaust.spring.readings.1.load": "400 lbf",
            "valve_gear.lash": "0.02 in",
        },
    ),
    "free height": (
        job({"rate": "400 lbf/in", "coils": [{"free_height": "2.3 in"}]}, SOLID, **STATED),
        {**CHANGES, "spring.coils.0.free_height": "2.25 in", "spring.rate": "410 lbf/in"},
    ),
    "what is missing": (
        job({"readings": readings((1.9, 150)), "bind_height": None, "shims": []}, {}, gear={"lash": None}),
        {
            "spring.rate": "400 lbf/in",
            "spring.bind_height": "1.1 in",
            "follower.family": "roller-solid",
            "valve_gear.lash": "0.01 in",
        },
    ),
    **OF_COILS,
}
"""Each job with a change to it. The loads are invented."""
