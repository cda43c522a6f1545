"""Photos: made small enough, kept with the job, shown, never read."""

from __future__ import annotations

import base64
import random
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QFileDialog

from loadbench.errors import Cancelled, UnreadableFileError
from ui.photos.dialog import PhotosDialog
from ui.photos.preparing import LONGEST_SIDE, MOST_BYTES, image_of, prepared
from ui.session import Session
from ui.settings import Settings
from ui.window import MainWindow

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


def noise(width: int, height: int) -> QImage:
    """A picture that no packing makes small."""
    data = random.Random(3).randbytes(width * height * 4)  # noqa: S311 - no secret
    return QImage(data, width, height, QImage.Format.Format_RGB32).copy()


def saved(folder: Path, name: str, image: QImage) -> Path:
    file = folder / name
    assert image.save(str(file))
    return file


def plain(width: int = 300, height: int = 200) -> QImage:
    image = QImage(width, height, QImage.Format.Format_ARGB32)
    image.fill(Qt.GlobalColor.darkCyan)
    return image


def nothing(_share: float) -> None:
    """Progress that nobody follows."""


@pytest.fixture
def dialog(qtbot: QtBot, session: Session) -> Iterator[PhotosDialog]:
    made = PhotosDialog(session, Settings())
    made.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, on=False)
    made.show()
    qtbot.waitExposed(made)
    yield made
    made.close()
    made.deleteLater()


@pytest.mark.parametrize(("name", "media"), [("a.png", "image/png"), ("a.jpg", "image/jpeg")])
def test_a_small_picture_stays_as_it_is(tmp_path: Path, name: str, media: str) -> None:
    photo = prepared(saved(tmp_path, name, plain()), nothing)
    assert (photo.name, photo.media) == (name, media)
    assert (image_of(photo).width(), image_of(photo).height()) == (300, 200)


@pytest.mark.parametrize("name", ["big.png", "big.jpg"])
def test_a_large_picture_is_made_to_fit(tmp_path: Path, name: str) -> None:
    photo = prepared(saved(tmp_path, name, noise(2400, 1800)), nothing)
    image = image_of(photo)
    assert max(image.width(), image.height()) <= LONGEST_SIDE
    assert image.width() / image.height() == pytest.approx(4 / 3, rel=0.01)
    assert len(base64.b64decode(photo.data or "")) <= MOST_BYTES
    assert photo.media == "image/jpeg"


@pytest.mark.parametrize(
    ("content", "said"),
    [(b"", "no JPEG or PNG"), (b"Spring,Load\n", "no JPEG or PNG"), (b"\x89PNG\r\n\x1a\n", "damaged|no JPEG or PNG")],
)
def test_what_is_no_picture_is_refused_in_words(tmp_path: Path, content: bytes, said: str) -> None:
    (tmp_path / "a.png").write_bytes(content)
    with pytest.raises(UnreadableFileError, match=said):
        prepared(tmp_path / "a.png", nothing)
    with pytest.raises(UnreadableFileError, match="cannot be read"):
        prepared(tmp_path / "gone.png", nothing)


def test_cancel_stops_it(tmp_path: Path) -> None:
    def stop(_share: float) -> None:
        raise Cancelled

    with pytest.raises(Cancelled):
        prepared(saved(tmp_path, "a.png", plain()), stop)


def test_a_photo_is_attached_noted_and_removed_each_as_one_step(
    dialog: PhotosDialog, qtbot: QtBot, tmp_path: Path
) -> None:
    assert "it is not read" in dialog.told.text()
    with qtbot.waitSignal(dialog.session.changed, timeout=10_000):
        dialog.read_path(saved(tmp_path, "slip.jpg", plain()))
    stack = dialog.session.undo_stack
    assert stack.undoText() == "attach photo slip.jpg"
    assert dialog.list.count() == 1
    assert dialog.told.text().startswith("300 by 200 pixels")
    QTest.keyClicks(dialog.note, "left bank")
    QTest.keyClick(dialog.note, Qt.Key.Key_Return)
    assert dialog.session.job.photos[0].note == "left bank"
    assert dialog.isVisible()
    dialog.remove_button.click()
    assert dialog.session.job.photos == ()
    assert stack.count() == 3
    stack.undo()
    assert dialog.session.job.photos[0].note == "left bank"
    assert dialog.list.item(0).text() == "slip.jpg\nleft bank"


def test_a_wrong_file_is_told_and_nothing_changes(dialog: PhotosDialog, qtbot: QtBot, tmp_path: Path) -> None:
    (tmp_path / "a.png").write_bytes(b"no picture")
    with qtbot.waitSignal(dialog.desk.failed, timeout=10_000):
        dialog.read_path(tmp_path / "a.png")
    assert dialog.message.text.text().startswith("Wrong: a.png: This is no JPEG or PNG picture.")
    assert dialog.session.undo_stack.count() == 0


def test_the_command_asks_for_a_file(
    window: MainWindow, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = saved(tmp_path, "slip.png", plain())
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(file), ""))
    action = window.findChild(QAction, "attach_photo")
    assert action is not None
    with qtbot.waitSignal(window.session.changed, timeout=10_000):
        action.trigger()
    assert [photo.name for photo in window.session.job.photos] == ["slip.png"]
    window.session.undo_stack.undo()
    assert window.session.job.photos == ()
