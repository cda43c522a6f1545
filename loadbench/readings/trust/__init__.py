"""Whether a set of readings can be trusted: repeats, outliers, the tester's zero and scale, heights typed wrong."""
