"""The sheet Fit: rate, anchor and uncertainty of each load line by formulas on the named readings."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from loadbench.analysis import Analysis
from loadbench.analysis.figure import FigureKind, Plain
from loadbench.readings.accuracy import Accuracy, standard
from loadbench.readings.evidence import ACCURACIES, accuracy_of
from loadbench.readings.regression import student_factor
from loadbench.readings.strand_fit import PROGRESSIVE_SHARE
from loadbench.report.book.blocks import SPARE_ROWS, Block, Plan
from loadbench.report.book.paper import Book, Sheet, tidy
from loadbench.report.book.readings import Sums
from loadbench.units import Kind, to_display

COLUMNS = (("Spring", 13), ("Quantity", 46), ("Value", 13), ("Unit", 11), ("Name of the cell", 24))
DASH = '"\u2013"'
TESTER = "tester_"


@dataclass(frozen=True, slots=True)
class Row:
    """One quantity of a fit: the end of its name, what it is, its formula, its value at export, its unit."""

    name: str
    label: str
    formula: str
    value: float | None
    unit: str = ""


def write_fit(book: Book, analysis: Analysis, plan: Plan, sums: dict[str, Sums]) -> None:
    """Write the sheet Fit.

    Args:
        book: the workbook.
        analysis: of the job.
        plan: the blocks.
        sums: the columns of the blocks with readings, by mark.
    """
    sheet = book.sheet("Fit", COLUMNS, upright=True)
    for row in _accuracy_rows(book, analysis):
        _write(sheet, "tester", f"accuracy_{row.name}", row)
    accuracy = accuracy_of(analysis.lines[0].stated)
    for block in plan.blocks:
        rows = _fitted(block, sums[block.mark], book, accuracy) if block.readings else _from_rate(block, book)
        for row in rows:
            _write(sheet, block.title, block.name(row.name), row)
    _write_student(sheet, max((each.count for each in sums.values()), default=0) + SPARE_ROWS)


def _write(sheet: Sheet, title: str, name: str, row: Row) -> None:
    at, sheet.row = sheet.row, sheet.row + 1
    sheet.texts(at, (title, row.label))
    sheet.formula(at, 2, row.formula, row.value, tidy(row.value))
    sheet.text(at, 3, row.unit, "unit")
    sheet.text(at, 4, sheet.define(name, at, 2), "quiet")


def _write_student(sheet: Sheet, most: int) -> None:
    """Student's t for two-sided 95.45 %, which belongs to k = 2, by degrees of freedom."""
    first = sheet.row
    for freedom in range(1, most + 1):
        sheet.texts(sheet.row, ("table", f"Student's t, 95.45 %, {freedom} degrees of freedom"))
        factor = student_factor(freedom)
        sheet.number(sheet.row, 2, factor, tidy(factor))
        sheet.text(sheet.row, 4, "student_t", "quiet")
        sheet.row += 1
    sheet.book.define("student_t", sheet.span(first, sheet.row - 1, 2))


