"""Jobs for the tests of the Setting page."""

from __future__ import annotations

from typing import Any

from loadbench.job.edits import replaced_all
from loadbench.job.model import Job
from tests.findings.jobs import job_with

PUSHROD = {"valve_gear.adjuster.at": "pushrod", "valve_gear.adjuster.thread": "3/8-24"}
SHORT = {
    "follower.travel": "short",
    "follower.plunger.travel": "0.060 in",
    "follower.preload.depth": "0.013 in",
    "follower.preload.way": "minimal",
    "valve_gear.block": "iron",
    "valve_gear.head": "aluminium",
} | PUSHROD
SOLID = {"follower.family": "roller-solid", "valve_gear.lash": "0.016 in", "valve_gear.lash_at": "cold"} | PUSHROD
BUCKET = {
    "follower.family": "bucket",
    "valve_gear.rocker_ratio": None,
    "valve_gear.lash": "0.20 mm",
    "valve_gear.adjuster.at": "bucket-shim",
}
NAMES = ("1I", "1E", "2I", "2E")


def valves(*found: dict[str, Any]) -> tuple[dict[str, Any], ...]:
    """Four valves of two cylinders, each with what was measured."""
    more = (*found, *({} for _ in NAMES[len(found) :]))
    return tuple(
        {"id": name, "line": {"I": "intake", "E": "exhaust"}[name[-1]], **each}
        for name, each in zip(NAMES, more, strict=True)
    )


def setting_job(changes: dict[str, Any] | None = None, *found: dict[str, Any]) -> Job:
    """Short travel set minimally, or as changed, with four valves."""
    job = job_with(SHORT | (changes or {}))
    return replaced_all(job, {"valves": valves(*found), "engine.cylinders": 2, "engine.firing_order": (2, 1)})
