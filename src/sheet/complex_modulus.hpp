// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <complex>
#include <limits>
#include <memory>

namespace calmplate::sheet {

/// Where a modulus is known: outside it is a guess, and whoever shows results should say so.
struct ModulusLimits {
  double low_hz = 0.0, high_hz = std::numeric_limits<double>::infinity();  ///< Hz
  double low_k = 0.0, high_k = std::numeric_limits<double>::infinity();    ///< K
};

/// A viscoelastic modulus over frequency and temperature: G* = G (1 + i eta), e^{+i w t}.
/// Every model of the core's and the free layer's material implements this one interface.
class ComplexModulus {
 public:
  virtual ~ComplexModulus() = default;

  /// @param freq_hz  Hz, above 0, finite
  /// @param temp_k   K, above 0, finite
  /// @return         Pa; real part above 0, imaginary part at or above 0 (it never gives energy)
  /// @throws std::invalid_argument if freq_hz or temp_k is out of range
  virtual std::complex<double> modulus(double freq_hz, double temp_k) const = 0;

  /// True if the modulus is the same at every frequency (then modes need no iteration).
  virtual bool constant() const noexcept { return false; }

  /// The range in which the model stands on data; unlimited unless a model says otherwise.
  virtual ModulusLimits limits() const { return {}; }
};

/// The same modulus at every frequency and temperature.
class ConstantModulus final : public ComplexModulus {
 public:
  /// @param storage_pa   Pa, above 0, finite
  /// @param loss_factor  at or above 0, finite
  /// @throws std::invalid_argument if either is out of range
  ConstantModulus(double storage_pa, double loss_factor);

  std::complex<double> modulus(double freq_hz, double temp_k) const override;
  bool constant() const noexcept override { return true; }

 private:
  std::complex<double> modulus_;
};

using ModulusPtr = std::shared_ptr<const ComplexModulus>;

/// Another modulus times a factor, its loss factor the same.
class ScaledModulus final : public ComplexModulus {
 public:
  /// @throws std::invalid_argument if there is no modulus or the factor is not above 0 and finite
  ScaledModulus(ModulusPtr of, double factor);

  std::complex<double> modulus(double freq_hz, double temp_k) const override {
    return factor_ * of_->modulus(freq_hz, temp_k);
  }
  bool constant() const noexcept override { return of_->constant(); }
  ModulusLimits limits() const override { return of_->limits(); }

 private:
  ModulusPtr of_;
  double factor_;
};

}  // namespace calmplate::sheet