def _accuracy_rows(book: Book, analysis: Analysis) -> Iterator[Row]:
    """Standard uncertainties of the tester from its half-widths, a/sqrt 3; nothing stated counts as none."""
    accuracy = accuracy_of(analysis.lines[0].stated)
    force, length = book.unit(Kind.FORCE), book.unit(Kind.LENGTH)
    repeat, height = f"{TESTER}load_repeatability", f"{TESTER}height_accuracy"
    gain, zero = f"{TESTER}load_accuracy_percent", f"{TESTER}load_accuracy_fixed"

    def shown(half_width: float | None, kind: FigureKind) -> float | None:
        return book.shown(standard(half_width), kind)

    yield Row(
        "gain", "Gain, standard uncertainty as a share", f"N({gain})/100/SQRT(3)", shown(accuracy.gain, Plain.SHARE)
    )
    yield Row("zero", "Zero, standard uncertainty", f"N({zero})/SQRT(3)", shown(accuracy.zero, Kind.FORCE), force)
    yield Row(
        "repeat", "Repeatability, standard", f"N({repeat})/SQRT(3)", shown(accuracy.repeatability, Kind.FORCE), force
    )
    yield Row(
        "height", "Tester's height, standard", f"N({height})/SQRT(3)", shown(accuracy.height, Kind.LENGTH), length
    )
    anew, stated = f"IF(COUNT({repeat},{height})>0,1,0)", f"IF(COUNT({gain},{zero},{repeat},{height})>0,1,0)"
    yield Row("anew", "Stated what differs from reading to reading (1 yes)", anew, float(accuracy.drawn_anew))
    yield Row("stated", "Any accuracy stated (1 yes)", stated, float(accuracy.stated))
    line = analysis.lines[0].stated
    unread = [f"{TESTER}{name}" for name in ACCURACIES if line.faulty(f"tester.{name}")]
    usable = f"IF(COUNT({','.join(unread)})={len(unread)},1,0)" if unread else "1"
    yield Row("usable", "Every accuracy entered can be used (1 yes)", usable, float(not accuracy.faulty))


def _from_rate(block: Block, book: Book) -> Iterator[Row]:
    """A straight line of a stated or geometric rate through the free height."""
    strand = block.evidence.strand
    height = None if strand is None else book.shown(strand.anchor_height, Kind.LENGTH)
    rate = None if strand is None else book.shown(strand.rate, Kind.RATE)
    free = f"IF(COUNT({block.free_name})=1,{block.free_name},{DASH})"
    there, curved = "0", block.curve is not None and height is not None and rate is not None
    if curved:  # the curve is of the sizes at export: with others there is no load rather than a wrong one
        name = block.name
        alike = f"ABS({name('mean_height')}-{height!r})<=1E-9,ABS({name('rate')}/{rate!r}-1)<=1E-9"
        alike += f",COUNT({block.total_name})=0" if block.total is None else f",N({block.total_name})={block.total!r}"
        there = f"IF(COUNT({name('mean_height')},{name('rate')})=2,IF(AND({alike}),0,{DASH}),{DASH})"
    yield Row("mean_height", "Free height", free, height, book.unit(Kind.LENGTH))
    yield Row("mean_load", "Load there", there, 0.0, book.unit(Kind.FORCE))
    formula = (
        f"IF(COUNT({block.rate_formula})=1,{block.rate_formula},{DASH})"
        if block.rate_formula == block.rate_name
        else block.geometry
    )
    yield Row("rate", "Rate", formula, rate, book.unit(Kind.RATE))
    if curved:
        yield Row("progressive", "The load follows the coil's curve as it was at export (1 yes)", "1", 1.0)


