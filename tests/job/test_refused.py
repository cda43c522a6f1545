"""Faults of structure refuse the file: all of them at once, each with its place; nothing else is raised."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loadbench.errors import Problem, UnreadableFileError
from loadbench.job.files import open_job
from loadbench.job.model import VERSION
from loadbench.job.reading_in import job_from_text
from tests.job.unmeasured import unmeasured

HEAD = '{"format": "loadbench-job", "version": 1, "title": "t"'
ROOT = Path(__file__).parents[2]


def refused(text: str) -> list[tuple[str | None, str, str]]:
    """The faults of a text as place, what and expected."""
    with pytest.raises(UnreadableFileError) as error:
        job_from_text(text, "x.json")
    assert all(problem.place.file == "x.json" for problem in error.value.problems)
    return [(problem.place.field, problem.what, problem.expected) for problem in error.value.problems]


def refused_file(path: Path, content: bytes) -> str:
    path.write_bytes(content)
    with pytest.raises(UnreadableFileError) as error:
        open_job(path)
    assert path.read_bytes() == content
    return str(error.value)


def fields(text: str) -> list[str | None]:
    return [field for field, _, _ in refused(text)]


# Files


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "The file is empty"),
        (b"  \n", "The file is empty"),
        (b"spring;rate", "This is not JSON"),
        (b'{"format": "loadbench-job",', "row 1, column 28"),
        ('{"format"}'.encode("utf-16"), "Byte 1 is not UTF-8"),
        (HEAD.encode() + b', "notes": "\xff"}', "is not UTF-8"),
        (b"PK\x03\x04\x00\x00", "This is an archive, not a job"),
        (b"PK\x03\x04\x00\xff[Content_Types].xml xl/workbook.xml", "This is a workbook, not a job"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(500), "of an old kind (such as .xls), not a job"),
        (b"\x00" * 50, "This is not JSON"),
        (b"[]", "not a LoadBench job"),
        (b"null", "not a LoadBench job"),
        (b"1", "not a LoadBench job"),
        (b'{"format": "another", "version": 1, "title": "t"}', "not a LoadBench job"),
        (HEAD.encode() + b', "notes": "a\nb"}', "Invalid control character"),
        (HEAD.encode() + b"} {}", "Extra data"),
    ],
)
def test_what_is_not_a_job(tmp_path: Path, content: bytes, said: str) -> None:
    assert said in refused_file(tmp_path / "odd.loadbench.json", content)


def test_a_mark_at_the_start_of_the_file_is_no_fault(tmp_path: Path) -> None:
    path = tmp_path / "marked.json"
    path.write_bytes(b"\xef\xbb\xbf" + HEAD.encode() + b"}")
    assert open_job(path).title == "t"


@pytest.mark.parametrize("size", [16_000_001, 100_000_000])
def test_a_large_file_is_not_even_read(tmp_path: Path, size: int) -> None:
    path = tmp_path / "large.json"
    with path.open("wb") as stream:
        stream.truncate(size)
    begin = time.perf_counter()
    with pytest.raises(UnreadableFileError, match="16 MB"):
        open_job(path)
    assert time.perf_counter() - begin < 1


def test_sixteen_megabytes_are_still_read(tmp_path: Path) -> None:
    path = tmp_path / "long.json"
    path.write_text(HEAD + ', "notes": "' + "x" * 15_900_000 + '"}', encoding="utf-8")
    assert len(open_job(path).notes or "") == 15_900_000


def test_folders_and_missing_files(tmp_path: Path) -> None:
    for path, said in ((tmp_path, "This is a folder"), (tmp_path / "none.json", "There is no such file")):
        with pytest.raises(UnreadableFileError, match=said):
            open_job(path)
    with pytest.raises(UnreadableFileError):
        open_job("\0")


@pytest.mark.skipif(not hasattr(os, "setuid"), reason="needs the rights of Unix")
def test_a_file_one_may_not_read(tmp_path: Path) -> None:
    path = tmp_path / "mine.json"
    path.write_text(HEAD + "}", encoding="utf-8")
    path.chmod(0)
    for folder in (tmp_path, *tmp_path.parents[:3]):
        if folder.stat().st_uid == os.getuid() and folder != Path("/tmp"):  # noqa: S108 - only named to be left alone
            folder.chmod(0o755)
    code = (
        "import os, sys\n"
        "from loadbench.errors import UnreadableFileError\n"
        "from loadbench.job.files import open_job\n"
        "if os.getuid() == 0: os.setuid(65534)\n"
        "try: open_job(sys.argv[1])\n"
        "except UnreadableFileError as error: print(error)\n"
    )
    command = [sys.executable, "-c", code, str(path)]
    run = subprocess.run(command, cwd=ROOT, env=unmeasured(), capture_output=True, text=True, check=False)
    assert (run.returncode, run.stderr) == (0, "")
    assert "cannot be read" in run.stdout


# Versions


@pytest.mark.parametrize("version", [VERSION + 1, 99])
def test_a_later_version_is_said_first(version: int) -> None:
    text = f'{{"format": "loadbench-job", "version": {version}, "title": 5, "zzz": NaN}}'
    ((field, what, expected),) = refused(text)
    assert field == "version"
    assert "later LoadBench" in what
    assert expected == "a newer program"


@pytest.mark.parametrize("version", ["0", "-1", "true", '"1"', "1.0", "null", "[]"])
def test_a_version_that_is_none(version: str) -> None:
    assert fields(f'{{"format": "loadbench-job", "version": {version}, "title": "t"}}') == ["version"]
    assert fields('{"format": "loadbench-job", "title": "t"}') == ["version"]


# Keys and types


@pytest.mark.parametrize(
    ("body", "field", "near"),
    [
        ('"sprng": {}', "sprng", "spring"),
        ('"spring": {"bind_hight": "1 in"}', "spring.bind_hight", "bind_height"),
        ('"spring": {"readings": [{"hieght": "1 in"}]}', "spring.readings.0.hieght", "height"),
        ('"lines": {"exaust": {}}', "lines.exaust", "exhaust"),
        ('"lines": {"exhaust": {"cam": {"knd": "flat"}}}', "lines.exhaust.cam.knd", "kind"),
        ('"spring": {"coils": [{"wire": {"diametre": "4 mm"}}]}', "spring.coils.0.wire.diametre", "diameter"),
        ('"duty": {"oil": {"garde": "x"}}', "duty.oil.garde", "grade"),
        ('"variants": [{"spring": {"ratee": "x"}}]', "variants.0.spring.ratee", "rate"),
        ('"history": [{"recrd": {}}]', "history.0.recrd", "record"),
    ],
)
def test_an_unknown_key_with_the_near_name(body: str, field: str, near: str) -> None:
    ((place, what, expected),) = refused(f"{HEAD}, {body}}}")
    assert place == field
    assert "unknown" in what
    assert expected == f'did you mean "{near}"?'


def test_an_unknown_key_with_nothing_near() -> None:
    ((place, _, expected),) = refused(f'{HEAD}, "qqqq": 1}}')
    assert (place, expected) == ("qqqq", "only the keys of this version")


@pytest.mark.parametrize(
    ("body", "field", "expected"),
    [
        ('"spring": {"rate": 420}', "spring.rate", "text in quotes"),
        ('"spring": {"rate": true}', "spring.rate", "text in quotes"),
        ('"spring": []', "spring", "a group in braces"),
        ('"spring": {"readings": {}}', "spring.readings", "a list in square brackets"),
        ('"spring": {"readings": "150 lbf"}', "spring.readings", "a list in square brackets"),
        ('"spring": {"shims": [0.015]}', "spring.shims.0", "text in quotes"),
        ('"valve_gear": {"rocker_ratio": "1.6"}', "valve_gear.rocker_ratio", "a number without quotes"),
        ('"valve_gear": {"rocker_ratio": true}', "valve_gear.rocker_ratio", "a number without quotes"),
        ('"duty": {"first_running": 1}', "duty.first_running", "true or false"),
        ('"duty": {"first_running": "yes"}', "duty.first_running", "true or false"),
        ('"engine": {"cylinders": 8.5}', "engine.cylinders", "a whole number"),
        ('"engine": {"firing_order": [1, "8"]}', "engine.firing_order.1", "a whole number"),
        ('"rules": []', "rules", "a group in braces"),
        ('"rules": {"bind-margin-min": "0.05 in"}', "rules.bind-margin-min", "a group in braces"),
        ('"cam": {"profile": [["0 deg"]]}', "cam.profile.0.1", "this key"),
    ],
)
def test_a_wrong_type(body: str, field: str, expected: str) -> None:
    found = refused(f"{HEAD}, {body}}}")
    assert [each[0] for each in found] == [field]
    assert found[0][2] == expected


def test_a_missing_title() -> None:
    for text in (
        '{"format": "loadbench-job", "version": 1}',
        '{"format": "loadbench-job", "version": 1, "title": null}',
    ):
        ((field, what, _),) = refused(text)
        assert (field, what) == ("title", 'The key "title" is missing.')
    assert job_from_text('{"format": "loadbench-job", "version": 1, "title": ""}').title == ""


def test_all_faults_at_once_each_with_its_place() -> None:
    body = (
        '"spring": {"rate": 420, "bind_hight": "1 in", "readings": [{"load": 150}, {"load": NaN}]},'
        '"duty": {"use": "street", "use": "drag"}, "qqqq": 1, "valve_gear": {"rocker_ratio": 1e999, "lash": "\\ud800"}'
    )
    assert set(fields(f"{HEAD}, {body}}}")) == {
        "spring.rate",
        "spring.bind_hight",
        "spring.readings.0.load",
        "spring.readings.1.load",
        "duty.use",
        "qqqq",
        "valve_gear.rocker_ratio",
        "valve_gear.lash",
    }


# Tokens


@pytest.mark.parametrize("token", ["NaN", "Infinity", "-Infinity", "1e999", "-1e999"])
def test_no_number_is_no_number(token: str) -> None:
    ((field, what, _),) = refused(f'{HEAD}, "valve_gear": {{"rocker_ratio": {token}}}}}')
    assert field == "valve_gear.rocker_ratio"
    assert what == f"{token} is not a number."


def test_a_whole_number_beyond_any() -> None:
    assert fields(f'{HEAD}, "valve_gear": {{"rocker_ratio": {"9" * 400}}}}}') == ["valve_gear.rocker_ratio"]
    refused(f'{HEAD}, "valve_gear": {{"rocker_ratio": {"9" * 5000}}}}}')


def test_a_key_that_stands_twice_wherever_it_stands() -> None:
    assert fields(f'{HEAD}, "title": "u"}}') == ["title"]
    assert fields(f'{HEAD}, "spring": {{"readings": [{{"load": "1 N", "load": "1 N"}}]}}}}') == [
        "spring.readings.0.load"
    ]


def test_many_keys_twice_are_found_in_a_moment() -> None:
    body = ", ".join(f'"a{place}": 1' for place in range(3000))
    begin = time.perf_counter()
    found = refused(f'{HEAD}, "rules": {{{body}, "a7": 2}}}}')
    assert ("rules.a7", 'The key "a7" stands twice.', "each key once") in found
    assert time.perf_counter() - begin < 2


@pytest.mark.parametrize("half", ["\\ud800", "\\udfff", "\ud800"])
def test_half_a_character(half: str) -> None:
    ((field, what, _),) = refused(f'{HEAD}, "notes": "x{half}"}}')
    assert (field, what) == ("notes", "This text holds half of a character.")
    assert any("key" in what for _, what, _ in refused(f'{HEAD}, "{half}": 1}}'))
    assert job_from_text(f'{HEAD}, "notes": "\\ud83d\\ude00"}}').notes == "\U0001f600"


@pytest.mark.parametrize("depth", [40, 250, 600, 980, 5000, 200_000])
@pytest.mark.parametrize(("opening", "closing"), [("[", "]"), ('{"a":', "}")])
def test_nested_beyond_any_job(depth: int, opening: str, closing: str) -> None:
    ((_, what, _),) = refused(f'{HEAD}, "notes": {opening * depth}1{closing * depth}}}')
    assert "beyond any job" in what


leaves = st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=8))
anything: st.SearchStrategy[Any] = st.recursive(
    leaves,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=8,
)
KEYS = [
    "spring",
    "valve_gear",
    "cam",
    "follower",
    "duty",
    "lines",
    "rules",
    "valves",
    "springs",
    "variants",
    "history",
    "engine",
    "title",
]


@given(st.dictionaries(st.sampled_from(KEYS), anything, max_size=4))
def test_any_tree_opens_or_is_refused(body: dict[str, Any]) -> None:
    text = json.dumps({"format": "loadbench-job", "version": 1, "title": "t"} | body)
    problems: tuple[Problem, ...] | None = None
    try:
        job_from_text(text)
    except UnreadableFileError as error:
        problems = error.problems
    assert problems is None or (problems and all(problem.what and problem.expected for problem in problems))


@given(st.binary(max_size=200))
def test_any_bytes_are_refused(tmp_path_factory: pytest.TempPathFactory, content: bytes) -> None:
    path = tmp_path_factory.mktemp("bytes") / "x.json"
    path.write_bytes(content)
    with pytest.raises(UnreadableFileError):
        open_job(path)
