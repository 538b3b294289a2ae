// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <functional>
#include <vector>

#include "drive/drive_input.hpp"
#include "reduced/pole_expansion.hpp"
#include "reduced/reduced_model.hpp"
#include "reduced/sub_bands.hpp"

namespace calmplate::response {

/// A frequency with its share of an integral over frequency.
struct Node {
  double freq_hz = 0.0;
  double weight_hz = 0.0;
};

/// Points of a quadrature over [low_hz, high_hz] that resolves every peak: the range is cut at each
/// damped mode's frequency and at distances from it that grow with its half-power width, and each
/// part carries Gauss points.
/// @param poles  eigenvalues of the model, with moduli taken anywhere in the band
std::vector<Node> quadrature(const reduced::PoleExpansion& poles, double low_hz, double high_hz);

/// A resistance across the drive itself, such as a coil's brake: R load load^T times i w. Poles
/// have it at one frequency w0; at another the response is q / (1 + i (w - w0) R load^T q),
/// exactly. Source: [derived] a change of rank one.
struct Brake {
  double resistance_ns_m = 0.0;
  double taken_at_hz = 0.0;
};

/// Integral of a unit load's mean square velocity over a band, weighted with the drive's strength:
/// a tap's spectrum is taken in steps of a hundredth of 1 / contact time, a woofer's in steps of a
/// per cent. m2/s2 Hz for the drive
/// @param brake  for a woofer alone; of resistance 0: none, or the poles have it right
double weighted(const reduced::BandIntegral& integral,
                const drive::DriveInput& drive,
                double low_hz,
                double high_hz,
                const Brake& brake = {});

/// What band_mean_square makes of such an integral: the mean over the band, or a tap's two sides.
double band_mean(double integral, const drive::DriveInput& drive, double low_hz, double high_hz);

/// How a panel with one layout answers the drive. Velocities are normal to the skin.
class BandResponse {
 public:
  /// @param model   copied
  /// @param top_hz  highest frequency that will be asked for
  /// @param low_hz  lowest one, for moduli that depend on frequency; 0: a hundredth of top_hz
  /// @param parts_per_octave  how finely such moduli are followed, see reduced::SubBands
  BandResponse(reduced::ReducedModel model,
               drive::DriveInput drive,
               double top_hz,
               double low_hz = 0.0,
               int parts_per_octave = 12);

  /// Surface mean of v^2 at one frequency, m2/s2 (tap: m2/s2 per Hz2): rms squared.
  double mean_square_velocity(double freq_hz) const;

  /// Mean of it over a band. Steady drives: per hertz of a sweep, m2/s2. Tap: the integral over
  /// positive and negative frequencies, m2/s2 s, which is what one knock leaves in the band.
  /// In closed form over the complex modes; moduli that depend on frequency as reduced::SubBands
  /// takes them.
  double band_mean_square(double low_hz, double high_hz) const;

  /// Level in dB of band_mean_square against (1 nm/s)^2 (tap: times 1 s).
  double band_level_db(double low_hz, double high_hz) const;
  double level_db(double freq_hz) const;
  /// The same band level for the velocity along one row of the model's read-outs. [r]
  double band_level_db(double low_hz, double high_hz, const Eigen::VectorXd& row) const;

  /// Response of the reduced coordinates to the drive's rms amplitude. [r] Moduli that depend on
  /// frequency are followed to second order, by blending the two nearest parts.
  Eigen::VectorXcd coordinates(double freq_hz) const;

  /// Integral over a band of strength * weight * |v|^2, |v|^2 = v^H S v for velocities v of the
  /// coordinates. S is taken in the middle of each narrow part, the weight every per cent; moduli
  /// are followed as in coordinates().
  /// @param surface  [r x r] at a frequency up to 1.06 times the band's end, Hermitian
  /// @param weight   of (frequency, frequency at which S was taken)
  double integral(double low_hz,
                  double high_hz,
                  const std::function<Eigen::MatrixXcd(double)>& surface,
                  const std::function<double(double, double)>& weight) const;

  const reduced::ReducedModel& model() const noexcept { return model_; }
  /// Poles with the moduli in the middle of the range.
  const reduced::PoleExpansion& poles() const noexcept { return parts_[parts_.size() / 2].poles; }

 private:
  /// Two parts and how much the upper one counts, 0 to 1.
  struct Blend {
    std::size_t below = 0, above = 0;
    double share = 0.0;
  };
  Blend blend_at(double freq_hz) const;
  double middle_of(std::size_t part) const;

  reduced::ReducedModel model_;
  drive::DriveInput drive_;
  /// Weighted integral over a band of what the surfaces' integrals give, part by part.
  double integrate(const std::vector<reduced::BandIntegral>& integrals,
                   double low_hz,
                   double high_hz) const;

  std::vector<reduced::SubBands::Part> parts_;  ///< one if no modulus depends on frequency
  std::vector<reduced::BandIntegral> integrals_;
};

}  // namespace calmplate::response
