"""Moved: see loadbench/analysis/dynamic_runs.py."""

from loadbench.analysis.dynamic_runs import fully_analysed, with_dynamics

__all__ = ["fully_analysed", "with_dynamics"]
