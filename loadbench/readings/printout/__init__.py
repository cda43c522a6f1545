"""Reading a spring tester's printout: bytes, a grid of cells, what its columns mean, readings with their place."""
