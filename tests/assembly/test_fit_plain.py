"""The answer of a fit as a builder reads it in a terminal."""

from __future__ import annotations

from loadbench.assembly.fit import fit
from loadbench.report.fit_plain import fit_as_text
from loadbench.units import Style
from tests.assembly.heads import analysed, head

SPRINGS = [("A", 150.0, 400.0), ("B", 156.0, 400.0)]


def test_the_plan_tells_both_margins_and_counts_one_shim_as_one() -> None:
    text = fit_as_text(fit(analysed(head(SPRINGS, [1.815, 1.815]))), Style.INCH_POUND).replace("\u2009", " ")
    assert "To bind   To seal" in text
    assert "0.215 in  0.100 in" in text
    assert "Spread of seat load 0 lbf, 1 shim: the best there is, proved." in text
    assert "targets" not in text  # none is stated


def test_too_much_height_wanted_is_told_as_a_cut_or_other_locks() -> None:
    tree = head(SPRINGS[:1], [1.780], targets={"seat_load": "150 lbf", "tolerance_percent": 1})
    text = fit_as_text(fit(analysed(tree)), Style.INCH_POUND).replace("\u2009", " ")
    assert "0.017 in more height on valve 1: cut the seat, or other locks or retainer; shims only shorten." in text
    assert "1 more spring that carries the wanted loads." in text


def test_a_plan_without_a_bind_height_does_not_claim_every_limit() -> None:
    tree = head(SPRINGS, [1.815, 1.815])
    tree["spring"].pop("bind_height")
    text = fit_as_text(fit(analysed(tree)), Style.INCH_POUND)
    assert "proved; some limits could not be checked" in text
    assert "Coil bind is not checked" in text
