"""MEASURED: from tester readings to load lines with their uncertainty."""
