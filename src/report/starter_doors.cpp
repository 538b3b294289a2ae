// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/starter.hpp"

// Source of every figure here: invented. No car was measured for them; they are of the size that
// such doors have (common practice, no source).
namespace calmplate::report {
namespace {

StarterDoor small_hatch_front() {
  StarterDoor d;
  d.kind = "small-hatch-front";
  d.words = "a small hatchback's front door";
  d.width_mm = 980.0;
  d.height_mm = 560.0;
  d.thickness_mm = 0.7;
  d.material = "steel";
  d.corners = {{{0.04, 0.0}, 45.0, 5.0},
               {{0.95, 0.0}, 50.0, 10.0},
               {{1.0, 1.0}, 35.0, 6.0},
               {{0.0, 0.94}, 45.0, 8.0}};
  d.crown_up_m = 2.6;
  d.crown_along_m = 9.0;
  d.swages = {{{-0.03, 0.34}, {1.05, 0.38}, 45.0, 5.0}};
  d.recess = {0.83, 0.77};
  d.recess_length_mm = 165.0;
  d.recess_height_mm = 58.0;
  d.recess_depth_mm = 15.0;
  d.slot = {0.86, 0.77};
  d.lock = Share{0.955, 0.77};
  d.beam_from = {0.07, 0.44};
  d.beam_to = {0.94, 0.50};
  d.beam_area_mm2 = 200.0;
  d.beam_inertia_mm4 = 17000.0;
  d.centre_block = {{{0.45, 0.20}, {0.42, 0.20}}, {{0.45, 0.72}, {0.42, 0.26}}};
  d.partial = {{{0.25, 0.20}, {0.24, 0.20}},
               {{0.60, 0.20}, {0.24, 0.20}},
               {{0.25, 0.72}, {0.24, 0.26}},
               {{0.57, 0.72}, {0.24, 0.26}}};
  return d;
}

StarterDoor estate_rear() {
  StarterDoor d;
  d.kind = "estate-rear";
  d.words = "an estate car's rear door, cut away for the wheel arch";
  d.width_mm = 840.0;
  d.height_mm = 640.0;
  d.thickness_mm = 0.75;
  d.material = "steel";
  d.corners = {{{0.06, 0.0}, 40.0, 5.0},
               {{0.60, 0.0}, 50.0, -30.0},
               {{0.96, 0.46}, 90.0, 8.0},
               {{1.0, 1.0}, 35.0, 6.0},
               {{0.0, 0.95}, 45.0, 8.0}};
  d.crown_up_m = 3.2;
  d.crown_along_m = 12.0;
  d.swages = {{{-0.03, 0.41}, {1.05, 0.44}, 45.0, 5.5}};
  d.recess = {0.80, 0.80};
  d.recess_length_mm = 165.0;
  d.recess_height_mm = 58.0;
  d.recess_depth_mm = 15.0;
  d.slot = {0.835, 0.80};
  d.beam_from = {0.08, 0.52};
  d.beam_to = {0.92, 0.58};
  d.beam_area_mm2 = 210.0;
  d.beam_inertia_mm4 = 19000.0;
  d.centre_block = {{{0.38, 0.23}, {0.40, 0.24}}, {{0.42, 0.75}, {0.40, 0.24}}};
  d.partial = {{{0.22, 0.23}, {0.22, 0.24}},
               {{0.47, 0.23}, {0.22, 0.24}},
               {{0.25, 0.75}, {0.22, 0.24}},
               {{0.53, 0.75}, {0.22, 0.24}}};
  return d;
}

StarterDoor van_sliding() {
  StarterDoor d;
  d.kind = "van-sliding";
  d.words = "a van's sliding door, the panel below its window line";
  d.width_mm = 1150.0;
  d.height_mm = 900.0;
  d.thickness_mm = 0.8;
  d.material = "steel";
  d.corners = {{{0.0, 0.0}, 60.0, 3.0},
               {{1.0, 0.0}, 60.0, 4.0},
               {{1.0, 1.0}, 50.0, 4.0},
               {{0.0, 1.0}, 50.0, 4.0}};
  d.crown_up_m = 6.0;
  d.swages = {{{-0.03, 0.30}, {1.03, 0.30}, 60.0, -6.0}, {{-0.03, 0.62}, {1.03, 0.62}, 60.0, 6.0}};
  d.recess = {0.12, 0.50};
  d.recess_length_mm = 170.0;
  d.recess_height_mm = 70.0;
  d.recess_depth_mm = 14.0;
  d.slot = {0.12, 0.50};
  d.beam_from = {0.04, 0.44};
  d.beam_to = {0.96, 0.44};
  d.beam_area_mm2 = 240.0;
  d.beam_inertia_mm4 = 26000.0;
  d.centre_block = {{{0.50, 0.15}, {0.44, 0.16}}, {{0.50, 0.80}, {0.44, 0.22}}};
  d.partial = {{{0.28, 0.15}, {0.22, 0.16}},
               {{0.68, 0.15}, {0.22, 0.16}},
               {{0.28, 0.80}, {0.22, 0.20}},
               {{0.68, 0.80}, {0.22, 0.20}}};
  return d;
}

StarterDoor aluminium() {
  StarterDoor d;
  d.kind = "aluminium";
  d.words = "a large car's front door with an aluminium skin";
  d.width_mm = 1060.0;
  d.height_mm = 600.0;
  d.thickness_mm = 1.1;
  d.material = "aluminium";
  d.corners = {{{0.045, 0.0}, 45.0, 5.0},
               {{0.845, 0.0}, 55.0, -20.0},
               {{0.965, 0.39}, 110.0, 9.0},
               {{1.0, 1.0}, 40.0, 5.0},
               {{0.0, 0.92}, 45.0, 7.0}};
  d.crown_up_m = 3.0;
  d.crown_along_m = 10.0;
  d.swages = {{{-0.03, 0.30}, {1.05, 0.36}, 60.0, 4.0}};
  d.recess = {0.80, 0.78};
  d.recess_length_mm = 180.0;
  d.recess_height_mm = 60.0;
  d.recess_depth_mm = 14.0;
  d.slot = {0.83, 0.78};
  d.lock = Share{0.935, 0.79};
  d.beam_from = {0.07, 0.43};
  d.beam_to = {0.93, 0.50};
  d.beam_area_mm2 = 280.0;
  d.beam_inertia_mm4 = 30000.0;
  d.centre_block = {{{0.44, 0.17}, {0.44, 0.19}}, {{0.42, 0.70}, {0.42, 0.26}}};
  d.partial = {{{0.24, 0.17}, {0.22, 0.19}},
               {{0.58, 0.17}, {0.22, 0.19}},
               {{0.24, 0.70}, {0.22, 0.26}},
               {{0.55, 0.70}, {0.22, 0.26}}};
  return d;
}

}  // namespace

const std::vector<StarterDoor>& starter_doors() {
  static const std::vector<StarterDoor> kDoors = {
      small_hatch_front(), estate_rear(), van_sliding(), aluminium()};
  return kDoors;
}

}  // namespace calmplate::report
