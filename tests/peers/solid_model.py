# SPDX-License-Identifier: GPL-3.0-or-later
"""Three-dimensional elasticity of a layered panel: mesh and matrices, by GetFEM.

Hexahedra, one through each layer: displacement polynomials of degree Mesh.order along the panel,
2 across skin and foil, Mesh.core_order across a core (tensor products), Gauss points exact for a
flat box. A curved panel is the same box mesh carried onto the cylinder by the exact map
(x, y, z) -> (x, (R + z) sin t, (R + z) cos t), t = (y - width/2)/R, inside the integrals, so that
there is no error of geometry. In the box mesh every layer is BOX_M thick, which the map takes out
again: GetFEM takes unknowns for one and the same that lie closer than about a thousandth of an
element's size, and a foil of 0.1 mm is thinner than that. Displacements are Cartesian in space, m.
"""
from dataclasses import dataclass

import getfem
import numpy as np
import scipy.sparse as sparse

BOX_M = 0.01  # thickness of every layer in the box mesh


@dataclass(frozen=True)
class Mesh:
    """How fine a mesh is."""

    size_m: float  # elements along the panel at most this long
    edge_m: float  # width of the elements at the rim and on both sides of a piece's edge
    order: int  # degree along the panel
    core_order: int  # degree across a layer with loss


@dataclass
class Matrices:
    """Reduced by the clamped rim. K* = stiffness + i loss, both [n x n], symmetric, real."""

    stiffness: sparse.csc_matrix  # N/m, storage part
    loss: sparse.csc_matrix  # N/m, imaginary part
    mass: sparse.csc_matrix  # kg
    lattice: np.ndarray  # [n x 2] number of the node line along x and along y, for the ordering
    element_lines: tuple  # those numbers of node lines, x and y, that bound elements


def grid_lines(length_m, inner_m, mesh):
    """Element boundaries on [0, length_m] with lines at inner_m.

    At both ends and on both sides of every inner line two graded elements, mesh.edge_m and three
    times that; the rest at most mesh.size_m.
    """
    ends = [0.0, *inner_m, length_m]
    lines = [0.0]
    for low, high in zip(ends[:-1], ends[1:]):
        a, b = low + 4 * mesh.edge_m, high - 4 * mesh.edge_m
        if b - a < 4 * mesh.edge_m:
            raise ValueError(f"edge elements of {mesh.edge_m} m do not fit into {high - low} m")
        n = max(1, int(np.ceil((b - a) / mesh.size_m - 1e-9)))
        lines += [low + mesh.edge_m, *np.linspace(a, b, n + 1), high - mesh.edge_m, high]
    return np.array(lines)


def layer_stack(case):
    """[(layer, z low, box z low)] from the skin outwards, on the side that case.face says.

    z is the height in m over the skin's mid-surface, box z that in the box mesh: the layer reaches
    from there to z low + its thickness, and in the box mesh to box z low + BOX_M.
    """
    low, high, box = -0.5 * case.skin.thickness_m, 0.5 * case.skin.thickness_m, 0.0
    stack = [(case.skin, low, box)]
    for number, layer in enumerate(case.sheet):
        if case.face > 0:
            stack.append((layer, high, (number + 1) * BOX_M))
            high += layer.thickness_m
        else:
            low -= layer.thickness_m
            stack.append((layer, low, -(number + 1) * BOX_M))
    return stack


def across_degrees(case, mesh):
    """Polynomial degree across each layer of layer_stack(case)."""
    return [mesh.core_order if layer.loss > 0.0 else 2 for layer, _, _ in layer_stack(case)]


def build_mesh(case, mesh):
    """GetFEM mesh of boxes; region k + 1 holds layer k of layer_stack(case)."""
    piece = case.piece_m
    xs = grid_lines(case.length_m, piece[0::2], mesh)
    ys = grid_lines(case.width_m, piece[1::2], mesh)
    solid = getfem.Mesh("empty", 3)
    box = getfem.GeoTrans("GT_QK(3,1)")
    for number, (_, _, box_z) in enumerate(layer_stack(case)):
        members = []
        for x in zip(xs[:-1], xs[1:]):
            for y in zip(ys[:-1], ys[1:]):
                if number > 0 and not inside(piece, x, y):
                    continue
                corners = [[a, b, c] for c in (box_z, box_z + BOX_M) for b in y for a in x]
                members.append(int(np.ravel(solid.add_convex(box, np.array(corners).T))[0]))
        solid.set_region(number + 1, np.array([members, [-1] * len(members)]))
    return solid, xs, ys


def inside(piece, x, y):
    """Whether the rectangle x by y (pairs, m) has its middle in the piece."""
    middle_x, middle_y = 0.5 * sum(x), 0.5 * sum(y)
    return piece[0] < middle_x < piece[2] and piece[1] < middle_y < piece[3]


