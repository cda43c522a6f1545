"""The parts of the Fit-up page: what is stated, the picture, the grid of valves, the answer."""
