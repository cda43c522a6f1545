"""The table of wires: every row with a source, odd rows told with their place."""

from __future__ import annotations

import pytest

from loadbench.errors import InputError
from loadbench.sources import SOURCES
from loadbench.spring.materials import material, materials, read_materials


def test_shipped_wires_have_a_source_and_a_modulus_of_steel() -> None:
    assert {"chrome-silicon", "chrome-vanadium", "music"} <= materials().keys()
    assert all(row.source in SOURCES for row in materials().values())
    # Spring steels lie between 76 and 83 GPa in every handbook.
    assert all(76e9 < row.shear_modulus_Pa < 83e9 for row in materials().values())


@pytest.mark.reference("en-10270-1")
def test_patented_wire() -> None:
    wire = material("Music")
    assert wire is not None
    assert wire.shear_modulus_Pa == 81.5e9  # S96


@pytest.mark.reference("en-10270-2")
@pytest.mark.parametrize("name", ["chrome-silicon", " Chrome Silicon ", "CHROME-VANADIUM", "oil-tempered"])
def test_hardened_wire_by_the_name_typed(name: str) -> None:
    wire = material(name)
    assert wire is not None
    assert wire.shear_modulus_Pa == 79.5e9  # S97


@pytest.mark.parametrize("name", [None, "", "unobtainium"])
def test_an_unknown_wire_is_none(name: str | None) -> None:
    assert material(name) is None


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ('[x]\nsource = "gum"', "shear_modulus_Pa"),
        ('[x]\nshear_modulus_Pa = 8e10\nsource = "gum"\ncolour = "blue"', "colour"),
        ('[x]\nshear_modulus_Pa = 8e10\nsource = "hearsay"', "hearsay"),
    ],
)
def test_an_odd_row_is_told_with_its_place(text: str, named: str) -> None:
    with pytest.raises(InputError, match=named) as told:
        read_materials(text, "odd.toml")
    assert (told.value.place.file, told.value.place.field) == ("odd.toml", "x")
