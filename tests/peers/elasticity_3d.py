#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""References in three-dimensional elasticity for the shell with damping sheets.

Source: [crosscheck] GetFEM 5.4 (hexahedra of high degree) and SciPy 1.10 (sparse factorisation,
eigenvalues), Debian packages python3-getfem and python3-scipy. No shell or sandwich theory enters:
every layer, the core and the foil too, is a solid, bonded to its neighbours, isotropic and linear.

Cases     peer_cases.py. Rim: displacement zero on the skin's rim faces, through its thickness.
          Sheets stay off the rim; all their edges are free. No gravity, no air.
Core      young* = 2 G (1 + i loss)(1 + poisson) at every frequency, poisson real.
Matrices  solid_model.py. The core is close to incompressible (0.49). Degree 4 along the panel
          does not lock. Across the core degree 5 is for the stress at its free edges: the loss
          factors of flat_centred fall by up to 0.6 % from degree 2 to 3 and 0.3 % from 3 to 5.
          A ratio of 0.45 instead of 0.49 moves them by at most 0.4 % (0.03 % in frequency).
Modes     complex_modes.py: exact complex pairs of the full sparse system.
          freq = sqrt(Re w^2) / 2 pi, loss factor = Im w^2 / Re w^2, ascending in freq.
Errors    each case is solved on two meshes (MESHES), the second one finer along the panel, at the
          edges and across the core. Reported: values of the finer; estimated error = their
          relative difference, that is, about the error of the coarser mesh. For curved_bare a
          third mesh (elements of 20 mm) moved the values by 0.20 to 0.27 of it.
Plates    flat_bare.json also holds the frequencies of the thin plate by Kirchhoff's theory (Ritz).

  elasticity_3d.py all | CASE ...          solve and write data/CASE.json (minutes each)
  elasticity_3d.py --small                 solve the small cases and write data/small.json
  elasticity_3d.py --check                 solve the small cases again and compare with
                                           data/small.json (1e-6 relative); compare the definition
                                           of every case in data/ with peer_cases.py, and its
                                           lowest values with the small mesh's
  elasticity_3d.py --core-poisson 0.45 CASE   print only: the coarse mesh, with another ratio
