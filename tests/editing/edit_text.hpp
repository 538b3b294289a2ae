// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

namespace calmplate::testing {

/// An invented small door, drawn, with layouts written by hand: comments, odd spacing, stacks.
inline std::string edit_text() {
  return R"toml(# A small door, invented.
[job]
title = "Small drawn door (invented)"

[panel]
outline_mm = [[0, 0, 40], [600, 0, 40], [600, 400, 40], [0, 400, 40]]
crown_radius_up_m = 3
thickness_mm = 0.75
loss_factor = 0.01
element_mm = 22

[[panel.edge]]
part = "rim"
hold = "clamped"

[[sheet]]
name = "butyl"
shelf = "butyl 2 mm"
price_per_sheet = 9
stock_width_mm = 500
stock_length_mm = 750

[[sheet]]
name = "bitumen"
shelf = "bitumen 2 mm"

[[sheet]]
name = "heavy"
kind = "mass"
mass_kg_m2 = 3

[[keep_out]]
name = "handle"
centre_mm = [520, 340]
size_mm = [80, 50]

# --- what is compared ---

# Two pieces, the customer's own idea.
[[layout]]          # first
name = "two pieces"

# near the middle
[[layout.piece]]
sheet = "butyl"
centre_mm = [ 2.00e2, 150.5 ]   # by tape
size_mm = [180, 120]
# the tape slipped here once

[[layout.piece]]
sheets = ["bitumen", "butyl"]
centre_mm = [430, 140]
size_mm = [150, 110]
angle_deg = 10

# A plain rest of a line.

[[layout]]
name = "mixed"

  [[layout.piece]]
  sheet     = "butyl"
  face      = "outer"
  outline_mm = [[100, 100], [260, 110], [240, 250],
                [90, 240]]      # a corner cut off

  [[layout.piece]]
  sheet     = "heavy"
  centre_mm = [400, 200]
  size_mm   = [100, 100]

[[layout]]
name = "full"
[[layout.piece]]
sheet = "bitumen"
everywhere = true
margin_mm = 20

[[layout]]
name = "to be found"
[layout.place]
sheet = "butyl"
sizes_mm = [[150, 100]]
area_m2 = 0.05

# What shakes it.
[drive]
kind = "force"
at_mm = [150, 130]

[band]
low_Hz = 40
high_Hz = 200

[benefit_map]
sheet = "butyl"
piece_mm = 120
layout = "mixed"
)toml";
}

}  // namespace calmplate::testing
