"""The parts that pages and panels are made of."""
