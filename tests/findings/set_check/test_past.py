"""The same springs at earlier checks: losses spring by spring, and the trend over hours, passes or days."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

import loadbench
from loadbench.analysis import analyse
from loadbench.findings.set_check.check_set import check_set
from loadbench.findings.set_check.past import past_of
from loadbench.findings.set_check.result import Past
from loadbench.job.files import open_job
from tests.findings.jobs import job_with

LBF = 4.4482216152605
SAMPLE = Path(loadbench.__file__).parent.parent / "samples" / "printout-and-fit.loadbench.json"


def springs(*shares: float) -> tuple[dict[str, Any], ...]:
    return tuple(
        {
            "id": name,
            "readings": (
                {"height": "1.9 in", "load": f"{150 * share!r} lbf"},
                {"height": "1.3 in", "load": f"{390 * share!r} lbf"},
            ),
        }
        for name, share in zip("ABC", shares, strict=False)
    )


def past(history: list[tuple[dict[str, Any], tuple[float, ...]]], now: tuple[float, ...], **record: Any) -> Past:
    entries = tuple({"record": own, "springs": springs(*shares)} for own, shares in history)
    found = past_of(analyse(job_with({"springs": springs(*now), "history": entries, "record": record})))
    assert found is not None
    return found


def test_without_history_there_is_no_past() -> None:
    assert past_of(analyse(job_with({"springs": springs(1, 1)}))) is None


def test_the_trend_runs_over_hours_and_meets_a_limit() -> None:
    # 1 %, 2 % and 3 % of the first load lost at 50, 100 and 150 hours: 0.02 % an hour, 10 % at 500.
    found = past(
        [({"hours": 0}, (1, 1)), ({"hours": 100}, (0.98, 0.98)), ({"hours": 50}, (0.99, 0.99))], (0.97, 0.97), hours=150
    )
    assert [check.mean_lost for check in found.checks] == pytest.approx([0, 0.02, 0.01, 0.03])
    assert found.unit == "hours"
    assert found.trend is not None
    assert (found.trend.start, found.trend.last, found.trend.count) == (0, 150, 4)
    assert found.trend.loss_per_unit == pytest.approx(0.0002)
    assert found.trend.share_lost(500) == pytest.approx(0.10)


def test_the_first_check_counts_in_the_trend_though_nothing_was_lost_then() -> None:
    found = past([({"passes": 0}, (1, 1))], (0.96, 0.98), passes=30)
    assert found.trend is not None
    assert found.trend.count == 2
    assert found.trend.loss_per_unit == pytest.approx(0.03 / 30)
    assert found.trend.reaches(0.1) is None  # two checks say nothing of their own scatter


def test_dates_give_days_and_their_order() -> None:
    history = [({"date": "2025-03-11"}, (0.99, 0.99)), ({"date": "2025-03-01"}, (1, 1))]
    found = past(history, (0.98, 0.97), date="2025-03-21")
    assert [check.date for check in found.checks] == ["2025-03-01", "2025-03-11", "2025-03-21"]
    assert [check.mean_lost for check in found.checks] == pytest.approx([0, 0.01, 0.025])
    assert (found.checks[2].worst_spring, found.checks[2].worst_lost) == ("B", pytest.approx(0.03))
    assert found.unit == "days"
    assert found.trend is not None
    assert found.trend.last == 20


def test_without_dates_hours_and_passes_there_is_no_trend() -> None:
    found = past([({}, (1, 1))], (0.98, 0.98))
    assert (found.unit, found.trend) == (None, None)
    assert [check.name for check in found.checks] == ["check 1", "now"]


def test_every_spring_now_stands_against_the_last_check() -> None:
    found = past([({"hours": 0}, (1, 1, 1)), ({"hours": 9}, (0.98, 0.97))], (0.96,), hours=20)
    assert [(each.spring, each.now is None) for each in found.compared] == [("A", False), ("B", True)]
    assert found.compared[0].lost == pytest.approx(1 - 0.96 / 0.98)
    assert (found.compared[0].before or 0) / LBF == pytest.approx(150 * 0.98)
    assert found.compared[1].lost is None


def test_a_spring_that_came_later_is_held_against_its_own_first_check() -> None:
    found = past([({"hours": 0}, (1,)), ({"hours": 10}, (0.99, 0.8))], (0.98, 0.784), hours=20)
    assert found.checks[2].mean_lost == pytest.approx((0.02 + 0.02) / 2)


def test_the_sample_job_has_three_checks_and_a_small_loss() -> None:
    found = check_set(analyse(open_job(SAMPLE))).past
    assert found is not None
    assert [check.passes for check in found.checks] == [0, 40, 90]
    assert [check.mean_lost for check in found.checks] == pytest.approx([0, 0.004, 0.008], abs=0.0015)
    assert found.unit == "passes"
    assert len(found.compared) == 18
