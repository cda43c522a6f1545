"""The Motion page's own parts."""