"""
import argparse
import dataclasses
import json
import pathlib
import sys

import getfem
import numpy as np
import scipy

from complex_modes import complex_modes
from kirchhoff_plate import clamped_plate_freq_hz
from peer_cases import CASES
from solid_model import Mesh, assemble

DATA = pathlib.Path(__file__).resolve().parent / "data"
MESHES = (Mesh(0.045, 0.001, 4, 3), Mesh(0.035, 0.0005, 4, 5))
SMALL_MESH = Mesh(0.045, 0.004, 3, 2)
SMALL_CASES = ("flat_centred", "curved_concave")
REMAKE_TOLERANCE = 1e-6
# The small mesh against the fine one, relative; its degree 3 is too low for shorter waves.
SMALL_NEAR = {"freq_hz": 0.015, "loss_factor": 0.012}
SMALL_NEAR_MODES = 5


def solve(case, mesh):
    """One case on one mesh, as plain numbers."""
    matrices = assemble(case, mesh)
    modes = complex_modes(matrices, case.n_mode)
    return {
        **dataclasses.asdict(mesh),
        "unknowns": matrices.mass.shape[0],
        "freq_hz": [float(f"{v:.10g}") for v in modes.freq_hz],
        "loss_factor": [float(f"{v:.10g}") for v in modes.loss_factor],
        "undamped_freq_hz": [float(f"{v:.10g}") for v in modes.undamped_freq_hz],
        "worst_shape_correction": float(f"{modes.shape_correction.max():.2g}"),
        "worst_backward_error": float(f"{modes.backward_error.max():.2g}"),
    }


def header(arguments):
    """How a file was made."""
    return {
        "made_by": "tests/peers/elasticity_3d.py " + arguments,
        "libraries": {
            "getfem": getfem.getfem_env("version"),
            "scipy": scipy.__version__,
            "numpy": np.__version__,
        },
        "units": "m, Pa, kg/m3, Hz; loss factors have no unit; method in the script's first lines",
    }


def relative(fine, coarse):
    """|coarse - fine| / |fine|, value by value; 0 where both are 0."""
    return [
        float(f"{abs(a - b) / abs(a):.2g}") if a else float(b != 0) for a, b in zip(fine, coarse)
    ]


def as_text(value, margin=""):
    """JSON with a list of numbers on one line."""
    inner = margin + "  "
    if isinstance(value, dict) and value:
        items = [f"{inner}{json.dumps(k)}: {as_text(v, inner)}" for k, v in value.items()]
        return "{\n" + ",\n".join(items) + "\n" + margin + "}"
    if isinstance(value, list) and value and isinstance(value[0], dict):
        return "[\n" + ",\n".join(inner + as_text(v, inner) for v in value) + "\n" + margin + "]"
    return json.dumps(value)


def write(name, content):
    """data/NAME.json."""
    (DATA / f"{name}.json").write_text(as_text(content) + "\n", encoding="utf-8")


def read(name):
    """data/NAME.json."""
    return json.loads((DATA / f"{name}.json").read_text(encoding="utf-8"))


def make_case(name):
    """Solve a case on both meshes and write its file."""
    case = CASES[name]
    coarse, fine = (solve(case, mesh) for mesh in MESHES)
    content = {**header(name), "case": case.as_dict()}
    for key in ("freq_hz", "loss_factor"):
        content[key] = fine[key]
        content[key + "_error_rel"] = relative(fine[key], coarse[key])
    content["undamped_freq_hz"] = fine["undamped_freq_hz"]
    if not case.piece_m and case.radius_m == 0.0:
        content["kirchhoff_freq_hz"] = [
            float(f"{v:.7g}") for v in clamped_plate_freq_hz(case, case.n_mode)
        ]
    content["meshes"] = [coarse, fine]
    write(name, content)
    worst = [max(content[key + "_error_rel"]) for key in ("freq_hz", "loss_factor")]
    print(f"{name}: {fine['unknowns']} unknowns, estimated error of frequency {worst[0]:.1e}, "
          f"of loss factor {worst[1]:.1e}", flush=True)


def make_small():
    """The small cases, as data/small.json holds them."""
    return {**header("--small"), "results": {n: solve(CASES[n], SMALL_MESH) for n in SMALL_CASES}}


def apart(what, expected, found, tolerance):
    """[] or one line that says by how much the lists differ, relative to the expected values."""
    if len(expected) != len(found):
        return [f"{what}: {len(found)} values, {len(expected)} expected"]
    off = max(relative(expected, found))
    return [] if off <= tolerance else [f"{what}: off by {off:.1e} relative, allowed {tolerance}"]


def check():
    """Faults found in data/, one line each."""
    faults = []
    again, kept = make_small()["results"], read("small")["results"]
    for name in SMALL_CASES:
        for key in ("freq_hz", "loss_factor", "undamped_freq_hz"):
            faults += apart(f"small.json {name} {key}", kept[name][key], again[name][key],
                            REMAKE_TOLERANCE)
        for key, near in SMALL_NEAR.items():
            faults += apart(f"{name}.json {key} against the small mesh",
                            read(name)[key][:SMALL_NEAR_MODES],
                            again[name][key][:SMALL_NEAR_MODES], near)
    for name, case in CASES.items():
        content = read(name)
        if content["case"] != case.as_dict():
            faults.append(f"{name}.json: made for another definition than that in peer_cases.py")
        meshes = [{k: m[k] for k in dataclasses.asdict(MESHES[0])} for m in content["meshes"]]
        if meshes != [dataclasses.asdict(mesh) for mesh in MESHES]:
            faults.append(f"{name}.json: made on other meshes than MESHES")
        for key in ("freq_hz", "loss_factor", "undamped_freq_hz"):
            if content[key] != content["meshes"][-1][key]:
                faults.append(f"{name}.json: {key} is not that of the finer mesh")
    return faults


def show_other_poisson(name, poisson):
    """Print a case on the coarse mesh with the cores' shear moduli kept and their ratio changed."""
    case = CASES[name]
    sheet = tuple(
        dataclasses.replace(
            layer,
            poisson=poisson,
            young_pa=layer.young_pa * (1 + poisson) / (1 + layer.poisson),
        )
        if layer.loss > 0 else layer
        for layer in case.sheet
    )
    got = solve(dataclasses.replace(case, sheet=sheet), MESHES[0])
    print(as_text({"case": name, "core_poisson": poisson, **got}))


def main():
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("case", nargs="*", help="all, or names: " + ", ".join(CASES))
    parser.add_argument("--small", action="store_true", help="write data/small.json")
    parser.add_argument("--check", action="store_true", help="compare, write nothing")
    parser.add_argument("--core-poisson", type=float, metavar="NU", help="print only")
    options = parser.parse_args()
    names = list(CASES) if options.case == ["all"] else options.case
    unknown = [n for n in names if n not in CASES]
    if unknown or not (names or options.small or options.check):
        parser.error(f"unknown case {unknown[0]}" if unknown else "nothing to do")
    if options.check:
        faults = check()
        print("\n".join(faults) if faults else "the values in data/ are those of the script")
        return 1 if faults else 0
    if options.small:
        write("small", make_small())
    for name in names:
        if options.core_poisson is not None:
            show_other_poisson(name, options.core_poisson)
        else:
            make_case(name)
    return 0


if __name__ == "__main__":
    sys.exit(main())
