// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <vector>

#include "reduced/pole_expansion.hpp"
#include "reduced/reduced_model.hpp"

namespace calmplate::reduced {

/// A pencil whose trailing shapes are so stiff that they follow the others:
///   K_rr x_r = load_r - K_rm x_m,   so x = shapes x_m + still,   [n x m], [n]
struct FollowedPencil {
  Eigen::MatrixXcd stiffness, mass;  ///< [m x m] complex symmetric
  Eigen::VectorXcd load;             ///< [m]
  Eigen::MatrixXcd shapes;           ///< [n x m] identity on top
  Eigen::VectorXcd still;            ///< [n] zero on top
};

/// The inertia of the followers is kept as far as they move with the others.
/// @param k       [n x n] complex symmetric
/// @param m       [n x n] symmetric
/// @param moving  leading shapes to keep, 1 to n
FollowedPencil follow(const Eigen::MatrixXcd& k,
                      const Eigen::MatrixXd& m,
                      const Eigen::VectorXd& load,
                      Eigen::Index moving);

/// A reduced model whose moduli depend on frequency, as poles for each narrow part of a range: in
/// each part the moduli are those of its middle. With twelve parts an octave a modulus that grows
/// with the square root of frequency is off by 1.5 % at the ends of a part, which moves a peak by
/// far less than its width.
class SubBands {
 public:
  struct Part {
    double low_hz = 0.0, high_hz = 0.0;
    PoleExpansion poles;  ///< in the coordinates of the model
  };

  /// @param low_hz,high_hz    0 < low < high; what lies outside takes the nearest part
  /// @param parts_per_octave  at least 1
  /// @throws std::invalid_argument if the range or the number is out of range
  SubBands(const ReducedModel& model, double low_hz, double high_hz, int parts_per_octave = 12);

  const std::vector<Part>& parts() const noexcept { return parts_; }
  /// The part that holds a frequency, or the nearest one.
  const Part& part_at(double freq_hz) const;

 private:
  std::vector<Part> parts_;
};

/// The same model in other coordinates q = v z. @param v  [r x m]
ReducedModel in_coordinates(const ReducedModel& model, const Eigen::MatrixXd& v);

/// Modes of the real stiffness at one frequency, orthonormal in mass, ascending; all of them.
/// [r x r] and their squared angular frequencies [r]
struct RealModes {
  Eigen::MatrixXd shape;
  Eigen::VectorXd omega2;
};
RealModes real_modes(const ReducedModel& model, double freq_hz);

}  // namespace calmplate::reduced
