"""Candidate springs of one job side by side."""

from ui.variants.panel import VariantsPanel

__all__ = ["VariantsPanel"]
