"""What pairs of materials are said to bear, and which row a job's own words find."""

from __future__ import annotations

import tomllib
from importlib import resources

import pytest

from loadbench.follower import contact_limits
from loadbench.follower.contact_limits import elastic_of, pair_of, pairs, what_is_known
from loadbench.follower.elastic import ALUMINIUM, BRONZE, CAST_IRON, CERAMIC, CHILLED_IRON, NODULAR_IRON, STEEL
from loadbench.sources import SOURCES
from loadbench.units import Kind, parse


def row_of(lobe: str | None, follower: str | None, *, rolls: bool) -> str | None:
    found = pair_of(lobe, follower, rolls=rolls)
    return None if found is None else found.id


def test_every_row_names_a_source_and_says_whether_it_was_seen() -> None:
    for each in pairs():
        assert each.source in {*SOURCES, "common practice"}
        assert each.seen in {"read", "memory"}
        # Nothing of the cam tables was found in a copy, and what is usual was never printed.
        assert each.seen == "memory"
    assert len({each.id for each in pairs()}) == len(pairs())


def test_no_words_stand_in_two_rows_for_one_follower() -> None:
    taken: dict[tuple[str, frozenset[str]], str] = {}
    for each in pairs():
        for words in each.lobe:
            key = (each.against, contact_limits._telling(words))
            assert key[1], f"{words} of {each.id} says nothing"
            assert taken.setdefault(key, each.id) == each.id


@pytest.mark.reference("machinerys-handbook")
def test_stresses_of_the_handbook_are_its_pounds_turned() -> None:
    text = resources.files("loadbench.follower").joinpath("contact_limits.toml").read_text(encoding="utf-8")
    rows = [row for row in tomllib.loads(text)["pair"] if row["source"] == "machinerys-handbook"]
    assert len(rows) == 8
    for row in rows:
        assert row["stress"] == pytest.approx(parse(f"{row['psi']} psi", Kind.STRESS, None).value, abs=0.5e6)


@pytest.mark.parametrize(
    ("lobe", "follower", "rolls", "row"),
    [
        ("steel", "steel", True, "sae-4340-induction"),
        ("Steel billet", None, True, "sae-4340-induction"),
        ("billet", "tool steel", True, "sae-4340-induction"),
        ("SAE 4340 steel", "", True, "sae-4340-induction"),
        ("case-hardened steel", "steel", True, "sae-1020-case"),
        ("mild steel", "steel", True, "sae-1020"),
        ("Grey  Iron", "steel", True, "gray-30"),
        ("ASTM A48 class 20", "steel", True, "gray-20"),
        ("chilled iron", "steel", True, "chilled-roller"),
        ("ductile iron camshaft", "steel", True, "nodular"),
        ("iron", "iron", False, "iron-flat"),
        ("chilled iron", "hardenable iron", False, "iron-flat"),
        ("cast iron", "tool steel", False, "iron-flat-tool"),
        ("chilled iron", "steel", False, "iron-flat-steel"),
        ("tool_steel", "tool steel", False, "tool-flat-tool"),
        ("billet steel", "steel", False, "steel-flat-steel"),
        # A word that no row has means another material: nothing is guessed.
        ("stainless steel", "steel", True, None),
        ("soft steel", "steel", True, None),
        ("brass", "steel", True, None),
        ("steel", "iron", False, None),
        ("iron", None, False, None),
        ("iron", "wood", False, None),
        (None, "steel", True, None),
        ("camshaft", "steel", True, None),
    ],
)
def test_which_row_words_find(lobe: str | None, follower: str | None, rolls: bool, row: str | None) -> None:
    assert row_of(lobe, follower, rolls=rolls) == row


def test_what_is_known_is_told_in_a_sentence() -> None:
    known = what_is_known("iron", "iron", rolls=False)
    assert known == ("Chilled or hardenable iron on an iron tappet: guidance of one source, from memory, and no proof.")
    other = what_is_known("brass", "steel", rolls=True)
    assert '"brass"' in other
    assert "grey iron class 20" in other
    assert "iron tappet" not in other
    assert what_is_known(None, None, rolls=True).startswith("Nothing is known here of this lobe")
    assert '"wood"' in what_is_known("steel", "wood", rolls=False)
    assert "this follower" in what_is_known("steel", "", rolls=False)


@pytest.mark.reference("shigley-contact")
def test_elastic_constants_as_published() -> None:
    # Table of moduli, from memory: GPa and Poisson's ratio.
    for found, modulus, poisson in (
        (STEEL, 207, 0.292), (CAST_IRON, 103, 0.211), (BRONZE, 111, 0.349), (ALUMINIUM, 71.7, 0.333),
    ):  # fmt: skip
        assert found == pytest.approx((modulus * 1e9, poisson), rel=1e-12)


@pytest.mark.parametrize(
    ("material", "found"),
    [
        ("steel", STEEL), ("Tool Steel", STEEL), ("billet", STEEL), ("nitrided steel", STEEL), ("grey iron", CAST_IRON),
        ("cast iron", CAST_IRON), ("iron", CHILLED_IRON), ("chilled iron", CHILLED_IRON), ("nodular", NODULAR_IRON),
        ("ductile iron", NODULAR_IRON), ("tin bronze", BRONZE), ("aluminium", ALUMINIUM), ("aluminum", ALUMINIUM),
        ("silicon nitride", CERAMIC), ("wood", None), ("", None), (None, None),
    ],
)  # fmt: skip
def test_which_constants_words_find(material: str | None, found: object) -> None:
    assert elastic_of(material) == found
