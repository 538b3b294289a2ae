#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""P2: the same eigen-solve by a general library, Krylov-Schur with MUMPS.

  calmplate_bench_stages --nodes 20000 --modes 150 --job-nodes 0 --export FOLDER --json FOLDER/stages.json
  krylov_schur.py FOLDER

Reads FOLDER/stiffness.mtx and FOLDER/mass.mtx, solves for as many modes as stages.json says, one
thread, and prints CPU seconds, worst residual and the ratio of the program's time to this one.
Needs Debian's python3-slepc4py-real and python3-scipy; no test runs it.
"""
import json
import os
import pathlib
import sys
import time

os.environ.setdefault("OMP_NUM_THREADS", "1")
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import numpy as np
import petsc4py

petsc4py.init([])
from petsc4py import PETSc
from scipy.io import mmread
import slepc4py

slepc4py.init([])
from slepc4py import SLEPc


def matrix(path):
    a = mmread(path).tocsr()
    a.sort_indices()
    return a, PETSc.Mat().createAIJ(a.shape, csr=(a.indptr, a.indices, a.data))


def main():
    folder = pathlib.Path(sys.argv[1])
    own = json.loads((folder / "stages.json").read_text())["stages"][-1]
    k_csr, k = matrix(folder / "stiffness.mtx")
    m_csr, m = matrix(folder / "mass.mtx")
    start = time.process_time()
    eps = SLEPc.EPS().create()
    eps.setOperators(k, m)
    eps.setProblemType(SLEPc.EPS.ProblemType.GHEP)
    eps.setType(SLEPc.EPS.Type.KRYLOVSCHUR)
    eps.setDimensions(own["modes"])
    eps.setTolerances(1e-9)
    eps.setTarget(0.0)
    eps.setWhichEigenpairs(SLEPc.EPS.Which.TARGET_MAGNITUDE)
    st = eps.getST()
    st.setType(SLEPc.ST.Type.SINVERT)
    ksp = st.getKSP()
    ksp.setType(PETSc.KSP.Type.PREONLY)
    ksp.getPC().setType(PETSc.PC.Type.CHOLESKY)
    ksp.getPC().setFactorSolverType("mumps")
    eps.solve()
    seconds = time.process_time() - start
    x, _ = k.createVecs()
    worst = 0.0
    for i in range(own["modes"]):
        value = eps.getEigenpair(i, x).real
        kx, mx = k_csr @ x.array, m_csr @ x.array
        worst = max(worst, np.linalg.norm(kx - value * mx) / np.linalg.norm(kx))
    print(f"Krylov-Schur with MUMPS: {seconds:.2f} CPU s, {eps.getConverged()} modes, "
          f"worst residual {worst:.1e}")
    print(f"P2 eigen-solve / this  {own['eigen_s'] / seconds:.2f}   must 1.0, aim 0.5")


if __name__ == "__main__":
    main()
