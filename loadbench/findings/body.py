"""Verdicts on the follower's body: clearance in its bore, the oil band within the bore over the lift, the guide."""

from __future__ import annotations

from collections.abc import Iterator

from loadbench.analysis.figure import Figure
from loadbench.findings.axle_physics import fix_if
from loadbench.findings.finding import Finding
from loadbench.findings.standing import standing, worst_of
from loadbench.findings.view import Scope, Told, amount, asked, asker, verdict
from loadbench.units import Kind

BAND = ("follower.oil_band.lower", "follower.oil_band.upper", "follower.bore.lower_end", "follower.bore.upper_end")


@verdict("follower-bore", Scope.JOB)
def follower_bore(told: Told) -> Iterator[Finding]:
    """Clearance of the body in its bore; asked where the bore is stated."""
    view = told.view
    bore, body = view.value("follower.bore.diameter"), view.value("follower.body_diameter")
    about = ("follower.bore.diameter", "follower.body_diameter")
    if bore is None:
        return
    if body is None:
        yield told.unknown(
            "The clearance of the follower in its bore cannot be had.", view.missing(about[1]), about=about
        )
        return
    figure = Figure(name="bore_clearance", label="Clearance in the bore", kind=Kind.LENGTH, value=bore - body)
    least, most = view.book.limit("follower-bore", "least"), view.book.limit("follower-bore", "most")
    stands = worst_of(standing(least, bore - body), standing(most, bore - body))
    sentence = f"The follower has {{clearance}} in its bore; {asker(stands)} asks for {{least}} to {{most}}."
    amounts = {
        "clearance": amount(figure),
        "least": asked(least, standing(least, 0.0)),
        "most": asked(most, standing(most, 1.0)),
    }
    fix = fix_if(stands, "Measure both again; then a body of another size, or a bushed and honed bore.")
    yield told.judged(figure, stands, sentence, amounts, about=about, fix=fix)


@verdict("oil-band", Scope.JOB)
def oil_band(told: Told) -> Iterator[Finding]:
    """Whether the oil band stays within the bore from closed to full lift; asked where any of it is stated."""
    view = told.view
    if all(view.value(field) is None for field in BAND):
        return
    low, high, bottom, top = (view.value(field) for field in BAND)
    lift, ratio = view.line.value("gross_valve_lift"), view.line.value("ratio")
    if None in (low, high, bottom, top) or not lift or not ratio:
        missing = (*view.missing(*BAND), *(() if lift and ratio else ("valve_gear.lobe_lift",)))
        yield told.unknown("Whether the oil band stays within the bore cannot be said.", missing, about=BAND)
        return
    below, over = low - bottom, top - (high + lift / ratio)
    left = min(below, over)
    figure = Figure(name="oil_band_left", label="Oil band within the bore by", kind=Kind.LENGTH, value=left)
    limit = view.book.limit("oil-band")
    stands = standing(limit, left)
    where = "at the bottom, closed" if below <= over else "at the top, at full lift"
    sentence = f"The oil band stays within the bore by {{left}}, {where}; {asker(stands)} asks for {{limit}}."
    if left < 0:
        sentence = f"The oil band leaves the bore by {{out}}, {where}: the oil's pressure is lost there."
    amounts = {"left": amount(figure), "limit": asked(limit, stands)}
    amounts["out"] = amount(Figure(name="out", label="", kind=Kind.LENGTH, value=abs(left)))
    fix = fix_if(stands, "A follower whose band lies within the bore at this lift, or less lobe lift.")
    yield told.judged(figure, stands, sentence, amounts, about=BAND, fix=fix)


@verdict("guide-clearance", Scope.JOB)
def guide_clearance(told: Told) -> Iterator[Finding]:
    """Clearance of the tie bar or guide at full lift, as measured; asked where it is stated."""
    view, about = told.view, ("follower.guide_clearance",)
    value = view.value(about[0])
    if value is None:
        return
    figure = Figure(name="guide_clearance", label="Guide clear at full lift by", kind=Kind.LENGTH, value=value)
    limit = view.book.limit("guide-clearance")
    stands = standing(limit, value)
    sentence = f"At full lift the guide or tie bar clears by {{clearance}}; {asker(stands)} asks for {{limit}}."
    amounts = {"clearance": amount(figure), "limit": asked(limit, stands)}
    yield told.judged(
        figure, stands, sentence, amounts, about=about, fix=fix_if(stands, "Relieve the bar or the block.")
    )
