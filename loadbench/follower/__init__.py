"""COMPUTED: what the follower carries and how it is set, as plain functions on SI floats and arrays."""
