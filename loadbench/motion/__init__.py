"""COMPUTED: what the lobe and the valve gear do, as plain functions on SI floats and arrays."""
