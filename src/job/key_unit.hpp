// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

namespace calmplate::job {

/// What a number may be, in the unit of its key, both ends included.
struct Range {
  double low = 0.0;
  double high = 0.0;
  bool or_zero = false;  ///< 0 is allowed too, though it is below `low`

  bool holds(double written) const noexcept {
    return (written >= low && written <= high) || (or_zero && written == 0.0);
  }
};

/// The unit in which a key's number is written, known from the key's ending: "thickness_mm" is in
/// mm. A key without such an ending has no unit.
class KeyUnit {
 public:
  explicit KeyUnit(const std::string& key);

  const std::string& name() const noexcept { return name_; }  ///< "mm"; empty: no unit

  /// The SI value of a number written in this unit.
  double to_si(double written) const noexcept { return (written + offset_) * factor_; }

  std::string with_unit(const std::string& number) const;  ///< "0.8 mm", "0.3"
  std::string allowed(const Range& range) const;           ///< "0.2 to 5 mm"
  std::string allowed_number(const Range& range) const;    ///< "a number in mm from 0.2 to 5"

  /// A question such as " (is it in metres?)" if `written` is out of range but would be in it in
  /// another common unit; otherwise empty.
  std::string mistaken_unit(double written, const Range& range) const;

 private:
  std::string ending_;
  std::string name_;
  double factor_ = 1.0;
  double offset_ = 0.0;
};

/// A number as a person would write it, at most ten digits.
std::string plain_number(double value);

}  // namespace calmplate::job
