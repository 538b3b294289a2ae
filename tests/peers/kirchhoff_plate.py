# SPDX-License-Identifier: GPL-3.0-or-later
"""Thin plate clamped all round, Kirchhoff's theory, by Ritz: a check of the solid model.

Source: derived. w is a sum of (1 - s^2)^2 P_i(s) (1 - t^2)^2 P_j(t), P Legendre polynomials, s and
t in [-1, 1]; 18 x 18 of them leave the first ten frequencies converged to 1e-6.
"""
import numpy as np
import scipy.linalg
from numpy.polynomial import legendre, polynomial


def clamped_plate_freq_hz(case, n_mode, terms=18):
    """[n_mode] Hz of the bare flat plate of a peer_cases.Case."""
    points, weights = legendre.leggauss(60)
    values = np.empty((terms, 3, points.size))  # term, derivative, point
    for i in range(terms):
        shape = polynomial.polymul([1, 0, -2, 0, 1], legendre.leg2poly([0] * i + [1]))
        for order in range(3):
            values[i, order] = polynomial.polyval(points, polynomial.polyder(shape, order))

    def integrals(one, two, length):
        plain = np.einsum("ig,jg,g->ij", values[:, one], values[:, two], weights)
        return plain * (0.5 * length) ** (1 - one - two)

    def both(x_orders, y_orders):
        return np.kron(
            integrals(*x_orders, case.length_m), integrals(*y_orders, case.width_m))

    skin = case.skin
    bending = skin.young_pa * skin.thickness_m**3 / (12 * (1 - skin.poisson**2))
    stiffness = bending * (
        both((2, 2), (0, 0)) + both((0, 0), (2, 2))
        + skin.poisson * (both((2, 0), (0, 2)) + both((0, 2), (2, 0)))
        + 2 * (1 - skin.poisson) * both((1, 1), (1, 1)))
    mass = skin.density_kg_m3 * skin.thickness_m * both((0, 0), (0, 0))
    scale = np.sqrt(np.diag(mass))
    omega2 = scipy.linalg.eigh(
        stiffness / np.outer(scale, scale), mass / np.outer(scale, scale), eigvals_only=True)
    return np.sqrt(omega2[:n_mode]) / (2 * np.pi)
