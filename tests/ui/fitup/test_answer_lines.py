"""What the answer says: shopping, counts, kept plan, what binds and frees; and the plan as text."""

from __future__ import annotations

from typing import Any

from loadbench.analysis import analyse
from loadbench.assembly.answer import FitAnswer
from loadbench.assembly.fit import fit
from loadbench.assembly.plan_edits import planned
from loadbench.job.edits import replaced_all
from loadbench.job.model import Job
from loadbench.units import Style
from tests.assembly.heads import analysed, head
from ui.clipboard_table import cells_of
from ui.fitup.answer_lines import Line, figures_of, sections_of
from ui.fitup.plan_table import plan_text
from ui.fitup.rows import ValveRow, rows_of

INCH = Style.INCH_POUND
SPRINGS = [("S1", 140.0, 400.0), ("S2", 150.0, 400.0), ("S3", 160.0, 400.0)]


def answered(**more: Any) -> tuple[Job, FitAnswer, tuple[ValveRow, ...]]:
    analysis = analysed(head(SPRINGS, [1.80, 1.83], **more))
    answer = fit(analysis)
    return analysis.job, answer, rows_of(analysis, answer)


def lines(answer: FitAnswer, job: Job, title: str, style: Style = INCH) -> tuple[Line, ...]:
    return dict(sections_of(answer, job, style)).get(title, ())


def test_the_shopping_list_tells_counts_where_they_are_stated() -> None:
    job, answer, _ = answered(
        shims_in_stock=["0.015 in", "0.030 in"], shim_counts=[None, 4], targets={"seat_load": "158 lbf"}
    )
    told = [line.text for line in lines(answer, job, "Shims to lay out")]
    wanted = {f"{size / 0.0254:.3f}": count for size, count in answer.shopping.items()}
    assert told
    for text, (size, count) in zip(told, wanted.items(), strict=True):
        assert text.startswith(f"{count} \u00d7 {size}")
        assert text.endswith("of 4 in stock") == (size == "0.030")
    assert [line.text for line in lines(answer, job, "Springs left over")] == [", ".join(answer.spare)]


def test_the_kept_plan_is_held_against_the_one_on_show() -> None:
    job, answer, _ = answered()
    assert lines(answer, job, "Kept plan") == ()
    kept = planned(job, answer, style=INCH, made_on="2026-03-14")
    assert lines(answer, kept, "Kept plan")[0].text == "Of 2026-03-14: the same as this one."
    other = replaced_all(kept, {"plan.placed.1.shims": ("0.060 in",)})
    line = lines(answer, other, "Kept plan")[0]
    assert line.text == "Of 2026-03-14: another on 1 of 2 valves."
    assert line.valves == ("2",)


def test_what_binds_names_its_valves_and_what_frees_is_told() -> None:
    job, answer, rows = answered(targets={"seat_load": "150 lbf", "tolerance_percent": 0.1})
    assert not answer.feasible
    bound = lines(answer, job, "What binds")
    assert bound
    assert bound[0].valves
    assert [row.bars for row in rows if row.id in bound[0].valves] != [()]
    assert len(lines(answer, job, "One of these would free a plan")) == len(answer.frees) > 0
    assert lines(answer, job, "Shims to lay out") == ()
    assert figures_of(answer, rows, INCH) == []


def test_a_fault_is_told_with_its_place() -> None:
    analysis = analysed(head(SPRINGS, [1.80, 1.83]))
    job = replaced_all(analysis.job, {"valves.1.bare_height": "1.8 q"})
    line = lines(fit(analyse(job)), job, "Needed first")[0]
    assert line.text.startswith("Valve 2, bare height: the unit")
    assert line.text.endswith(".")
    assert line.field == "valves.1.bare_height"


def test_the_figures_tell_the_spread_before_and_after() -> None:
    job, answer, rows = answered()
    assert [label for label, _, _ in figures_of(answer, rows, INCH)] == ["Spread of seat load", "Shims used"]
    stood = replaced_all(job, {"valves.0.spring": "S1", "valves.1.spring": "S3", "targets.seat_load": "150 lbf"})
    analysis = analyse(stood)
    again = fit(analysis)
    found = {label: value for label, value, _ in figures_of(again, rows_of(analysis, again), INCH)}
    assert found["Spread of seat load"].startswith("8 \u2192 ")  # 140 at 1.800, 160 less 12 at 1.830
    assert "Off the wanted load" in found
    assert figures_of(None, rows, INCH) == []


def test_the_plan_as_text_reads_back_as_a_table() -> None:
    _, answer, rows = answered()
    for style, unit in ((INCH, "in"), (Style.METRIC, "mm")):
        table = cells_of(plan_text(answer, rows, style))
        assert table[0][:5] == ["Valve", "Line", "Spring", f"Shims, {unit}", f"Installed height, {unit}"]
        assert [line[0] for line in table[1:3]] == ["1", "2"]
        assert [line[2] for line in table[1:3]] == [placed.spring for placed in answer.plan]
        assert ["Springs left over", ", ".join(answer.spare)] in table
