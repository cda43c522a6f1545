"""The window that reads a tester's printout: shown as understood, column by column, corrected and taken over."""
