"""Help without a network: one page of text for each topic, cautions among them."""

from ui.help.dialog import HelpDialog

__all__ = ["HelpDialog"]
