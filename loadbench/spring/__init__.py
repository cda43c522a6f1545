"""COMPUTED: the coil spring itself, as plain functions on SI floats and arrays."""
