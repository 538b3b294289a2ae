// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

namespace calmplate::job {

/// Who hands the page over, to whom, and what it says of the car. Empty: not given.
struct ReportInput {
  std::string fitter, contact;  ///< the fitter's name; address, telephone
  std::string car, customer;
  std::string question;     ///< what the customer asked, one sentence
  std::string proposal;     ///< layout that the page puts forward; empty: the calmest
  std::string logo;         ///< the bytes of a PNG or JPEG file
  std::string logo_ending;  ///< ".png" or ".jpg"; empty without a logo
};

}  // namespace calmplate::job
