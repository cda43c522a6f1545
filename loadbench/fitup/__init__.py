"""Fitting the parts together: what moves together at the height, and the questions asked the other way round."""
