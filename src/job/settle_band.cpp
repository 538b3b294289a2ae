// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>

#include "drive/woofer_response.hpp"
#include "job/job.hpp"
#include "job/read_sections.hpp"

namespace calmplate::job {

void settle_band(Job& job, double panel_area_m2) {
  if (!job.woofer) return;
  if (job.drive.kind == drive::Kind::woofer) {
    const drive::Woofer woofer = drive::make_woofer(*job.woofer);
    job.drive.voltage_v = drive::amplifier_voltage(job.amplifier, woofer);
    job.drive.drive_n_per_volt = drive::moving_part(woofer).drive_n_per_volt;
    job.drive.filter = job.filter;
    if (!job.band_given) {
      const drive::WooferBand band =
          drive::woofer_band(woofer, job.filter, drive::make_box(job.cavity, panel_area_m2));
      // Whole hertz, outwards: nobody cares for the tenths of a band's end.
      job.band.low_hz = std::floor(band.low_hz);
      job.band.high_hz = std::ceil(band.high_hz);
    }
  }
  // With a given band the reader has done it.
  if (!job.band_given) check_sheet_limits(job);
}

}  // namespace calmplate::job
