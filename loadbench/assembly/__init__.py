"""FOUND: the job's numbered springs on its valves, on shims from stock, within the limits of the rule book."""
