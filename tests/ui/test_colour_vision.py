"""Series stay apart for eyes that miss one kind of cone; levels do not lean on colour."""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np
import pytest

from loadbench.findings.finding import Level
from ui.icons import level_pixmap
from ui.level_words import level_word
from ui.palette import DARK, LIGHT, Colours

if TYPE_CHECKING:
    from numpy.typing import NDArray

EYES = {
    "normal": np.eye(3),
    # G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, A Physiologically-based Model for Simulation of Color Vision
    # Deficiency, IEEE Transactions on Visualization and Computer Graphics 15 (2009), severity 1.0; on linear RGB.
    "protanopia": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
    ),
    "deuteranopia": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
    ),
}
# Linear sRGB to CIE XYZ, D65: IEC 61966-2-1.
XYZ = np.array(
    [[0.4124564, 0.3575761, 0.1804375], [0.2126729, 0.7151522, 0.0721750], [0.0193339, 0.1191920, 0.9503041]]
)
LEAST = {"normal": 22.0, "protanopia": 12.0, "deuteranopia": 12.0}
"""CIE 1976 colour differences; about 2.3 can just be told apart side by side. Own choice: five times that at least."""


def lab(colour: str, eye: str) -> NDArray[np.float64]:
    """CIE 1976 L*a*b* of a colour as an eye sees it."""
    coded = np.array([int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)])
    linear = np.where(coded <= 0.04045, coded / 12.92, ((coded + 0.055) / 1.055) ** 2.4)
    relative = XYZ @ np.clip(EYES[eye] @ linear, 0, 1) / (XYZ @ np.ones(3))
    f = np.where(relative > 216 / 24389, np.cbrt(relative), (24389 / 27 * relative + 16) / 116)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


def test_the_measure_is_that_of_the_standard() -> None:
    assert lab("#ffffff", "normal") == pytest.approx([100, 0, 0], abs=1e-3)
    assert lab("#ff0000", "normal") == pytest.approx([53.24, 80.09, 67.20], abs=0.05)  # the known red of sRGB
    red, green = "#c00000", "#7f6f00"
    seen = {eye: float(np.linalg.norm(lab(red, eye) - lab(green, eye))) for eye in EYES}
    assert seen["deuteranopia"] < seen["normal"] / 3  # a pair that such eyes confuse


@pytest.mark.parametrize("eye", EYES)
@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
def test_d41_series_stay_apart_for_every_eye(theme: Colours, eye: str) -> None:
    for one, other in combinations((theme.accent, *theme.series), 2):
        assert np.linalg.norm(lab(one, eye) - lab(other, eye)) >= LEAST[eye], (one, other)


def test_d18_levels_differ_by_word_and_by_drawing(qapp: object) -> None:
    assert len({level_word(level) for level in Level}) == len(Level)
    drawings = set()
    for level in Level:
        picture = level_pixmap(level, 24).toImage()
        drawings.add(
            tuple(
                picture.pixelColor(x, y).alpha() > 100 for x in range(picture.width()) for y in range(picture.height())
            )
        )
    assert len(drawings) == len(Level)
