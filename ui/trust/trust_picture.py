"""The picture of the page: its words to choose by, its key, the drawing, and the read-out beneath."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QGuiApplication, QImage, QPainter
from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget

from loadbench.job.checks import SAME_HEIGHT
from ui.plots.ink import Ink, screen_ink
from ui.theme import theme
from ui.trust.pictures import pictures
from ui.trust.scene import Dot, Scene
from ui.trust.steps import stepped
from ui.trust.trust_key import TrustKey
from ui.trust.trust_view import TrustView
from ui.trust.word_row import WordRow
from ui.widgets.wrapped_label import WrappedLabel

if TYPE_CHECKING:
    from loadbench.findings.set_check.result import SetCheck
    from ui.session import Session


class TrustPicture(QWidget):
    """Draws a check of the set; the mark that is read out belongs to the page's current cell."""

    chosen = Signal(str, str, object)  # spring, part, height in m or None

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.check: SetCheck | None = None
        self.scene = Scene()
        self.current: int | None = None
        self.lit: frozenset[str] = frozenset()
        self._kinds = {picture.name: picture for picture in pictures()}
        self.words = WordRow("trust_words", [(each.name, each.word, each.tip) for each in self._kinds.values()])
        self.key, self.view = TrustKey(), TrustView()
        self.empty = WrappedLabel(role="quiet")
        self.read_out = WrappedLabel(role="quiet")
        self._lay_out()
        self._connect()
        self.restyle(screen_ink())

    def _lay_out(self) -> None:
        self.empty.setObjectName("trust_empty")
        self.empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.empty.setContentsMargins(24, 8, 24, 8)
        self.read_out.setObjectName("trust_read_out")
        self.read_out.setMinimumHeight(self.fontMetrics().lineSpacing())
        drawn = QWidget()
        inside = QVBoxLayout(drawn)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.setSpacing(2)
        for widget, stretch in ((self.key, 0), (self.view, 1), (self.read_out, 0)):
            inside.addWidget(widget, stretch)
        self._stack = QStackedWidget()
        self._stack.addWidget(drawn)
        self._stack.addWidget(self.empty)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 2, 0, 0)
        rows.setSpacing(3)
        rows.addWidget(self.words)
        rows.addWidget(self._stack, 1)

    def _connect(self) -> None:
        self.words.chosen.connect(self._turn)
        self.view.hovered.connect(self._hover)
        self.view.clicked.connect(self._choose)
        self.view.stepped.connect(self._step)
        self.view.copied.connect(self.copy)
        theme().changed.connect(self._themed)

    def _themed(self) -> None:
        self.restyle(screen_ink())

    def restyle(self, ink: Ink) -> None:
        """Draw with another ink from now on."""
        self.view.restyle(ink)

    # Showing

    def show_check(self, check: SetCheck) -> None:
        """Draw another state of the set; the current spring stays the current one."""
        before = self._dot()
        self.check = check
        self.scene = self._kinds[self.words.key].build(check, self.session.style)
        self._stack.setCurrentIndex(1 if self.scene.empty else 0)
        self.empty.tell(self.scene.empty)
        self.view.show_scene(self.scene)
        self.key.show_signs(self.scene.signs)
        self._describe()
        self.current = None if before is None else self._place_of(before.spring, before.place)
        self._point_out()

    def show_picture(self, name: str) -> None:
        """Turn to a picture by name."""
        self.words.choose(name)

    def _turn(self, _name: str) -> None:
        self.view.zoomed = False
        if self.check is not None:
            self.show_check(self.check)

    def forget(self) -> None:
        """Another job is on the table."""
        self.view.zoomed = False
        self.current, self.lit = None, frozenset()

    def restyled(self) -> None:
        """The units are others, and so is every number."""
        self.view.zoomed = False

    def _describe(self) -> None:
        for widget in (self.view, self.view.viewport()):
            widget.setAccessibleName(self._kinds[self.words.key].word)
        self.view.setAccessibleDescription(self.scene.told or self.scene.empty)

    # The current mark and those that are lit

    def _dot(self) -> Dot | None:
        return None if self.current is None else self.scene.dots[self.current]

    def _place_of(self, spring: str, column: int | None) -> int | None:
        own = [place for place, dot in enumerate(self.scene.dots) if dot.spring == spring]
        return next((place for place in own if self.scene.dots[place].place == column), own[0] if own else None)

    def go_to(self, spring: str, part: str = "", height: float | None = None) -> None:
        """Make a spring's mark the current one: at a height where the picture has it, else in the column on show."""
        dot = self._dot()
        column = next(
            (
                at
                for at, place in enumerate(self.scene.places)
                if place.height is not None and height is not None
                if place.part == part and abs(place.height - height) <= SAME_HEIGHT
            ),
            None if dot is None else dot.place,
        )
        self.current = self._place_of(spring, column)
        self._point_out()

    def light(self, springs: frozenset[str]) -> None:
        """Light springs up by name; none puts the light out."""
        self.lit = springs
        self._point_out()

    def _point_out(self) -> None:
        dot = self._dot()
        self.view.item.point_out(dot, self.lit)
        self.view.across_axis.choose(dot.place if dot is not None and self.scene.bars else None)
        self._read(dot)

    def _read(self, dot: Dot | None) -> None:
        if dot is None:
            self.read_out.tell(self.tr("Arrow keys or the pointer read out a spring.") if self.scene.dots else "")
            return
        self.read_out.tell(self.scene.read(dot))

    def _hover(self, mark: int) -> None:
        self._read(self.scene.dots[mark] if 0 <= mark < len(self.scene.dots) else self._dot())

    def _choose(self, mark: int) -> None:
        self.current = mark
        dot = self.scene.dots[mark]
        self._point_out()
        if dot.spring:
            place = self.scene.places[dot.place] if self.scene.places else None
            self.chosen.emit(dot.spring, place.part if place else "", place.height if place else None)
            self.current = mark  # the cell may have gone to another mark of the spring
            self._point_out()

    def _step(self, way: str) -> None:
        found = stepped(self.scene, self.current, way)
        if found is not None:
            self._choose(found)

    # Taking it away

    def copy(self) -> None:
        """Copy the read-out as text."""
        QGuiApplication.clipboard().setText(self.read_out.text())
        self.session.announce(self.tr("Read-out copied."))

    def image(self) -> QImage:
        """The picture as it stands, with twice the pixels of the screen."""
        image = QImage(2 * self.view.size(), QImage.Format.Format_RGB32)
        image.fill(screen_ink().colours.colour("panel"))
        painter = QPainter(image)
        self.view.render(painter)
        painter.end()
        return image
