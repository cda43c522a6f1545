"""Every figure of a line as a formula on named cells, and the formula of its expanded uncertainty."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from loadbench.analysis import LineAnalysis
from loadbench.analysis.loads import BOTH, PRESSURES
from loadbench.analysis.members import MARGINS, Member
from loadbench.analysis.nest import MemberStated, member_rate
from loadbench.readings.strand import Evidence
from loadbench.report.book.blocks import Block, Plan, geometry_formula, offset_formula, rate_path
from loadbench.report.book.inputs import cell_name, pitch_name
from loadbench.report.book.load_line import damper_pairs
from loadbench.report.book.strand_columns import interval_formula, load_formula
from loadbench.units import Style

DASH = '"\u2013"'
Pair = tuple[str, str]
"""The formula of a value and that of its U."""

NO_U = DASH


def when(cells: tuple[str, ...] | str, formula: str, otherwise: str = DASH) -> str:
    """A formula where all its cells hold numbers, else another."""
    cells = (cells,) if isinstance(cells, str) else cells
    return f"IF(COUNT({','.join(cells)})={len(cells)},{formula},{otherwise})"


def root(*squares: str) -> str:
    """U, k = 2, from squared standard uncertainties."""
    return f"2*SQRT({'+'.join(squares)})"


@dataclass(frozen=True, slots=True)
class LineFormulas:
    """The formulas of one line's figures."""

    line: LineAnalysis
    plan: Plan
    style: Style

    def cell(self, field: str) -> str:
        """The name of the cell of an entry that holds for this line."""
        return cell_name(self.line.stated.path(field))

    def faulty(self, field: str) -> bool:
        """Whether an entry cannot be used; what it would override stays unknown then."""
        return self.line.stated.faulty(field)

    def own(self, figure: str) -> str:
        """The name of a figure's cell on this line."""
        return f"{self.line.name}_{figure}"

    def all(self) -> dict[str, Pair]:
        """The formulas by figure name; a figure without one can only be written as it is."""
        found = dict(self._room())
        found |= dict(self._rates())
        found |= dict(self._loads())
        return found | (damper_pairs(self.line, self.style) if self.plan.terms[self.line.name] else {})

    def hydraulic(self) -> str:
        """1 where the follower takes up the lash, 0 where not, a dash where neither family nor lobe says so."""
        family, lobe = self.cell("follower.family"), self.cell("cam.lash_kind")
        lash = self.cell("valve_gear.lash")
        by_lobe = f'IF(AND({lobe}<>"",COUNT({lash})=0),IF({lobe}="hydraulic",1,0),{DASH})'
        return f'IF({family}<>"",IF(RIGHT({family},9)="hydraulic",1,0),{by_lobe})'

    def _instrument(self, name: str) -> str:
        return cell_name(f"instruments.{name}")

    def _room(self) -> Iterator[tuple[str, Pair]]:
        yield "ratio", self._ratio()
        yield "installed_height", self._height()
        yield "gross_valve_lift", self._gross()
        yield "net_valve_lift", self._net()
        yield "lift_at_zero_lash", self._zero_lash()
        yield "plunger_depth", self._depth()
        net, u_net, height = self.own("net_valve_lift"), self.own("net_valve_lift_U"), self.own("installed_height")
        ratio, depth = self.own("ratio"), self.own("plunger_depth")
        pumped = when((net, depth, ratio), f"{net}+{ratio}*MAX({depth},0)")
        yield "lift_pumped_up", (self._if_hydraulic(1, pumped), u_net)
        u_height = self.own("installed_height_U")
        both = when((u_height, u_net), root(f"({u_height}/2)^2", f"({u_net}/2)^2"))
        yield "open_height", (when((height, net), f"{height}-{net}"), both)
        seal, a_seal = self.cell("valve_gear.retainer_to_seal"), self._instrument("seal")
        u_seal = when((a_seal, u_net), root(f"{a_seal}^2/3", f"({u_net}/2)^2"))
        yield "retainer_margin", (when((seal, net), f"{seal}-{net}"), u_seal)
        yield from self._least_margins()

    def _ratio(self) -> Pair:
        ratio, family = self.cell("valve_gear.rocker_ratio"), self.cell("follower.family")
        stated = when(ratio, ratio)
        return (stated if self.faulty("valve_gear.rocker_ratio") else f'IF({family}="bucket",1,{stated})'), NO_U

    def _height(self) -> Pair:
        height, bare = self.cell("spring.installed_height"), self.cell("spring.bare_height")
        path, count = self.line.stated.rows("spring.shims")
        bad_shim = any(f"{path}.{index}" in self.line.stated.stated.problems for index in range(count))
        from_bare = when(bare, f"{bare}-SUM({cell_name(path)})")
        stuck = bad_shim or self.faulty("spring.installed_height")
        accuracy = self._instrument("installed_height")
        return when(height, height, DASH if stuck else from_bare), when(accuracy, root(f"{accuracy}^2/3"))

    def _gross(self) -> Pair:
        lift, lobe, ratio = self.cell("valve_gear.valve_lift"), self.cell("valve_gear.lobe_lift"), self.own("ratio")
        accuracy = self._instrument("lift")
        from_lobe = DASH if self.faulty("valve_gear.valve_lift") else when((lobe, ratio), f"{lobe}*{ratio}")
        factor = f"IF(COUNT({lift})=1,1,{ratio})"
        return when(lift, lift, from_lobe), when(accuracy, root(f"({accuracy}*{factor})^2/3"))

    def _net(self) -> Pair:
        measured, accuracy = self.cell("valve_gear.measured_net_lift"), self._instrument("lift")
        u_measured = when(accuracy, root(f"{accuracy}^2/3"))
        gross, lash = self.own("gross_valve_lift"), self.cell("valve_gear.lash")
        less_lash = when((gross, lash), f"{gross}-{lash}")
        computed = f"IF({self.own('hydraulic')}=1,{gross},{less_lash})"
        if self.faulty("valve_gear.measured_net_lift"):
            computed = DASH
        return when(measured, measured, computed), when(measured, u_measured, self.own("gross_valve_lift_U"))

    def _zero_lash(self) -> Pair:
        net, gross, lash = self.own("net_valve_lift"), self.own("gross_valve_lift"), self.cell("valve_gear.lash")
        cells = (self.cell("valve_gear.measured_net_lift"), net, lash)
        u = when(cells, self.own("net_valve_lift_U"), self.own("gross_valve_lift_U"))
        return self._if_hydraulic(0, when(cells, f"{net}+{lash}", gross)), u

    def _if_hydraulic(self, is_so: int, formula: str) -> str:
        """A formula of a figure that only followers of one kind have."""
        return f"IF({self.own('hydraulic')}={is_so},{formula},{DASH})"

    def _depth(self) -> Pair:
        depth, turns = self.cell("follower.preload.depth"), self.cell("follower.preload.turns")
        at, pitch, ratio = self.cell("valve_gear.adjuster.at"), pitch_name(self.line.stated), self.own("ratio")
        factor = f'IF({at}="pivot",(1+{ratio})/{ratio},IF({at}="pushrod",1,IF({at}="valve-tip",1/{ratio},{DASH})))'
        turned = when((turns, pitch, ratio), when(factor, f"{turns}*{pitch}*{factor}"))
        stuck = self.faulty("follower.preload.depth")
        return self._if_hydraulic(1, when(depth, depth, DASH if stuck else turned)), NO_U

    def _least_margins(self) -> Iterator[tuple[str, Pair]]:
        for name in MARGINS:
            cells = tuple(member_cell(self.line, place, name) for place in range(len(self.line.members)))
            if cells:
                yield name, (when(cells, f"MIN({','.join(cells)})"), f"{cells[0]}_U")

    def margins_of(self, member: Member, place: int) -> Iterator[tuple[str, Pair]]:
        """The formulas of one member's own height and clearances.

        Args:
            member: of the nest, or the only spring.
            place: its number on the line, from 0.

        Yields:
            Figure name and formulas.
        """
        stated, height = member.stated, self.own("installed_height")
        if stated.offset is None:
            return
        offset, u_height = offset_formula(stated), self.own("installed_height_U")
        yield "member_height", (when(height, f"{height}-{offset}"), u_height)
        bind, accuracy = cell_name(stated.bind_field), self._instrument("bind_height")
        own_height = member_cell(self.line, place, "member_height")
        for name, (_, lift_name) in MARGINS.items():
            lift, u_lift = self.own(lift_name), self.own(f"{lift_name}_U")
            squares = root(f"({u_height}/2)^2", f"({u_lift}/2)^2", f"{accuracy}^2/3")
            u = when((u_height, u_lift, accuracy), squares)
            yield name, (when((own_height, lift, bind), f"{own_height}-{lift}-{bind}"), u)
        yield from self._own_loads(stated, own_height)

    def _own_loads(self, stated: MemberStated, own_height: str) -> Iterator[tuple[str, Pair]]:
        """The member's share of the load at both ends, by its own load line."""
        block = next(
            (b for m, b in zip(self.line.nest.members, self.plan.members[self.line.name], strict=True) if m is stated),
            None,
        )
        if stated is not None and not stated.path and not self.line.nest.single:
            block = self.plan.wholes[self.line.name]
        if block is None:
            return
        net = self.own("net_valve_lift")
        for name, x, needs in (
            ("seat", own_height, (own_height,)),
            ("open", f"({own_height}-{net})", (own_height, net)),
        ):
            interval = interval_formula(block, x)
            yield f"member_{name}_load", (when(needs, load_formula(block, x, interval)), NO_U)

    def _rates(self) -> Iterator[tuple[str, Pair]]:
        nest, blocks = self.line.nest, self.plan.members[self.line.name]
        for kind in Evidence:
            if formula := self._rate_of(kind, blocks):
                yield f"rate_{kind}", (formula, NO_U)
        measured = [block for block in blocks if block is not None and block.readings]
        if not nest.single and all(each.evidence.measured is not None for each in nest.members):
            if not any(each.evidence.faulty for each in nest.members):
                yield "rate", (self.own("rate_measured"), fit_rate_uncertainty(measured))
            return
        whole = self.plan.wholes[self.line.name]
        if nest.single or (nest.whole.rate is not None and not nest.whole.faulty):
            yield "rate", self._whole_rate(whole)
        elif not nest.whole.faulty:
            yield "rate", (self._rates_added(), NO_U)

    def _whole_rate(self, whole: Block | None) -> Pair:
        """The rate of a single spring or of a pair as a whole: measured, stated, geometric."""
        member = self.line.nest.members[0] if self.line.nest.single else None
        evidence = self.line.nest.whole
        if evidence.faulty:
            return DASH, NO_U
        stated = cell_name(rate_path(self.line, member))
        geometric = geometry_formula(self.line, member) if member and evidence.geometric_rate is not None else DASH
        rest = when(stated, stated, geometric)
        if whole is None or not whole.readings:
            return rest, NO_U
        fitted = whole.name("fitted_rate")
        return when(fitted, fitted, rest), fit_rate_uncertainty([whole])

    def _rates_added(self) -> str:
        """Each member's best rate, added."""
        parts = []
        for member, block in zip(self.line.nest.members, self.plan.members[self.line.name], strict=True):
            stated = cell_name(rate_path(self.line, member))
            geometric = geometry_formula(self.line, member) if member.evidence.geometric_rate is not None else DASH
            rest = when(stated, stated, geometric)
            fitted = block.name("fitted_rate") if block is not None and block.readings else ""
            parts.append(when(fitted, fitted, rest) if fitted else rest)
        return when(tuple(parts), "+".join(parts))

    def _rate_of(self, kind: Evidence, blocks: tuple[Block | None, ...]) -> str:
        """The rate of one kind of evidence: the members' where each has one, else the whole's."""
        nest, whole = self.line.nest, self.plan.wholes[self.line.name]
        by_member = all(member_rate(member.evidence, kind) is not None for member in nest.members)
        if kind is Evidence.GEOMETRIC:
            parts = [geometry_formula(self.line, member) for member in nest.members if by_member]
            return when(tuple(parts), "+".join(parts)) if by_member else ""
        if kind is Evidence.STATED:
            own = cell_name(rate_path(self.line, nest.members[0] if nest.single else None))
            cells = tuple(cell_name(rate_path(self.line, member)) for member in nest.members)
            return (
                when(own, own)
                if nest.single or nest.whole.stated_rate is not None or not by_member
                else when(cells, "+".join(cells))
            )
        fitted = tuple(block.name("fitted_rate") for block in blocks if block is not None and block.readings)
        if by_member and not nest.single and len(fitted) == len(blocks):
            return when(fitted, "+".join(fitted))
        return whole.name("fitted_rate") if whole is not None and whole.readings else ""

    def _loads(self) -> Iterator[tuple[str, Pair]]:
        if self.plan.terms[self.line.name]:
            for name, end in (("seat", "closed"), ("open", "full_lift")):
                yield f"{name}_load", (self.own(f"{end}_load"), self.own(f"{end}_load_U"))
        yield "effective_seat_load", self._effective()
        ratio = self.own("ratio")
        for end in ("seat", "open"):
            load, u = self.own(f"{end}_load"), self.own(f"{end}_load_U")
            yield f"follower_{end}_load", (when((load, ratio), f"{ratio}*{load}"), when((u, ratio), f"{ratio}*{u}"))

    def _effective(self) -> Pair:
        fields = PRESSURES.get(self.line.name, BOTH)
        seat, head = self.own("seat_load"), self.cell("valve_gear.head_diameter")
        if any(self.faulty(field) for field in fields):
            return DASH, NO_U
        pressure = f"MAX({','.join(['0', *(self.cell(field) for field in fields)])})"
        area = "" if self.style is Style.INCH_POUND else "*0.1"
        left = when(head, f"{seat}-{pressure}{area}*PI()/4*{head}^2")
        return when(seat, f"IF({pressure}=0,{seat},{left})"), self.own("seat_load_U")


def member_cell(line: LineAnalysis, place: int, figure: str) -> str:
    """The name of a member's figure: the line, the member's number from 1, the figure."""
    return f"{line.name}_member_{place + 1}_{figure.removeprefix('member_')}"


def fit_rate_uncertainty(blocks: list[Block]) -> str:
    """U of fitted rates added: the zero cancels, a gain error is the same share of the rate."""
    if not blocks:
        return NO_U
    coverage = tuple(block.name("coverage") for block in blocks)
    variances = "+".join(f"{block.name('coverage')}^2*{block.name('rate_variance')}" for block in blocks)
    total = "+".join(block.name("fitted_rate") for block in blocks)
    return when(coverage, f"SQRT({variances}+4*(accuracy_gain*({total}))^2)")
