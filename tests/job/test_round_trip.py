"""What was stated comes back as it was typed, whatever it was; and nothing that opens makes a traceback."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from loadbench.analysis import analyse
from loadbench.findings import judge
from loadbench.job.files import open_job, save_job, text_of_job
from loadbench.job.model import VERSION
from loadbench.job.reading_in import job_from_text, pruned
from loadbench.report.json_out import as_json
from tests.job.documents import spoiled, text_of, trees

SAMPLES = Path(__file__).parents[2] / "samples"
EXAMPLE = Path(__file__).parent / "data" / "example.loadbench.json"


def told(tree: Any) -> Any:
    """What a document states: without keys that state nothing, and without empty groups and lists."""
    if isinstance(tree, dict):
        kept = {name: told(child) for name, child in tree.items()}
        return {name: child for name, child in kept.items() if child not in (None, "", {}, []) or name == "title"}
    return [told(child) for child in tree] if isinstance(tree, list) else tree


def test_the_formats_own_example_is_frozen_and_comes_back() -> None:
    text = EXAMPLE.read_text(encoding="utf-8")
    job = job_from_text(text)
    assert (job.version, job.units, job.spring.readings[1].load) == (VERSION, "inch-pound", "423 lbf")
    assert job_from_text(text_of_job(job)) == job
    assert told(json.loads(text_of_job(job))) == {**told(json.loads(text)), "version": VERSION}
    assert not analyse(job).problems


def test_a_saved_example_is_the_same_file_twice(tmp_path: Path) -> None:
    job = open_job(EXAMPLE)
    first, second = tmp_path / "a.loadbench.json", tmp_path / "b.loadbench.json"
    save_job(job, first)
    save_job(open_job(first), second)
    assert first.read_bytes() == second.read_bytes()


@given(trees())
def test_any_document_comes_back(tree: dict[str, Any]) -> None:
    job = job_from_text(text_of(tree))
    text = text_of_job(job)
    again = job_from_text(text)
    assert again == job
    assert text_of_job(again) == text
    # Every text and number that was written is still there as it was typed.
    assert told(json.loads(text)) == {**told(tree), "version": VERSION}


WHOLE = [json.loads(path.read_text(encoding="utf-8")) for path in (EXAMPLE, *sorted(SAMPLES.glob("*.json")))]


@given(st.one_of(trees(), *(spoiled(tree) for tree in WHOLE)))
def test_any_document_is_judged_without_a_traceback(tree: dict[str, Any]) -> None:
    analysis = analyse(job_from_text(text_of(tree)))
    verdicts = judge(analysis)
    out = json.loads(json.dumps(as_json(analysis, verdicts), allow_nan=False))
    assert {"figures", "lines", "findings", "problems", "complete", "missing"} <= out.keys()
    for figure in analysis.figures.values():
        assert figure.value is None or math.isfinite(figure.value), figure.name
        assert figure.expanded is None or figure.expanded >= 0, figure.name
        # The rates that stand side by side are there or not; the one that counts says what it waits for.
        # What does not exist, as a hollow in a lobe without one, says so in a note.
        beside = figure.name.startswith("rate_")
        assert figure.known or figure.missing or beside or figure.note, (
            f"{figure.name} is unknown without saying what it waits for"
        )


@given(trees())
def test_what_is_not_stated_may_be_written_in_three_ways(tree: dict[str, Any]) -> None:
    assert (
        job_from_text(text_of(nothing(tree, None)))
        == job_from_text(text_of(nothing(tree, "")))
        == job_from_text(text_of(tree))
    )


def nothing(node: Any, mark: str | None) -> Any:
    """The tree with a key that states nothing put beside every group's own."""
    spare = {
        "spring": "rate",
        "duty": "use",
        "record": "hours",
        "cam": "kind",
        "follower": "axle",
        "valve_gear": "lash",
    }
    tree = pruned(node)
    assert isinstance(tree, dict)
    for name, key in spare.items():
        if isinstance(tree.get(name, {}), dict):
            tree[name] = {key: mark} | tree.get(name, {})
    return tree | {"title": node["title"]}
