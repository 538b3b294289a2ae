# SPDX-License-Identifier: GPL-3.0-or-later
"""The plates and panels that the three-dimensional references are made for.

Lengths in m, moduli in Pa, densities in kg/m3; loss factors have no unit. All cases are invented;
their figures are round numbers in the range of a thin steel skin under a foil-faced damping sheet.

Coordinates: x runs along the straight side, y along the other side (the arc when the panel is
curved), z along the normal, 0 at the mid-surface of the skin. On a curved panel z points away from
the axis of the cylinder, and y is arc length on the skin's mid-surface, whose radius is radius_m:
the edges of a piece are planes through the axis. face -1 is the concave side, +1 the convex one
(on a flat plate the two are alike).
"""
from dataclasses import asdict, dataclass, field


@dataclass(frozen=True)
class Layer:
    """One homogeneous isotropic layer, modulus young_pa * (1 + i loss), real Poisson ratio."""

    name: str
    thickness_m: float
    young_pa: float
    poisson: float
    density_kg_m3: float
    loss: float = 0.0


@dataclass(frozen=True)
class Case:
    """A clamped plate or cylinder panel with at most one rectangular piece of stacked layers."""

    name: str
    note: str
    n_mode: int = 10
    length_m: float = 0.40  # along x, straight
    width_m: float = 0.30  # along y, arc length when curved
    radius_m: float = 0.0  # 0: flat
    skin: Layer = Layer("steel", 0.8e-3, 210e9, 0.3, 7850.0)
    piece_m: tuple = ()  # x low, y low, x high, y high; () is bare
    face: int = 1
    sheet: tuple = field(default_factory=tuple)  # layers from the skin outwards

    def as_dict(self):
        """Plain dictionaries and lists, equal after a round trip through JSON."""
        plain = asdict(self)
        plain["piece_m"] = list(plain["piece_m"])
        plain["sheet"] = list(plain["sheet"])
        return plain


def core(shear_pa, loss, thickness_m, poisson=0.49):
    """A viscoelastic core whose shear modulus is shear_pa * (1 + i loss) at every frequency."""
    return Layer("core", thickness_m, 2.0 * shear_pa * (1.0 + poisson), poisson, 1700.0, loss)


FOIL = Layer("foil", 0.1e-3, 70e9, 0.3, 2700.0)
SOFT_SHEET = (core(1.0e6, 1.0, 2.0e-3), FOIL)
STIFF_SHEET = (core(10.0e6, 0.5, 1.0e-3), FOIL)
CENTRED = (0.10, 0.075, 0.30, 0.225)
CORNER = (0.04, 0.03, 0.24, 0.18)

CASES = {
    case.name: case
    for case in (
        Case("flat_bare", "flat plate, no sheet"),
        Case(
            "flat_centred",
            "flat plate, one centred piece on a quarter of the area",
            piece_m=CENTRED,
            sheet=SOFT_SHEET,
        ),
        Case(
            "flat_corner",
            "flat plate, the same piece near a corner",
            piece_m=CORNER,
            sheet=SOFT_SHEET,
        ),
        Case(
            "flat_stiff_core",
            "flat plate, centred piece with a core ten times stiffer and half as thick",
            piece_m=CENTRED,
            sheet=STIFF_SHEET,
        ),
        Case(
            "flat_two_sheets",
            "flat plate, two sheets stacked on the centred piece",
            n_mode=6,
            piece_m=CENTRED,
            sheet=SOFT_SHEET + SOFT_SHEET,
        ),
        Case("curved_bare", "cylinder panel, no sheet", radius_m=1.0),
        Case(
            "curved_concave",
            "cylinder panel, centred piece on the concave face",
            radius_m=1.0,
            piece_m=CENTRED,
            face=-1,
            sheet=SOFT_SHEET,
        ),
        Case(
            "curved_convex",
            "cylinder panel, centred piece on the convex face",
            radius_m=1.0,
            piece_m=CENTRED,
            face=1,
            sheet=SOFT_SHEET,
        ),
    )
}
