"""The session: the one source of truth of the window, with undo, preview, units on show and pointing."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import QElapsedTimer, QObject, QTimer, Signal

from loadbench.analysis.motion.result import Dynamics
from loadbench.errors import InputError
from loadbench.findings.shop import Shop
from loadbench.job.edits import replaced_all
from loadbench.job.model import Job
from loadbench.job.stated import OWN_TO_LINES
from loadbench.units import Style
from ui.entries import stored
from ui.history import History, Step
from ui.labels import label_of
from ui.state import Pointing, State, state_of

PREVIEW_MS = 16


class Session(QObject):
    """Owns the job; every edit goes through here, and everybody hears of it."""

    changed = Signal(object)  # State, after every edit, preview, undo
    styled = Signal(object)  # Style on show
    renamed = Signal()  # path or title changed
    pointed = Signal(object)  # Pointing
    announced = Signal(str)  # one sentence for the status line and screen readers
    failed = Signal(str)  # something could not be done, and why: stays above the page until it is closed
    line_chosen = Signal(str)
    loaded = Signal()  # another job took the place of this one; `changed` follows

    def __init__(self, job: Job, *, style: Style = Style.INCH_POUND, shop: Shop | None = None) -> None:
        super().__init__()
        self.undo_stack = History(self._install, self)
        self.style = style
        self.shop = shop
        self.path: Path | None = None
        self.pointing = Pointing()
        self.runs: dict[str, tuple[object, Dynamics]] = {}
        self.state: State = state_of(job, shop)
        self.line = self._line_told = self.state.analysis.stated.lines[0]
        self._job = job  # as committed; state.job is this one or a preview of it
        self._ready: State | None = None  # what the step about to be pushed will show
        self._gestures = 0
        self._previewed: dict[str, Any] | None = None
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._shown = QElapsedTimer()  # since the last preview; the next comes an interval later
        self._timer.timeout.connect(self._show_preview)

    # The job on the table

    @property
    def job(self) -> Job:
        """The job as committed, without what is being typed."""
        return self._job

    @property
    def previewing(self) -> bool:
        """Whether the state shows something that isn't committed."""
        return self._previewed is not None

    def reload(self, job: Job, path: Path | None, *, unsaved: bool = False) -> None:
        """Put another job on the table; its history starts anew.

        Args:
            job: the job.
            path: its file; None for an untitled one.
            unsaved: whether the file lacks what is on the table, as after a crash.
        """
        self._stop_preview()
        state = state_of(job, self.shop, self.runs)
        self.undo_stack.clear()
        if unsaved:
            self.undo_stack.resetClean()
        self.path = path
        self._put(job, state)
        self.loaded.emit()
        self._tell_state()
        self.renamed.emit()

    def set_path(self, path: Path | None) -> None:
        """Say where the job lives now."""
        self.path = path
        self.renamed.emit()

    def install_shop(self, shop: Shop | None) -> None:
        """Judge by other shop limits from now on; the job stays as it is."""
        self.shop = shop
        self.state = state_of(self.state.job, shop, self.runs)
        self.changed.emit(self.state)

    # Edits

    def gesture(self) -> int:
        """A fresh number for one focus or one drag: edits that share it are one undo step."""
        self._gestures += 1
        return self._gestures

    def set_field(self, field: str, value: object, gesture: int | None = None) -> None:
        """Set one field, as one undo step.

        Args:
            field: dotted path.
            value: text as typed (a bare quantity gets the unit on show), a number, a truth value, None or a part.
            gesture: from `gesture()`; None for a step of its own.

        Raises:
            InputError: the field cannot hold this.
        """
        self.set_fields(self.tr("set {field}").format(field=_in_a_sentence(label_of(field))), {field: value}, gesture)

    def set_fields(self, text: str, changes: dict[str, object], gesture: int | None = None) -> None:
        """Set several fields as one undo step named `text`; otherwise as `set_field`."""
        kept = {field: stored(field, value, self.style) for field, value in changes.items()}
        self.edit(text, lambda job: replaced_all(job, kept), gesture)

    def edit(self, text: str, change: Callable[[Job], Job], gesture: int | None = None) -> None:
        """Change the job, as one undo step.

        Args:
            text: what the step does, for "Undo ...".
            change: job before -> job after.
            gesture: from `gesture()`; None for a step of its own.

        Raises:
            InputError: whatever `change` finds wrong; the job is then as it was.
        """
        before, after = self._job, change(self._job)
        if after == before:
            self.drop_preview()  # no change, no step
            return
        if after == self.state.job:  # previewed already
            after, self._ready = self.state.job, self.state
        else:
            self._ready = state_of(after, self.shop, self.runs)  # what cannot be analysed must not become a step
        self._stop_preview()
        number = self.gesture() if gesture is None else gesture
        self.undo_stack.push(Step(text, number, before, after))

    def _install(self, job: Job) -> None:
        state, self._ready = self._ready, None
        if state is None or state.job is not job:
            state = state_of(job, self.shop, self.runs)
        self._stop_preview()
        self._take(job, state)

    def _take(self, job: Job, state: State) -> None:
        retitled = job.title != self._job.title
        self._put(job, state)
        self._tell_state()
        if retitled:
            self.renamed.emit()

    def _put(self, job: Job, state: State) -> None:
        self._job, self.state = job, state
        lines = state.analysis.stated.lines
        self._line_told = self.line
        self.line = self.line if self.line in lines else lines[0]

    def _tell_state(self) -> None:
        self.changed.emit(self.state)
        if self.line != self._line_told:
            self.line_chosen.emit(self.line)

    # Previews

    def preview(self, field: str, value: object) -> None:
        """Show what one field would do, without an undo step; figures follow within 16 ms."""
        self.preview_fields({field: value})

    def preview_fields(self, changes: dict[str, object]) -> None:
        """Show what several fields would do; replaces the preview before. What a field cannot hold is passed over."""
        kept = {}
        for field, value in changes.items():
            try:
                kept[field] = stored(field, value, self.style)
            except InputError:
                continue
        self._previewed = kept
        if not self._timer.isActive():
            gone = self._shown.elapsed() if self._shown.isValid() else PREVIEW_MS
            self._timer.start(max(PREVIEW_MS - gone, 0))

    def drop_preview(self) -> None:
        """Back to what is committed."""
        shown = self.state.job is not self._job
        self._stop_preview()
        if shown:
            self.state = state_of(self._job, self.shop, self.runs)
            self.changed.emit(self.state)

    def _stop_preview(self) -> None:
        self._timer.stop()
        self._previewed = None

    def take_run(self, line: str, key: object, dynamics: Dynamics) -> None:
        """A dynamic run was made: judge by it, as long as what it rests on stands.

        Args:
            line: its name.
            key: what it rests on, by `run_key`.
            dynamics: what it found.
        """
        self.runs[line] = (key, dynamics)
        self.state = state_of(self.state.job, self.shop, self.runs)
        self.changed.emit(self.state)

    def _show_preview(self) -> None:
        if self._previewed is None:
            return
        try:
            job = replaced_all(self._job, self._previewed)
        except InputError:
            return
        self._shown.start()
        if job != self.state.job:
            self.state = state_of(job, self.shop, self.runs)
            self.changed.emit(self.state)

    # What is on show

    def set_style(self, style: Style) -> None:
        """Show another family of units; the job does not change."""
        if style is not self.style:
            self.style = style
            self.styled.emit(style)

    def choose_line(self, line: str) -> None:
        """Show another line: "common", or "intake" and "exhaust"."""
        if line != self.line and line in self.state.analysis.stated.lines:
            self.line = line
            self.line_chosen.emit(line)

    def own_field(self, field: str) -> str:
        """Where an edit of a common field goes for the line on show.

        Args:
            field: dotted path in the common part.

        Returns:
            "lines.exhaust.<field>" when the exhaust is on show, "lines.intake.<field>" when the intake is and has its
            own part; else the path itself.
        """
        if self.line == "common" or not field.startswith(OWN_TO_LINES):
            return field
        own = self.line == "exhaust" or getattr(self._job.lines, self.line) is not None
        return f"lines.{self.line}.{field}" if own else field

    def point_at(self, pointing: Pointing) -> None:
        """Light up fields, figures and a rule everywhere; an empty Pointing puts the light out."""
        if pointing != self.pointing:
            self.pointing = pointing
            self.pointed.emit(pointing)

    def announce(self, sentence: str) -> None:
        """Say one sentence on the status line and to screen readers."""
        self.announced.emit(sentence)


def _in_a_sentence(label: str) -> str:
    """A label as it stands within a sentence: its first letter small unless the word is all capitals."""
    head, _, _ = label.partition(" ")
    return label if len(head) > 1 and head.isupper() else label[:1].lower() + label[1:]
