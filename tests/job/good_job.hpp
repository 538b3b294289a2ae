// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <cstddef>
#include <string>

namespace calmplate::testing {

/// An invented job that has every key of every section at least once, and is without fault.
inline std::string good_job() {
  return R"job([job]
title = "Van, sliding door (invented)"
note = """Two lines
of note."""
currency = "EUR"

[panel]
mesh = "meshes/skin.stl"
mesh_unit = "mm"
element_mm = 15
thickness_mm = 0.8
material = "soft steel"
loss_factor = 0.02
along = [0, 2, 0]
outward = [-1.0, 0, 0]
corner_deg = 40
air = "one face"
free = false

[[panel.edge]]
part = "bottom"
hold = "springs"
from_mm = [0, 0]
to_mm = [400, 0]
normal_N_per_mm2 = 3
in_plane_N_per_mm2 = 4.5
rotation_N_per_rad = 250
loss_factor = 0.2

[[panel.edge]]
part = "top"
hold = "clamped"

[material."soft steel"]
young_GPa = 205
poisson = 0.29
density_kg_m3 = 7800

[material.aluminium]
young_GPa = 69

[[stiffener]]
name = "beam"
from_mm = [100, 300]
to_mm = [900, 300]
area_mm2 = 200
inertia_normal_mm4 = 20000
inertia_in_plane_mm4 = 30000
torsion_mm4 = 41000
offset_mm = 22
material = "steel"
ends = "free"
pads_mm = [50, 400.5, 750]
pad_stiffness_N_per_mm = 12
pad_shear_N_per_mm = 6
pad_loss_factor = 0.4

[[stiffener]]
name = "rib"
from_mm = [100, 500]
to_mm = [900, 500]
area_mm2 = 50
inertia_normal_mm4 = 400

[[spring]]
name = "foam block"
at_mm = [200, 100]
normal_N_per_mm = 0.5
loss_factor = 0.1

[[mass]]
name = "lock"
at_mm = [850, 450]
mass_kg = 0.25

[[sheet]]
name = "butyl"
kind = "constrained"
core_thickness_mm = 1.5
core_density_kg_m3 = 1450
core_shear_MPa = 0.35
core_loss_factor = 0.7
foil_thickness_mm = 0.1
foil_material = "aluminium"
price_per_sheet = 5
stock_width_mm = 375
stock_length_mm = 500

[[sheet]]
name = "hard pad"
kind = "free-layer"
thickness_mm = 2
density_kg_m3 = 1700
young_MPa = 900
loss_factor = 0.25
poisson = 0.4

[[sheet]]
name = "heavy mat"
kind = "mass"
mass_kg_m2 = 3.5

[[keep_out]]
name = "drain"
centre_mm = [500, 20]
size_mm = [60, 30]
angle_deg = 90

[[keep_out]]
name = "clip"
centre_mm = [700, 200]
diameter_mm = 24

[[keep_out]]
name = "window path"
outline_mm = [[0, 560], [1000, 560], [1000, 600], [0, 600], [0, 560]]

[[layout]]
name = "partial"

[[layout.piece]]
sheet = "butyl"
face = "outer"
centre_mm = [300, 200]
size_mm = [200, 100]
angle_deg = 30
foil_edge = "held"

[[layout.piece]]
sheet = "hard pad"
outline_mm = [[500, 300], [700, 300], [600, 400]]

[[layout]]
name = "full"

[[layout.piece]]
sheet = "butyl"
everywhere = true
margin_mm = 25
hole_margin_mm = 10

[drive]
kind = "tap"
at_mm = [250, 250]
impulse_Ns = 0.03
contact_ms = 5

[band]
low_Hz = 30
high_Hz = 300
step_Hz = 1

[[listen_at]]
name = "clip"
at_mm = [710, 210]

[benefit_map]
wanted = true
sheet = "hard pad"
piece_mm = 120
spacing_mm = 40
layout = "partial"

[conditions]
temperature_C = -10

[woofer]
fs_Hz = 65
Qms = 4.5
Qes = 0.62
Qts = 0.54
Re_ohm = 3.2
Sd_cm2 = 133
Mms_g = 15
Cms_mm_per_N = 0.4
Vas_l = 10
Bl_Tm = 5.6
Rms_kg_s = 1.36
Xmax_mm = 5
nominal_ohm = 4
count = 1
mounting = "skin"
cone_centre_mm = [260, 210]
ring_centre_mm = [250, 200]
ring_diameter_mm = 155
frame_mass_kg = 1.2

[amplifier]
voltage_V = 8

[filter]
high_pass_Hz = 60
high_pass_order = 2
high_pass_type = "butterworth"
low_pass_Hz = 250
low_pass_order = 4
low_pass_type = "linkwitz-riley"

[cavity]
wanted = true
volume_l = 30
leak_area_cm2 = 20
leak_length_mm = 15
lining_loss_factor = 0.1
)job";
}

/// `text` with the first `from` replaced by `to`; empty if `from` is not in it, so that a test
/// which misses its place cannot pass.
inline std::string with(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  if (at == std::string::npos) return "";
  return text.replace(at, from.size(), to);
}

}  // namespace calmplate::testing
