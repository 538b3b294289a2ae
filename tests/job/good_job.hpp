// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <cstddef>
#include <fstream>
#include <iterator>
#include <string>

namespace calmplate::testing {

/// tests/data/job/good_job.toml: an invented job that has every key of every section at least once,
/// but for a logo, and is without fault. Empty if the file is not there.
inline std::string good_job() {
  std::ifstream file(std::string(CALMPLATE_TEST_DATA) + "/job/good_job.toml", std::ios::binary);
  return std::string((std::istreambuf_iterator<char>(file)), std::istreambuf_iterator<char>());
}

/// `text` with the first `from` replaced by `to`; empty if `from` is not in it, so that a test
/// which misses its place cannot pass.
inline std::string with(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  if (at == std::string::npos) return "";
  return text.replace(at, from.size(), to);
}

/// The good job with a skin that is drawn, with every key of a drawing.
/// @param measured  the crown by measured heights, else by radii
inline std::string drawn_job(bool measured) {
  std::string job = with(good_job(),
                         "mesh = \"meshes/skin.stl\"\nmesh_unit = \"mm\"\n",
                         "outline_mm = [[0, 0], [1000, 0, 60], [1040, 600], [0, 580]]\n"
                         "corner_radius_mm = 40\n"
                         "bow_mm = [5, -8, 0, 6]\n" +
                             std::string(measured ? ""
                                                  : "crown_radius_along_m = 11\n"
                                                    "crown_radius_up_m = 3\n"
                                                    "crown_centre_mm = [500, 280]\n"));
  job = with(job, "along = [0, 2, 0]\noutward = [-1.0, 0, 0]\n", "");
  const std::string heights =
      "[[panel.crown]]\nat_mm = [500, 300]\nheight_mm = 12.5\nfrom_mm = [500, 10]\n"
      "to_mm = [500, 590]\n\n"
      "[[panel.crown]]\nat_mm = [500, 300]\nheight_mm = 14\n\n"
      "[[panel.crown]]\nat_mm = [20, 300]\nheight_mm = 0\n\n"
      "[[panel.crown]]\nat_mm = [1000, 300]\nheight_mm = 1\n\n";
  return with(job,
              "[[panel.edge]]\npart = \"bottom\"",
              (measured ? heights : "") +
                  "[[panel.hole]]\ncentre_mm = [350, 400]\ndiameter_mm = 165\n\n"
                  "[[panel.hole]]\ncentre_mm = [860, 470]\nlength_mm = 40\nwidth_mm = 16\n"
                  "angle_deg = 5\n\n"
                  "[[panel.hole]]\noutline_mm = [[600, 60], [700, 60], [700, 110, 8], [600, 110]]\n"
                  "corner_radius_mm = 12\nbow_mm = [0, 2, 0, 2]\n\n"
                  "[[panel.swage]]\nfrom_mm = [-20, 200]\nto_mm = [1100, 220]\nwidth_mm = 45\n"
                  "height_mm = 5.5\n\n"
                  "[[panel.swage]]\nline_mm = [[100, 500], [300, 520], [500, 500]]\n"
                  "width_mm = 30\nheight_mm = -2\n\n"
                  "[[panel.recess]]\ncentre_mm = [820, 470]\nsize_mm = [170, 60]\nangle_deg = 3\n"
                  "depth_mm = 16\ncorner_radius_mm = 28\nwall_mm = 24\n\n"
                  "[[panel.edge]]\npart = \"bottom\"");
}

}  // namespace calmplate::testing
