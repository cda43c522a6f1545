"""Lobe, moving masses, force balance and dynamics of one line."""
