"""Weighted least squares for polynomials, with the covariance of what is found.

Solved by an orthogonal decomposition on a scaled and shifted abscissa, so that certified data sets come out to the
digits of the arithmetic.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from loadbench.arrays import Floats
from loadbench.errors import InputError


@dataclass(frozen=True, slots=True, kw_only=True)
class Polynomial:
    """A fitted polynomial, lowest power first; `covariance` is for unit weight (multiply by a variance)."""

    coefficients: Floats
    covariance: Floats
    residuals: Floats
    weights: Floats

    @property
    def freedom(self) -> int:
        """Readings less coefficients."""
        return len(self.residuals) - len(self.coefficients)

    @property
    def sum_of_squares(self) -> float:
        """Weighted sum of squared residuals."""
        return float(np.sum(self.weights * self.residuals**2))

    @property
    def residual_deviation(self) -> float | None:
        """Standard deviation of the residuals; None without a degree of freedom."""
        return math.sqrt(self.sum_of_squares / self.freedom) if self.freedom > 0 else None

    @property
    def standard_errors(self) -> Floats | None:
        """Standard error of each coefficient from the residuals; None without a degree of freedom."""
        spread = self.residual_deviation
        return None if spread is None else spread * np.sqrt(np.diag(self.covariance))

    def at(self, x: Floats | float) -> Floats:
        """The polynomial's value at x, of x's shape."""
        return np.asarray(np.polynomial.polynomial.polyval(x, self.coefficients), dtype=np.float64)


def fit_polynomial(x: Floats, y: Floats, degree: int, weights: Floats | None = None) -> Polynomial:
    """Fit a polynomial by weighted least squares.

    Args:
        x: abscissae, shape (n,), any unit.
        y: ordinates, shape (n,), any unit.
        degree: of the polynomial; n must be above it, and so must the count of different abscissae.
        weights: 1/variance of each ordinate or any multiple; equal when None.

    Returns:
        The polynomial in x's own unit, with its covariance for unit weight.

    Raises:
        InputError: too few different abscissae.

    Source:
        shown against nist-norris and nist-pontius; weighted least squares as in gum H.3.
    """
    x, y = np.asarray(x, dtype=np.float64), np.asarray(y, dtype=np.float64)
    if (different := len(set(x.tolist()))) <= degree:
        raise InputError(f"{different} different abscissae", expected=f"at least {degree + 1}")
    w = np.ones_like(x) if weights is None else np.asarray(weights, dtype=np.float64)
    middle = float(np.sum(w * x) / np.sum(w))
    scale = float(np.max(np.abs(x - middle)))
    powers = np.vander((x - middle) / scale, degree + 1, increasing=True)
    root = np.sqrt(w)
    q, r = np.linalg.qr(powers * root[:, None])
    scaled = np.linalg.solve(r, q.T @ (root * y))
    inverse = np.linalg.inv(r)
    back = _unscaling(degree, middle, scale)
    return Polynomial(
        coefficients=back @ scaled,
        covariance=back @ (inverse @ inverse.T) @ back.T,
        residuals=y - powers @ scaled,
        weights=w,
    )


def _unscaling(degree: int, middle: float, scale: float) -> Floats:
    """The matrix that turns coefficients in (x - middle)/scale into coefficients in x."""
    matrix = np.zeros((degree + 1, degree + 1))
    for power in range(degree + 1):
        for lower in range(power + 1):
            matrix[lower, power] = math.comb(power, lower) * (-middle) ** (power - lower) / scale**power
    return matrix


def student_factor(freedom: int, confidence: float = 0.9545) -> float:
    """Coverage factor for a standard error with few degrees of freedom.

    Args:
        freedom: degrees of freedom, 1 or more.
        confidence: two-sided; 95.45 % belongs to k = 2.

    Returns:
        Student's t.

    Source:
        gum, annex G.
    """
    from scipy.special import stdtrit

    return float(stdtrit(freedom, 0.5 + confidence / 2))
