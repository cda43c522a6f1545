"""Every colour of the window, by role, light and dark; colours stand nowhere else."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtGui import QColor, QPalette


@dataclass(frozen=True, slots=True, kw_only=True)
class Colours:
    """One theme. Text roles have a contrast of 4.5 on page and panel, lines of 3 (WCAG 2.2)."""

    dark: bool
    page: str
    panel: str
    hover: str
    ink: str
    quiet: str
    lines: str
    hairline: str
    accent: str
    on_accent: str
    clear: str
    watch: str
    stop: str
    unknown: str
    series: tuple[str, ...]

    def colour(self, role: str, alpha: float = 1.0) -> QColor:
        """The colour of a role with an opacity, such as a tenth of "stop" for the bind zone."""
        colour = QColor(getattr(self, role))
        colour.setAlphaF(alpha)
        return colour


LIGHT = Colours(
    dark=False,
    page="#f4f2ee",
    panel="#fcfbf9",
    hover="#e7e4de",
    ink="#20262c",
    quiet="#5a636c",
    lines="#858b92",
    hairline="#d5d1ca",
    accent="#1f5f8b",
    on_accent="#fcfbf9",
    clear="#1d6f52",
    watch="#8a5a00",
    stop="#b02a1a",
    unknown="#5b6573",
    series=("#b53d08", "#2f7d4f", "#772d6d", "#797626", "#3d3d99"),
)

DARK = Colours(
    dark=True,
    page="#1b1e21",
    panel="#24282c",
    hover="#343a40",
    ink="#e6e3dd",
    quiet="#a8aeb4",
    lines="#737a81",
    hairline="#3b4147",
    accent="#7fb8e0",
    on_accent="#1b1e21",
    clear="#6cc9a1",
    watch="#e0b050",
    stop="#f28b78",
    unknown="#a9b2bd",
    series=("#e9a176", "#86cf9e", "#c287b4", "#d7cd65", "#9ba1ee"),
)

_shown = LIGHT


def colours() -> Colours:
    """The colours on show."""
    return _shown


def show(wanted: Colours) -> None:
    """Make these the colours on show; only the theme calls this."""
    global _shown  # noqa: PLW0603 - one window, one theme
    _shown = wanted


def qt_palette(of: Colours) -> QPalette:
    """The same as Qt's own palette, for everything that Qt draws."""
    palette = QPalette()
    roles = {
        QPalette.ColorRole.Window: of.page,
        QPalette.ColorRole.Base: of.panel,
        QPalette.ColorRole.AlternateBase: of.page,
        QPalette.ColorRole.ToolTipBase: of.panel,
        QPalette.ColorRole.Button: of.panel,
        QPalette.ColorRole.WindowText: of.ink,
        QPalette.ColorRole.Text: of.ink,
        QPalette.ColorRole.ButtonText: of.ink,
        QPalette.ColorRole.ToolTipText: of.ink,
        QPalette.ColorRole.BrightText: of.stop,
        QPalette.ColorRole.PlaceholderText: of.quiet,
        QPalette.ColorRole.Highlight: of.accent,
        QPalette.ColorRole.Accent: of.accent,
        QPalette.ColorRole.HighlightedText: of.on_accent,
        QPalette.ColorRole.Link: of.accent,
        QPalette.ColorRole.LinkVisited: of.accent,
        QPalette.ColorRole.Light: of.hairline,
        QPalette.ColorRole.Midlight: of.hairline,
        QPalette.ColorRole.Mid: of.lines,
        QPalette.ColorRole.Dark: of.lines,
        QPalette.ColorRole.Shadow: of.lines,
    }
    for role, colour in roles.items():
        palette.setColor(role, QColor(colour))
    # A disabled text still informs: quiet keeps 4.5 where Qt's own grey would not.
    for role in (QPalette.ColorRole.WindowText, QPalette.ColorRole.Text, QPalette.ColorRole.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, role, QColor(of.quiet))
    return palette


def contrast(one: str, other: str) -> float:
    """Contrast of two colours, 1 to 21.

    Source:
        WCAG 2.2, relative luminance and contrast ratio.
    """
    brighter, darker = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (brighter + 0.05) / (darker + 0.05)


def _luminance(colour: str) -> float:
    channels = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
