"""The window's settings: what is remembered between two runs and belongs to no job."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QByteArray, QSettings

from loadbench.units import Style
from ui.places import settings_folder
from ui.theme import Choice


class Settings:
    """Typed reading and writing of one small file; whatever it holds that makes no sense counts as unset."""

    def __init__(self, file: Path | None = None) -> None:
        self._kept = QSettings(str(file or settings_folder() / "window.ini"), QSettings.Format.IniFormat)

    def text(self, key: str, unset: str = "") -> str:
        """A text."""
        value = self._kept.value(key, unset)
        return value if isinstance(value, str) else unset

    def texts(self, key: str) -> list[str]:
        """A list of texts."""
        value = self._kept.value(key, [])
        items = [value] if isinstance(value, str) else value
        return [item for item in items if isinstance(item, str)] if isinstance(items, list) else []

    def state(self, key: str) -> QByteArray:
        """What a widget saved of itself; empty where it saved nothing."""
        value = self._kept.value(key)
        return value if isinstance(value, QByteArray) else QByteArray()

    def put(self, key: str, value: str | list[str] | QByteArray) -> None:
        """Remember a value."""
        self._kept.setValue(key, value)

    def forget(self, group: str) -> None:
        """Forget a key and everything below it."""
        self._kept.remove(group)

    def flush(self) -> None:
        """Write to disk now."""
        self._kept.sync()

    @property
    def style(self) -> Style:
        """The units on show."""
        text = self.text("units")
        return Style(text) if text in set(Style) else Style.INCH_POUND

    @property
    def theme(self) -> Choice:
        """System, light or dark."""
        text = self.text("theme")
        return Choice(text) if text in set(Choice) else Choice.SYSTEM

    @property
    def folder(self) -> str:
        """The folder used last; the user's home where it is gone."""
        text = self.text("folder")
        return text if text and Path(text).is_dir() else str(Path.home())
