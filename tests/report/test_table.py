"""CSV: quoted by RFC 4180, numbers to nine digits, no text that a spreadsheet takes for a formula."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.analysis import analyse
from loadbench.analysis.figure import keyed
from loadbench.findings import judge
from loadbench.report.plain_text import ACTIVE_STARTS
from loadbench.report.table import (
    csv_text,
    figures_csv,
    findings_csv,
    is_ours,
    lift_rows,
    load_table,
    load_table_csv,
    write_csv,
)
from loadbench.units import Style
from tests.report.cases import CASES


def rows_of(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline="")))


def test_lift_goes_by_whole_steps_and_ends_at_full_lift() -> None:
    assert lift_rows(0.0142, Style.METRIC) == pytest.approx([*(0.001 * n for n in range(15)), 0.0142])
    assert lift_rows(0.1 * 0.0254, Style.INCH_POUND) == pytest.approx([0, 0.05 * 0.0254, 0.1 * 0.0254])
    assert lift_rows(0.003, Style.METRIC) == pytest.approx([0, 0.001, 0.002, 0.003])
    assert len(lift_rows(None, Style.METRIC)) == 0


def test_load_table_ends_on_the_figures() -> None:
    line = analyse(CASES["progressive"][0]).lines[0]
    table = load_table(line, Style.METRIC)
    assert table is not None
    assert (table.load[0], table.load[-1]) == (line.value("seat_load"), line.value("open_load"))
    assert table.expanded[0] == line.figures["seat_load"].expanded
    assert table.expanded[-1] == line.figures["open_load"].expanded
    assert np.all(np.diff(table.load) > 0)
    assert load_table(analyse(CASES["what is missing"][0]).lines[0], Style.METRIC) is None


def test_numbers_come_back_to_nine_digits() -> None:
    analysis = analyse(CASES["lines"][0])
    rows = rows_of(figures_csv(analysis))
    wanted = {
        (line.name, figure.key): None if figure.value is None else keyed(figure.value, figure.kind)
        for line in analysis.lines
        for figure in line.figures.values()
    }
    found = {(row[0], row[2]): float(row[3]) if row[3] else None for row in rows[1:]}
    assert found == {key: None if value is None else float(f"{value:.9g}") for key, value in wanted.items()}
    table = rows_of(load_table_csv(analysis))
    assert {row[0] for row in table[1:]} == {"intake", "exhaust"}
    assert float(table[1][3]) == pytest.approx(analysis.line("intake").value("seat_load"), rel=1e-8)


def test_findings_are_a_row_each() -> None:
    analysis = analyse(CASES["two readings"][0])
    verdicts = judge(analysis)
    rows = rows_of(findings_csv(analysis, verdicts))
    assert [row[1] for row in rows[1:]] == [finding.id for finding in verdicts.findings]


@given(st.lists(st.text(alphabet=st.characters(exclude_categories=["Cs"], exclude_characters="\x00")), min_size=1))
def test_no_text_of_a_csv_starts_a_formula(texts: list[str]) -> None:
    text = csv_text(["head"] * len(texts), [texts])
    assert text.startswith("\ufeff")
    got = rows_of(text)[1]
    for cell, typed in zip(got, texts, strict=True):
        assert not cell.startswith(ACTIVE_STARTS)
        assert cell.removeprefix("'") == typed.removeprefix("'")


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_a_number_keeps_nine_digits(number: float) -> None:
    told = rows_of(csv_text(["a", "b"], [[number, "x"]]))[1][0]
    assert float(told) == float(f"{number:.9g}")
    assert rows_of(csv_text(["a", "b"], [[-1.5, float("nan")]]))[1] == ["-1.5", ""]


def test_a_table_is_written_with_its_mark(tmp_path: Path) -> None:
    write_csv(tmp_path / "a.csv", csv_text(["a", "b"], [["x,y", None]]))
    assert (tmp_path / "a.csv").read_bytes() == b'\xef\xbb\xbfa,b\r\n"x,y",\r\n'


def test_our_tables_know_themselves(tmp_path: Path) -> None:
    analysis = analyse(CASES["nest"][0])
    texts = (load_table_csv(analysis), figures_csv(analysis), findings_csv(analysis, judge(analysis)))
    for place, text in enumerate(texts):
        write_csv(path := tmp_path / f"{place}.csv", text)
        assert is_ours(path)
    for name, content in (("other.csv", b"a,b\r\n1,2\r\n"), ("empty.csv", b""), ("bytes.csv", b"\xff\xfe\x00")):
        (tmp_path / name).write_bytes(content)
        assert not is_ours(tmp_path / name)
    assert not is_ours(tmp_path / "missing.csv")
    assert not is_ours(tmp_path)
