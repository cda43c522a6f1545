"""The parts of the Setting page: the worksheet of the valves, the gauge, the three ways, the check list."""
