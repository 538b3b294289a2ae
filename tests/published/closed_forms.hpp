// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <complex>
#include <utility>
#include <vector>

#include "sheet/sheet.hpp"
#include "shell/facet.hpp"

/// Exact answers that the tests compute themselves. Each is derived in a line or two beside it.
namespace calmplate::published {

/// Curvatures of a shallow panel, 1/m: 1/Rx in the x direction, 1/Ry in the y direction.
struct Crown {
  double x = 0.0, y = 0.0;
};

double bending_rigidity(const shell::Plate& plate);  ///< D = E h^3 / 12 (1 - nu^2), N m

/// Frequency of a thin plate from lambda = omega length^2 sqrt(rho h / D), Hz.
double plate_hz(double lambda, double length_m, const shell::Plate& plate);

/// Lowest frequency of one half-wave pattern on a shallow panel with shear-diaphragm edges, all
/// three displacements kept, Hz. Source: [derived] the fields
///   u = U cos kx x sin ky y, v = V sin kx x cos ky y, w = W sin kx x sin ky y
/// meet the edges exactly; strains e_x = u_x + w/Rx, e_y = v_y + w/Ry, g = u_y + v_x and the
/// plate's curvatures give a 3 x 3 eigenproblem for (U, V, W).
double three_displacement_hz(const shell::Plate& plate, double kx, double ky, const Crown& crown);

/// omega*^2 of a fully covered shallow panel with shear-diaphragm edges on both faces, rad2/s2:
///
///   m omega*^2 = Dt k^4 [1 + Y g / (g + k^2)] + (E1 H1 + E3 H3) (ky^2/Rx + kx^2/Ry)^2 / k^4
///
/// with k^2 = kx^2 + ky^2, K_i = E_i H_i / (1 - nu^2), Dt = (K1 H1^2 + K3 H3^2) / 12,
/// d = H2 + (H1 + H3) / 2, Keq = K1 K3 / (K1 + K3), Y = d^2 Keq / Dt, g = G* / (H2 Keq).
/// Source: [derived] core shear only. In-plane motion of the faces is irrotational when their nu is
/// the same, so slip s = grad p sin sin; minimise Dt k^4 + Keq k^4 p^2 + G*/H2 k^2 (d - p)^2 over
/// p. The strain w/R is common to both faces, so the core does not feel it. nu = 0 gives the beam.
std::complex<double> covered_omega2(const shell::Plate& base,
                                    const sheet::Sheet& sheet,
                                    double kx,
                                    double ky,
                                    const Crown& crown = {});

/// Factor on a plate's bending rigidity by a free layer of e = E2*/E1, h = H2/H1, same nu:
///   1 + e h^3 + 3 e h (1 + h)^2 / (1 + e h)
/// Source: [derived] two bonded layers about their common neutral plane (Oberst's layer).
std::complex<double> free_layer_factor(std::complex<double> e, double h);

double frequency_hz(std::complex<double> omega2);  ///< sqrt(Re omega*^2) / 2 pi
double loss_factor(std::complex<double> omega2);   ///< Im / Re

/// Loss of a constraining strip of length xi = L / B0 on a base of uniform strain, per length, over
/// (1/2 Ec tc strain^2):  Phi = Im[1 - tanh(z) / z],  z = exp(i atan(eta) / 2) xi / 2.
/// Source: [derived] Ec tc u'' = (G*/t)(u - strain x), ends free of stress; B0 = sqrt(tc t Ec /
/// |G*|). The question and B0 are those of Plunkett and Lee, J. Acoust. Soc. Am. 48 (1970) 150.
double strip_loss(double xi, double core_loss);
/// Length of the most loss, xi.
double best_strip(double core_loss);

/// First roots of a function of x > 0, by steps and bisection.
template <typename Function>
std::vector<double> roots(const Function& f, double from, double step, int count) {
  std::vector<double> found;
  double a = from, fa = f(a);
  while (static_cast<int>(found.size()) < count) {
    const double b = a + step, fb = f(b);
    if ((fa < 0.0) != (fb < 0.0)) {
      double low = a, high = b;
      for (int i = 0; i < 60; ++i) {
        const double middle = 0.5 * (low + high);
        ((f(middle) < 0.0) == (fa < 0.0) ? low : high) = middle;
      }
      found.push_back(0.5 * (low + high));
    }
    a = b;
    fa = fb;
  }
  return found;
}

/// lambda = omega a^2 sqrt(rho h / D) of a disc of radius a clamped at its rim, n nodal diameters,
/// s = 0, 1, ... nodal circles inside. Source: [derived] w = A J_n(k r) + C I_n(k r) with
/// w = w' = 0: J_n I_{n+1} + I_n J_{n+1} = 0 at k a, lambda = (k a)^2.
std::vector<double> clamped_disc(int n, int count);

/// lambda (with the outer radius a) of a ring clamped at a and free at the inner radius b.
/// Source: [derived] w = A J_n + B Y_n + C I_n + D K_n of k r; w = w' = 0 at a; bending moment and
/// Kirchhoff shear zero at b: w'' + nu (w'/b - n^2 w/b^2) = 0,
/// (lap w)' - (1 - nu) n^2/b^2 (w' - w/b) = 0. Zero of the 4 x 4 determinant.
std::vector<double> clamped_free_ring(int n, double ratio, double poisson, int count);

}  // namespace calmplate::published
