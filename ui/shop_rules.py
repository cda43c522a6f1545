"""The shop's own limits: one small file in the settings folder."""

from __future__ import annotations

from pathlib import Path

from ui.places import settings_folder
from ui.state import Shop

FILE = "shop-rules.json"


def shop_file() -> Path:
    """Where the shop's rules live."""
    return settings_folder() / FILE


def read_shop() -> tuple[Shop, str]:
    """The shop's rules, and why they could not be read where they couldn't."""
    return {}, ""
