"""The photos that a job keeps: a list, the one chosen, a note beside it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QImage, QKeyEvent, QKeySequence, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QDialog,
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QSizePolicy,
    QSplitter,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from ui.desk import Desk, Progress
from ui.photos.edits import with_note, with_photo, without_photo
from ui.photos.preparing import image_of, prepared
from ui.widgets.dialog_button import dialog_button
from ui.widgets.entry_edit import Judgement, Sign
from ui.widgets.message_row import MessageRow
from ui.widgets.wrapped_label import WrappedLabel
from ui.work_bar import WorkBar

if TYPE_CHECKING:
    from PySide6.QtGui import QDragEnterEvent, QDropEvent

    from loadbench.job.kept_parts import Photo
    from ui.session import Session
    from ui.settings import Settings


class Picture(QWidget):
    """One picture, as large as there is room, never larger than it is."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._image = QImage()
        self.setObjectName("photo")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(QSize(200, 160))

    def show_image(self, image: QImage, name: str) -> None:
        """Show a picture; a null one leaves the place empty."""
        self._image = image
        self.setAccessibleName(name)
        self.update()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        if self._image.isNull():
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        room = self.size()
        size = self._image.size()
        if size.width() > room.width() or size.height() > room.height():
            size.scale(room, Qt.AspectRatioMode.KeepAspectRatio)
        left, top = (room.width() - size.width()) // 2, (room.height() - size.height()) // 2
        painter.drawImage(
            self.rect().adjusted(left, top, left + size.width() - room.width(), top + size.height() - room.height()),
            self._image,
        )
        painter.end()


