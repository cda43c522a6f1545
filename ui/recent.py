"""The last ten jobs that were opened or saved."""

from __future__ import annotations

from pathlib import Path

from ui.settings import Settings

MOST = 10
_KEY = "recent"


class Recent:
    """Kept in the settings, the newest first."""

    def __init__(self, settings: Settings) -> None:
        self._settings = settings

    def paths(self) -> list[Path]:
        """All of them, also those that are gone."""
        return [Path(text) for text in self._settings.texts(_KEY)][:MOST]

    def add(self, path: Path) -> None:
        """Put a job first."""
        path = path.absolute()
        kept = [str(path), *(str(old) for old in self.paths() if old != path)]
        self._settings.put(_KEY, kept[:MOST])

    def clear(self) -> None:
        """Forget all."""
        self._settings.forget(_KEY)
