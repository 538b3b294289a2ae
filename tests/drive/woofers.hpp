// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "drive/woofer.hpp"

namespace calmplate::testing {

/// An invented woofer of 165 mm by the least figures: fs, Qms, Qes, Re, Mms, Sd; and its Xmax.
inline drive::WooferInput woofer_165() {
  drive::WooferInput w;
  w.fs_hz = 65.0;
  w.qms = 4.5;
  w.qes = 0.62;
  w.re_ohm = 3.2;
  w.mms_kg = 0.015;
  w.sd_m2 = 0.0133;
  w.xmax_m = 0.005;
  return w;
}

}  // namespace calmplate::testing