def gradient(case, level, test):
    """Weak-form text: the gradient in space of a test function, and the volume factor."""
    layer, z_low, box_z = level
    thin = layer.thickness_m / BOX_M
    if case.radius_m == 0.0:
        return f"(Grad_{test}*[1,0,0;0,1,0;0,0,{1 / thin!r}])", f"{thin!r}"
    angle = f"((X(2)-{0.5 * case.width_m!r})/{case.radius_m!r})"
    height = f"({z_low!r}+{thin!r}*(X(3)-({box_z!r})))"
    longer = f"(1+{height}/{case.radius_m!r})"
    inverse = (
        f"[1,0,0;0,cos({angle})/{longer},-sin({angle})/{longer};"
        f"0,sin({angle})/{thin!r},cos({angle})/{thin!r}]"
    )
    return f"(Grad_{test}*{inverse})", f"({longer}*{thin!r})"


def stiffness_text(case, level):
    """Weak form of the storage stiffness of a level of layer_stack(case)."""
    layer = level[0]
    lame = layer.young_pa * layer.poisson / ((1 + layer.poisson) * (1 - 2 * layer.poisson))
    shear = layer.young_pa / (2 * (1 + layer.poisson))
    one, volume = gradient(case, level, "Test_u")
    two, _ = gradient(case, level, "Test2_u")
    return f"{volume}*({lame!r}*Trace({one})*Trace({two})+{shear!r}*({one}+({one})'):{two})"


def mass_text(case, level):
    """Weak form of the mass of a level of layer_stack(case)."""
    return f"{gradient(case, level, 'Test_u')[1]}*{level[0].density_kg_m3!r}*Test_u.Test2_u"


def line_numbers(values, lines):
    """Number of each value among its distinct values, and the numbers that are element lines."""
    rounded = np.round(values, 9)
    distinct, number = np.unique(rounded, return_inverse=True)
    return number, np.flatnonzero(np.isin(distinct, np.round(lines, 9)))


def expected_unknowns(case, mesh, xs, ys):
    """Unknowns that layers bonded to each other must have on these element lines."""
    p, degrees = mesh.order, across_degrees(case, mesh)
    count = (p * (len(xs) - 1) + 1) * (p * (len(ys) - 1) + 1) * (degrees[0] + 1)
    if case.piece_m:
        covered = [
            p * np.count_nonzero((lines > low + 1e-9) & (lines < high + 1e-9)) + 1
            for lines, low, high in zip((xs, ys), case.piece_m[:2], case.piece_m[2:])
        ]
        count += covered[0] * covered[1] * sum(degrees[1:])
    return 3 * count


def assemble(case, mesh):
    """Matrices of the case on the mesh. Source: linear elasticity, principle of virtual work."""
    piece = case.piece_m
    if piece and not (0 < piece[0] and piece[2] < case.length_m
                      and 0 < piece[1] and piece[3] < case.width_m):
        raise ValueError(f"{case.name}: the piece must stay off the rim")
    solid, xs, ys = build_mesh(case, mesh)
    field, points = getfem.MeshFem(solid, 3), getfem.MeshIm(solid)
    for number, degree in enumerate(across_degrees(case, mesh)):
        members = np.unique(solid.region(number + 1)[0])
        along = f"(1,{mesh.order})"
        field.set_fem(getfem.Fem(
            f"FEM_PRODUCT(FEM_PRODUCT(FEM_PK{along},FEM_PK{along}),FEM_PK(1,{degree}))"), members)
        rule = f"IM_GAUSS1D({2 * mesh.order})"
        points.set_integ(getfem.Integ(
            f"IM_PRODUCT(IM_PRODUCT({rule},{rule}),IM_GAUSS1D({2 * degree}))"), members)
    n = field.nbdof()
    place = field.basic_dof_nodes()
    if n != expected_unknowns(case, mesh, xs, ys):
        raise RuntimeError(f"{case.name}: {n} unknowns, some were wrongly merged or split")
    column, x_lines = line_numbers(place[0], xs)
    row, y_lines = line_numbers(place[1], ys)
    held = (column == 0) | (column == column.max()) | (row == 0) | (row == row.max())
    free = np.flatnonzero(~held)

    def matrix(text, region):
        got = getfem.asm("generic", points, 2, text, region, "u", 1, field, np.zeros(n))
        starts, rows = got.csc_ind()
        whole = sparse.csc_matrix((got.csc_val(), rows, starts), shape=(n, n))
        return whole[free][:, free]

    size = (free.size, free.size)
    storage, loss, mass = (sparse.csc_matrix(size) for _ in range(3))
    for number, level in enumerate(layer_stack(case)):
        part = matrix(stiffness_text(case, level), number + 1)
        storage = storage + part
        if level[0].loss > 0.0:
            loss = loss + level[0].loss * part
        mass = mass + matrix(mass_text(case, level), number + 1)
    lattice = np.column_stack((column[free], row[free]))
    return Matrices(storage, loss, mass, lattice, (x_lines, y_lines))
