# SPDX-License-Identifier: GPL-3.0-or-later
"""Modes of (K + i L - w^2 M) x = 0 with real symmetric K (positive definite), L, M, by SciPy.

1. Undamped modes of K and M: Lanczos on K^-1 M.
2. A real basis: those modes and the static corrections K^-1 L phi; the dense complex eigenproblem
   in that basis.
3. For every wanted pair the residual r of the full sparse system; K^-1 Re r and K^-1 Im r join the
   basis and step 2 is repeated until every shape correction is below the tolerance. With the exact
   residual as its judge, what the basis was started from does not matter.
Two measures of a pair (w^2, x), neither with a unit:
- shape correction sqrt(c^H M c / x^H M x) with c = K^-1 r: how far the full system still wants to
  move the shape. The error of w^2 goes with its square. A skin of 0.8 mm under a foil of 0.1 mm
  has entries in K some 1e10 times the stiffness of a mode, so rounding keeps it near 1e-7.
- backward error |r| / ((|K| + |w^2| |M|) |x|), 2-norm of vectors and 1-norm of matrices.
Source: derived (Galerkin projection, Davidson-type correction).
"""
from dataclasses import dataclass

import numpy as np
import scipy.linalg
import scipy.sparse.linalg as sparse_linalg


@dataclass
class Modes:
    """Ascending in Re w^2. freq = sqrt(Re w^2) / 2 pi, loss = Im w^2 / Re w^2."""

    freq_hz: np.ndarray  # [n_mode]
    loss_factor: np.ndarray  # [n_mode]
    undamped_freq_hz: np.ndarray  # [n_mode] modes of K alone
    shape_correction: np.ndarray  # [n_mode], see above
    backward_error: np.ndarray  # [n_mode], see above
    basis_size: int


def dissection_order(lattice, element_lines, leaf=400):
    """Permutation [n] of unknowns by nested dissection of the node lattice [n x 2]."""
    order = []

    def split(members):
        spans = []
        for axis in range(2):
            values = lattice[members, axis]
            inner = element_lines[axis]
            inner = inner[(inner > values.min()) & (inner < values.max())]
            spans.append((inner.size, axis, inner, values))
        count, axis, inner, values = max(spans, key=lambda s: s[0])
        if count == 0 or members.size <= leaf:
            order.append(members)
            return
        cut = inner[np.argmin(np.abs(inner - np.median(values)))]
        split(members[values < cut])
        split(members[values > cut])
        order.append(members[values == cut])

    split(np.arange(lattice.shape[0]))
    return np.concatenate(order)


class Factor:
    """Solves K y = b by a sparse factorisation in nested-dissection order."""

    def __init__(self, stiffness, lattice, element_lines):
        self.order = dissection_order(lattice, element_lines)
        permuted = stiffness[self.order][:, self.order].tocsc()
        self.lu = sparse_linalg.splu(
            permuted,
            permc_spec="NATURAL",
            diag_pivot_thresh=0.0,
            options={"SymmetricMode": True, "Equil": False},
        )

    def solve(self, right):
        """right: [n] or [n x k], real."""
        out = np.empty_like(right)
        out[self.order] = self.lu.solve(np.ascontiguousarray(right[self.order]))
        return out


def orthonormal(basis, extra, mass):
    """extra [n x k] made M-orthonormal to basis and in itself; dependent directions dropped."""
    for _ in range(2):
        extra = extra - basis @ (basis.T @ (mass @ extra))
        extra = extra / np.sqrt(np.einsum("ij,ij->j", extra, mass @ extra))
        value, vector = np.linalg.eigh(extra.T @ (mass @ extra))
        keep = value > 1e-10 * value[-1]
        extra = extra @ (vector[:, keep] / np.sqrt(value[keep]))
    return extra


def projected_modes(m, basis, n_mode):
    """(w^2 [n_mode], shapes [n x n_mode]) of the pairs lowest in Re w^2 within basis [n x k].

    Solved for 1/w^2 in coordinates in which the projected K is one: a basis vector of high energy
    then costs no digits in the low modes.
    """
    small = basis.T @ (m.stiffness @ basis)
    lower = np.linalg.cholesky(0.5 * (small + small.T))
    to_one = scipy.linalg.solve_triangular(lower, np.eye(basis.shape[1]), lower=True)
    mass = to_one @ (basis.T @ (m.mass @ basis)) @ to_one.T
    loss = to_one @ (basis.T @ (m.loss @ basis)) @ to_one.T
    inverse_square, vector = scipy.linalg.eig(mass, np.eye(mass.shape[0]) + 1j * loss)
    omega2 = 1.0 / inverse_square
    order = np.argsort(omega2.real)[:n_mode]
    return omega2[order], basis @ (to_one.T @ vector[:, order])


def undamped_modes(m, factor, count):
    """(w^2 [count], shapes [n x count]) of K and M, ascending."""
    n = m.mass.shape[0]
    inverse = sparse_linalg.LinearOperator((n, n), matvec=factor.solve, dtype=float)
    start = np.ones(n)  # a fixed start: the same digits every time
    value, shape = sparse_linalg.eigsh(
        m.stiffness, k=count, M=m.mass, sigma=0.0, OPinv=inverse, v0=start, tol=1e-10
    )
    order = np.argsort(value)
    return value[order], shape[:, order]


def backward_error(m, rest, omega2, x):
    """[n_mode] backward errors of the pairs with residuals rest [n x n_mode]."""
    norms = [np.abs(a).sum(axis=0).max() for a in (m.stiffness, m.mass)]
    scale = (norms[0] + np.abs(omega2) * norms[1]) * np.linalg.norm(x, axis=0)
    return np.linalg.norm(rest, axis=0) / scale


def complex_modes(m, n_mode, n_start=40, tolerance=1e-6, max_round=40):
    """Modes of the Matrices m. RuntimeError when a shape correction stays above the tolerance."""
    factor = Factor(m.stiffness, m.lattice, m.element_lines)
    square, shape = undamped_modes(m, factor, n_start)
    basis = shape
    if m.loss.nnz:
        static = factor.solve(m.loss @ shape[:, : n_mode + 6])
        basis = np.hstack((basis, orthonormal(basis, static, m.mass)))
    for _ in range(max_round):
        omega2, x = projected_modes(m, basis, n_mode)
        stiff, lossy, mass = m.stiffness @ x, m.loss @ x, m.mass @ x
        rest = stiff + 1j * lossy - mass * omega2
        correction = factor.solve(rest.real) + 1j * factor.solve(rest.imag)
        late_by = np.sqrt(np.abs(
            np.einsum("ij,ij->j", correction.conj(), m.mass @ correction)
            / np.einsum("ij,ij->j", x.conj(), mass)))
        late = late_by > tolerance
        if not late.any():
            return Modes(
                np.sqrt(omega2.real) / (2 * np.pi),
                omega2.imag / omega2.real,
                np.sqrt(square[:n_mode]) / (2 * np.pi),
                late_by,
                backward_error(m, rest, omega2, x),
                basis.shape[1],
            )
        extra = np.hstack((correction[:, late].real, correction[:, late].imag))
        basis = np.hstack((basis, orthonormal(basis, extra, m.mass)))
    raise RuntimeError(f"shape corrections stay above {tolerance}: worst {late_by.max():.2e}")
