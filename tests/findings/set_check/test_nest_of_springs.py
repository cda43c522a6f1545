"""A nest whose readings all stand with its numbered springs: the job's own spring has none."""

from __future__ import annotations

import pytest

from tests.ui.trust.sets import a_set, checked

NEST = {"outer": 0.7, "inner": 0.3, "pair": 1.0}


def test_each_member_has_residuals_of_its_own_line() -> None:
    check = checked(a_set(heights=(1.9, 1.7, 1.5, 1.3), parts=NEST))
    parts = {residual.part for spring in check.springs for residual in spring.residuals}
    assert parts == {"outer", "inner"}  # the load line is the members'; the pair's readings are not in it
    assert all(abs(residual.off) < 6 for spring in check.springs for residual in spring.residuals)


def test_the_windows_hold_the_pairs_loads_not_a_members() -> None:
    check = checked(a_set(parts=NEST))
    pair = {each.spring: each.load for each in check.strips[0].loads}
    for spring in check.springs:
        if spring.verdict.misses:
            assert pair[spring.id] == pytest.approx(check.windows[0].least or 0.0, rel=0.2)
    assert check.passed >= 12
