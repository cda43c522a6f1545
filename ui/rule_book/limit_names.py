"""What the limits of a rule are called, where it has several."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from loadbench.findings.rulebook import Limit, Sense

_CONTEXT = "Limits"


def limit_label(name: str) -> str:
    """A limit's name in words; "" for the only one of a rule."""
    words = {
        "usual": "",
        "bucket": QCoreApplication.translate(_CONTEXT, "Bucket"),
        "height": QCoreApplication.translate(_CONTEXT, "Height of the stack"),
        "count": QCoreApplication.translate(_CONTEXT, "Number of shims"),
        "flat-hydraulic": QCoreApplication.translate(_CONTEXT, "Flat tappet, hydraulic"),
        "flat-solid": QCoreApplication.translate(_CONTEXT, "Flat tappet, solid"),
        "roller-hydraulic-standard": QCoreApplication.translate(_CONTEXT, "Hydraulic roller, standard travel"),
        "roller-hydraulic-short": QCoreApplication.translate(_CONTEXT, "Hydraulic roller, short travel"),
        "roller-solid-street": QCoreApplication.translate(_CONTEXT, "Solid roller, street"),
        "roller-solid-race": QCoreApplication.translate(_CONTEXT, "Solid roller, drag, circuit, endurance"),
        "stated": QCoreApplication.translate(_CONTEXT, "Stated against measured"),
        "geometric": QCoreApplication.translate(_CONTEXT, "Geometric against either"),
        "iron": QCoreApplication.translate(_CONTEXT, "Iron on iron"),
        "tool-steel": QCoreApplication.translate(_CONTEXT, "A pair of tool steel"),
        "open_load": QCoreApplication.translate(_CONTEXT, "Open load"),
        "idle_share": QCoreApplication.translate(_CONTEXT, "Share of idling"),
        "speed": QCoreApplication.translate(_CONTEXT, "Speed"),
        "phosphorus": QCoreApplication.translate(_CONTEXT, "Phosphorus, ppm"),
        "least": QCoreApplication.translate(_CONTEXT, "Least"),
        "most": QCoreApplication.translate(_CONTEXT, "Most"),
        "remark": QCoreApplication.translate(_CONTEXT, "Remarked on"),
        "left": QCoreApplication.translate(_CONTEXT, "Travel left"),
        "hydraulic_lobe_least": QCoreApplication.translate(_CONTEXT, "Hydraulic lobe, least"),
        "hydraulic_lobe_most": QCoreApplication.translate(_CONTEXT, "Hydraulic lobe, most"),
        "bucket_least": QCoreApplication.translate(_CONTEXT, "Bucket, least"),
        "not-preset": QCoreApplication.translate(_CONTEXT, "Hardened wire, not preset"),
        "preset": QCoreApplication.translate(_CONTEXT, "Hardened wire, preset"),
        "drawn-not-preset": QCoreApplication.translate(_CONTEXT, "Drawn wire, not preset"),
        "drawn-preset": QCoreApplication.translate(_CONTEXT, "Drawn wire, preset"),
        "coils": QCoreApplication.translate(_CONTEXT, "Between two springs"),
        "step": QCoreApplication.translate(_CONTEXT, "At the retainer's step"),
        "hydraulic": QCoreApplication.translate(_CONTEXT, "Hydraulic follower"),
        "solid": QCoreApplication.translate(_CONTEXT, "Solid follower or bucket"),
        "roller": QCoreApplication.translate(_CONTEXT, "Over the roller's radius"),
        "wheel": QCoreApplication.translate(_CONTEXT, "Radius of the grinding wheel"),
        "bucket_most": QCoreApplication.translate(_CONTEXT, "Bucket, most"),
    }
    return words.get(name, name.replace("_", " ").replace("-", " ").capitalize())


def side_words(limit: Limit) -> str:
    """Which side is right."""
    if limit.sense is Sense.AT_LEAST:
        return QCoreApplication.translate(_CONTEXT, "at least this")
    return QCoreApplication.translate(_CONTEXT, "at most this")
