"""Lift tables from files and the clipboard, shown before they go into the job."""