def _fitted(block: Block, sums: Sums, book: Book, accuracy: Accuracy) -> Iterator[Row]:
    """Least squares about the mean height, so that load there and rate are uncorrelated."""
    name, evidence = block.name, block.evidence
    length, force, rate_unit = (book.unit(kind) for kind in (Kind.LENGTH, Kind.FORCE, Kind.RATE))
    known = sums.count > 0
    strand = evidence.measured
    spread = float(sums.from_mean @ sums.from_mean)
    measured = strand is not None
    any_reading = f"IF({name('count')}>0,"
    yield Row("count", "Readings that count", f"SUM({name('counted')})", float(sums.count))
    mean = float(sums.heights.sum() / sums.count) if known else None
    mean_load = float(sums.loads.sum() / sums.count) if known else None
    for end, label, of, value, unit in (
        ("mean_height", "Mean height h0", "height", mean, length),
        ("mean_load", "Mean load F0", "load", mean_load, force),
    ):
        formula = f"{any_reading}SUMPRODUCT({name('counted')},{name(of)})/{name('count')},{DASH})"
        yield Row(end, label, formula, value, unit)
    yield Row(
        "spread", "Sum of squares of the heights from their mean", f"SUMSQ({name('from_mean')})", spread, f"{length}²"
    )
    reach = float(sums.from_mean.max() - sums.from_mean.min())
    yield Row(
        "reach", "Tallest less shortest height", f"MAX({name('from_mean')})-MIN({name('from_mean')})", reach, length
    )
    least = f"{2e-5 * book.per_metre()!r}"
    several = f"IF({name('count')}>=2,IF({name('reach')}>{least},1,0),0)"
    yield Row("measured", "Rate can be had from the readings (1 yes)", several, float(measured))
    fitted = None if strand is None else book.shown(strand.rate, Kind.RATE)
    slope = f"IF({name('measured')}=1,-SUMPRODUCT({name('from_mean')},{name('load')})/{name('spread')},{DASH})"
    yield Row("fitted_rate", "Measured rate k: least squares", slope, fitted, rate_unit)
    best = fitted if evidence.stated_rate is None or measured else book.shown(evidence.stated_rate, Kind.RATE)
    stated = f"IF(COUNT({block.rate_name})=1,{block.rate_name},{DASH})"
    yield Row(
        "rate", "Rate of the straight line", f"IF({name('measured')}=1,{name('fitted_rate')},{stated})", best, rate_unit
    )
    if not block.straight:
        yield Row("distinct", "Different heights", f"SUM({name('first')})", float(sums.distinct))
    yield from _noise_rows(block, sums, book, accuracy)


def _noise_rows(block: Block, sums: Sums, book: Book, accuracy: Accuracy) -> Iterator[Row]:
    """Noise of one reading, curvature, and the variances of anchor and rate."""
    name, strand = block.name, block.evidence.measured
    force, length = book.unit(Kind.FORCE), book.unit(Kind.LENGTH)
    count, measured, spread = name("count"), f"{name('measured')}=1", float(sums.from_mean @ sums.from_mean)
    single = None if strand is None else book.shown(float(accuracy.of_reading(strand.rate)), Kind.FORCE)
    formula = f"IF({measured},SQRT(accuracy_repeat^2+({name('fitted_rate')}*accuracy_height)^2),{DASH})"
    yield Row("single", "One reading, standard uncertainty as stated", formula, single, force)
    squares = float(sums.residual @ sums.residual)
    deviation = math.sqrt(squares / (sums.count - 2)) if strand is not None and sums.count > 2 else None
    formula = f"IF({measured},IF({count}>2,SQRT(SUMSQ({name('residual')})/({count}-2)),{DASH}),{DASH})"
    yield Row("residual_deviation", "Standard deviation of the residuals", formula, deviation, force)
    if not block.straight:
        yield from _curvature_rows(block, sums, book, accuracy)
    curved = "0" if block.straight else f"{name('progressive')}*(1-accuracy_stated)"
    formula = (
        f"IF({measured},IF(OR(accuracy_usable=0,{curved}=1),{DASH},"
        f"IF(accuracy_anew=1,2,IF({count}>=4,INDEX(student_t,{count}-2),IF(accuracy_stated=1,2,{DASH})))),{DASH})"
    )
    coverage = None if strand is None or accuracy.faulty else strand.coverage
    yield Row("coverage", "Coverage factor (2, or Student's t)", formula, coverage)
    own = f"IF(accuracy_anew=1,{name('single')},IF({count}>=4,{name('residual_deviation')},0))"
    noise = None if strand is None else book.shown(math.sqrt(strand.anchor_variance * sums.count), Kind.FORCE)
    yield Row("noise", "Standard deviation of one reading", f"IF({measured},{own},{DASH})", noise, force)
    anchor = None if noise is None else noise**2 / sums.count
    slope = None if noise is None else noise**2 / spread
    yield Row("variance", "Variance of F0", f"IF({measured},{name('noise')}^2/{count},{DASH})", anchor, f"{force}²")
    formula = f"IF({measured},{name('noise')}^2/{name('spread')},{DASH})"
    yield Row("rate_variance", "Variance of the rate", formula, slope, f"({force}/{length})²")