class PhotosDialog(QDialog):
    """Follows the job; each change is one undo step."""

    def __init__(self, session: Session, settings: Settings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("photos")
        self.setWindowTitle(self.tr("Photos"))
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setAcceptDrops(True)
        self.session, self._settings = session, settings
        self.desk = Desk(self)
        self.work = WorkBar(self.desk)
        self.list = QListWidget()
        self.list.setObjectName("photo_list")
        self.list.setAccessibleName(self.tr("Photos of this job"))
        self.picture = Picture()
        self.note = QLineEdit()
        self.note.setObjectName("photo_note")
        self.note.setMinimumHeight(26)
        self.message = MessageRow()
        self.attach_button = dialog_button("photo_attach", self.tr("Attach a photo…"))
        self.remove_button = dialog_button("photo_remove", self.tr("Remove"))
        self.close_button = dialog_button("photo_close", self.tr("Close"))
        self.told = WrappedLabel(role="quiet")
        self._shown: tuple[Photo, ...] | None = None
        self._lay_out()
        self._connect()
        self._show()

    def _lay_out(self) -> None:
        label = QLabel(self.tr("Note"))
        label.setBuddy(self.note)
        across = QHBoxLayout()
        across.addWidget(label)
        across.addWidget(self.note, 1)
        beside = QWidget()
        right = QVBoxLayout(beside)
        right.setContentsMargins(0, 0, 0, 0)
        right.addWidget(self.picture, 1)
        right.addLayout(across)
        splitter = QSplitter(Qt.Orientation.Horizontal)
        splitter.addWidget(self.list)
        splitter.addWidget(beside)
        splitter.setStretchFactor(1, 1)
        splitter.setChildrenCollapsible(False)
        splitter.setSizes([200, 600])
        self.list.setMinimumWidth(140)
        foot = QHBoxLayout()
        foot.addWidget(self.work)
        foot.addWidget(self.told, 1)
        for button in (self.attach_button, self.remove_button, self.close_button):
            foot.addWidget(button)
        whole = QVBoxLayout(self)
        whole.addWidget(splitter, 1)
        whole.addWidget(self.message)
        whole.addLayout(foot)
        self.resize(QSize(860, 600).boundedTo(self.screen().availableSize() - QSize(40, 60)))

    def _connect(self) -> None:
        self.desk.done.connect(self._take)
        self.desk.failed.connect(self._refuse)
        self.attach_button.clicked.connect(self.choose_file)
        self.remove_button.clicked.connect(self.remove)
        self.close_button.clicked.connect(self.close)
        self.list.currentRowChanged.connect(self._show_one)
        self.note.editingFinished.connect(self._write_note)
        self.session.changed.connect(self._show)

    # Showing

    def _show(self, _state: object = None) -> None:
        photos = self.session.job.photos
        if photos == self._shown:
            return
        more = self._shown is not None and len(photos) > len(self._shown)
        row = len(photos) - 1 if more else max(0, min(self.list.currentRow(), len(photos) - 1))
        self._shown = photos
        self.list.blockSignals(True)
        self.list.clear()
        for number, photo in enumerate(photos, start=1):
            name = photo.name or self.tr("Photo {number}").format(number=number)
            self.list.addItem(QListWidgetItem(f"{name}\n{photo.note}" if photo.note else name))
        self.list.setCurrentRow(row if photos else -1)
        self.list.blockSignals(False)
        self._show_one()

    @property
    def current(self) -> int | None:
        """The place of the photo on show."""
        row = self.list.currentRow()
        return row if 0 <= row < len(self.session.job.photos) else None

    def _show_one(self, _row: int = -1) -> None:
        place = self.current
        photo = None if place is None else self.session.job.photos[place]
        image = QImage() if photo is None else image_of(photo)
        self.picture.show_image(
            image, self.tr("Photo {name}").format(name=photo.name or "") if photo else self.tr("No photo")
        )
        self.note.setText((photo.note or "") if photo else "")
        self.note.setEnabled(photo is not None)
        self.note.setAccessibleName(self.tr("Note on this photo"))
        self.remove_button.setEnabled(photo is not None)
        self.told.tell(self._words(photo, image))

    def _words(self, photo: Photo | None, image: QImage) -> str:
        kept = self.tr("A photo is kept for the record; it is not read.")
        if photo is None:
            return self.tr("No photo yet. {kept}").format(kept=kept)
        if image.isNull():
            return self.tr("What the job holds here is no picture. {kept}").format(kept=kept)
        size = self.tr("{width} by {height} pixels, {kilobytes} kB.")
        told = size.format(width=image.width(), height=image.height(), kilobytes=round(len(photo.data or "") * 0.75e-3))
        return f"{told} {kept}"

    # Changing

    def choose_file(self) -> None:
        """Ask for a picture and keep it."""
        kinds = self.tr("Pictures (*.jpg *.jpeg *.png)")
        chosen, _ = QFileDialog.getOpenFileName(self, self.tr("Attach a photo"), self._settings.folder, kinds)
        if chosen:
            self.read_path(Path(chosen))

    def read_path(self, path: Path) -> None:
        """Keep a picture."""
        self._settings.put("folder", str(path.absolute().parent))
        self.message.tell(Judgement())
        self.work.begin(self.tr("Reading {name}").format(name=path.name))

        def work(progress: Progress) -> Photo:
            return prepared(path, progress)

        self.desk.start(work)

    def _take(self, photo: Photo) -> None:
        step = self.tr("attach photo {name}").format(name=photo.name)
        self.session.edit(step, lambda job: with_photo(job, photo))
        self.session.announce(self.tr("{name} is attached.").format(name=photo.name))

    def _refuse(self, error: Exception) -> None:
        problems = getattr(error, "problems", None)
        if problems is None:
            raise error
        self.message.tell(Judgement(sign=Sign.WRONG, what=str(error)))
        self.session.announce(str(error))

    def remove(self) -> None:
        """Take the photo on show out; undo brings it back."""
        place = self.current
        if place is not None:
            name = self.session.job.photos[place].name or ""
            self.session.edit(self.tr("remove photo {name}").format(name=name), lambda job: without_photo(job, place))
            (self.list if self.current is not None else self.attach_button).setFocus(Qt.FocusReason.OtherFocusReason)

    def _write_note(self) -> None:
        place = self.current
        if place is not None and self.note.text().strip() != (self.session.job.photos[place].note or ""):
            text = self.note.text()
            self.session.edit(self.tr("note on a photo"), lambda job: with_note(job, place, text))

    # Events

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Cancel) and self.desk.busy:
            self.work.cancel()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            event.accept()  # it has written the note
        else:
            super().keyPressEvent(event)

    @override
    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if event.mimeData().hasUrls():
            event.acceptProposedAction()

    @override
    def dropEvent(self, event: QDropEvent) -> None:
        event.acceptProposedAction()
        urls = event.mimeData().urls()
        if urls and urls[0].isLocalFile():
            self.read_path(Path(urls[0].toLocalFile()))

    @override
    def done(self, result: int) -> None:
        self._write_note()
        self.desk.shutdown()  # every way out comes by here
        super().done(result)
