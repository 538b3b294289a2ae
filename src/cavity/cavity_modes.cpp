// SPDX-License-Identifier: GPL-3.0-or-later
#include "cavity/cavity_modes.hpp"

#include <cmath>
#include <stdexcept>

#include "modes/eigen_solve.hpp"

namespace calmplate::cavity {

CavityModes even_mode(const Slab& slab) {
  CavityModes out;
  out.omega2 = Eigen::VectorXd::Zero(1);
  // 1^T Q 1 = V / (rho c^2)
  out.pressure =
      Eigen::MatrixXd::Constant(slab.depth_m.size(), 1, std::sqrt(slab.stiffness_per_volume2()));
  return out;
}

CavityModes cavity_modes(const Slab& slab,
                         double top_hz,
                         unsigned threads,
                         const base::Progress& progress) {
  modes::ModeOptions options;
  options.threads = threads;
  // H alone is singular, so the solver shifts below 0: by about the first slab mode.
  options.scale_hz = 0.5 * slab.sound_m_s / slab.panel->flat.size().maxCoeff();
  modes::ModeSolver solver(slab.H, slab.Q, options, progress);
  const modes::ModeSet set = solver.up_to(top_hz, progress);
  if (set.rigid_body != 1)
    throw std::logic_error("cavity_modes: a connected slab has one mode at 0 Hz");
  CavityModes out;
  out.omega2 = set.omega2;
  out.pressure = set.shape;
  out.pressure.col(0) = even_mode(slab).pressure.col(0);
  out.complete = set.complete;
  return out;
}

}  // namespace calmplate::cavity