def _curvature_rows(block: Block, sums: Sums, book: Book, accuracy: Accuracy) -> Iterator[Row]:
    """A second-order term by an orthogonal polynomial: growth of the rate over the readings, and its noise."""
    name, strand = block.name, block.evidence.measured
    force, length = book.unit(Kind.FORCE), book.unit(Kind.LENGTH)
    second = _second_order(block, sums, book, accuracy)
    cube = f"SUMPRODUCT({name('from_mean')},{name('from_mean')},{name('from_mean')})"
    formula = f"IF({name('measured')}=1,{cube}/{name('spread')},0)"
    yield Row("skew", "Third over second power of the heights", formula, second.skew, length)
    norm = f"SUMSQ({name('second')})"
    yield Row("second_norm", "Sum of squares of the second-order terms", norm, second.norm, f"{length}⁴")
    three = f"IF({name('measured')}*({name('distinct')}>=3)=1,"
    formula = f"{three}SUMPRODUCT({name('second')},{name('load')})/{name('second_norm')},{DASH})"
    yield Row("bend", "Second-order coefficient", formula, second.bend, f"{force}/{length}²")
    formula = f"{three}IF({name('rate')}>0,2*{name('bend')}*{name('reach')}/{name('rate')},{DASH}),{DASH})"
    yield Row("curvature", "Growth of the rate over the readings, as a share", formula, second.share)
    left = f"MAX(0,SUMSQ({name('residual')})-{name('bend')}^2*{name('second_norm')})"
    scatter = f"INDEX(student_t,{name('count')}-3)*SQRT({left}/({name('count')}-3))"
    own = f"IF(accuracy_anew=1,2*{name('single')},IF({name('count')}>3,{scatter},0))/SQRT({name('second_norm')})"
    yield Row("bend_noise", "What noise can do to it", f"{three}{own},{DASH})", second.noise, f"{force}/{length}²")
    tested = f"IF({name('curvature')}>{PROGRESSIVE_SHARE!r},IF({name('bend')}>{name('bend_noise')},1,0),0)"
    formula = f"IF(COUNT({name('curvature')})=1,{tested},0)"
    progressive = strand is not None and strand.knots is not None
    yield Row("progressive", "Progressive: the load follows the readings (1 yes)", formula, float(progressive))


@dataclass(frozen=True, slots=True, kw_only=True)
class _SecondOrder:
    skew: float
    norm: float
    bend: float | None = None
    share: float | None = None
    noise: float | None = None


def _second_order(block: Block, sums: Sums, book: Book, accuracy: Accuracy) -> _SecondOrder:
    """The second-order term at export, as the formulas have it."""
    strand, u = block.evidence.measured, sums.from_mean
    norm = float(sums.second @ sums.second)
    skew = float((u**3).sum() / (u @ u)) if strand is not None else 0.0
    if strand is None or sums.distinct < 3:
        return _SecondOrder(skew=skew, norm=norm)
    bend = float(sums.second @ sums.loads) / norm
    rate = to_display(strand.rate, Kind.RATE, book.style)
    share = 2 * bend * float(u.max() - u.min()) / rate if rate > 0 else None
    if accuracy.drawn_anew:
        noise = 2 * to_display(float(accuracy.of_reading(strand.rate)), Kind.FORCE, book.style) / math.sqrt(norm)
    elif sums.count > 3:
        left = max(0.0, float(sums.residual @ sums.residual) - bend**2 * norm) / (sums.count - 3)
        noise = student_factor(sums.count - 3) * math.sqrt(left / norm)
    else:
        noise = 0.0
    return _SecondOrder(skew=skew, norm=norm, bend=bend, share=share, noise=noise)
