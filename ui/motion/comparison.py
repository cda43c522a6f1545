"""What the Lift view holds beside this line's lobe: another one, kept for a look only, and where both are measured."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from loadbench.analysis.motion.held_lift import Same
from loadbench.analysis.motion.other_lobe import OtherLobe, lobe_of_law, lobe_of_motion, lobe_of_table
from loadbench.motion.laws import LAWS
from ui.motion.wording import tr

if TYPE_CHECKING:
    from loadbench.analysis import LineAnalysis
    from loadbench.motion.lift import Lift
    from ui.session import Session

NOTHING, TABLE = "", "table"
LINE, LAW = "line ", "law "
VALVE, LOBE = "valve", "lobe"


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A lift table that was read and is in no job."""

    rows: tuple[tuple[str, str], ...]
    angle: str
    side: str
    name: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Beside:
    """Another lobe as the view shows it: its name, and which side of both is looked at."""

    name: str
    own: str
    side: str
    lobe: OtherLobe

    def lift_of(self, lobe: Lift | None, valve: Lift | None) -> Lift | None:
        """The one of two lifts that is looked at."""
        return valve if self.side == VALVE else lobe

    @property
    def lift(self) -> Lift | None:
        """Its lift on the side that is looked at."""
        return self.lift_of(self.lobe.lobe, self.lobe.valve)


class Comparison(QObject):
    """Which lobe stands beside, at which side, and the lift that is looked at besides the usual ones."""

    changed = Signal()

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.choice, self.side = NOTHING, VALVE
        self.table: Table | None = None
        self._made_for: object = None
        self._made = OtherLobe()
        session.loaded.connect(self._forget)

    def choices(self) -> list[tuple[str, str]]:
        """What can stand beside the line on show: words and key."""
        lines = [line.name for line in self.session.state.analysis.lines if line.name != self.session.line]
        found = [(tr("nothing"), NOTHING)]
        found += [(line_word(name), f"{LINE}{name}") for name in lines]
        if self.table is not None:
            found.append((self.table.name, TABLE))
        return found + [(tr("the law {name}").format(name=law_word(law)), f"{LAW}{law}") for law in LAWS]

    def choose(self, choice: str) -> None:
        """Put another lobe beside."""
        if choice != self.choice:
            self.choice = choice
            self.changed.emit()

    def take(self, table: Table) -> None:
        """Put a lift table beside that was read."""
        self.table, self.choice = table, TABLE
        self.changed.emit()

    def look_at(self, side: str) -> None:
        """Look at the valve or at the lobe."""
        if side != self.side:
            self.side = side
            self.changed.emit()

    def _forget(self) -> None:
        """Another job: what stood beside was beside the one before; a table that was read stays at hand."""
        if self.choice != NOTHING:
            self.choice = NOTHING
            self.changed.emit()

    def beside(self, line: LineAnalysis) -> Beside | None:
        """The other lobe on a line's valve gear; None where nothing is compared, or the line has no lobe."""
        names = {key: word for word, key in self.choices()}
        if self.choice not in names or self.choice == NOTHING or line.motion.shown is None:
            return None
        own = line_word(line.name)
        return Beside(name=names[self.choice], own=own, side=self.side, lobe=self._lobe(line))

    def _lobe(self, line: LineAnalysis) -> OtherLobe:
        """Made anew only where what it rests on is another."""
        kind, _, name = self.choice.partition(" ")
        ratio, gear = line.value("ratio"), line.stated.stated.job
        own = getattr(gear.lines, line.name, None)
        curves = tuple(Same(each.valve_gear.ratio_curve) for each in (gear, own) if each is not None)
        if kind == LINE.strip():
            return lobe_of_motion(self.session.state.analysis.line(name).motion)
        key = (self.choice, self.table, ratio, Same(line.motion.lobe), *curves)
        if key != self._made_for:
            self._made = self._make(line, ratio, name)
            self._made_for = key
        return self._made

    def _make(self, line: LineAnalysis, ratio: float | None, law: str) -> OtherLobe:
        if self.choice != TABLE:
            lobe = line.motion.lobe
            return OtherLobe() if lobe is None else lobe_of_law(line.stated, ratio, lobe, law)
        table = self.table
        if table is None:
            return OtherLobe()
        return lobe_of_table(line.stated, ratio, table.rows, table.angle, table.side)


def line_word(name: str) -> str:
    """What a line's lobe is called."""
    return {"intake": tr("intake"), "exhaust": tr("exhaust")}.get(name, tr("this lobe"))


def law_word(law: str) -> str:
    """What a law of motion is called."""
    words = {
        "constant-acceleration": tr("of constant acceleration"),
        "harmonic": tr("harmonic"),
        "double-harmonic": tr("double harmonic"),
        "cycloidal": tr("cycloidal"),
        "3-4-5": tr("3-4-5"),
        "4-5-6-7": tr("4-5-6-7"),
        "modified-sine": tr("modified sine"),
        "modified-trapezoid": tr("modified trapezoid"),
    }
    return words.get(law, law)
