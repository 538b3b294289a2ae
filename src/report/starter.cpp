// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/starter.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>
#include <nlohmann/json.hpp>

#include "base/input_error.hpp"
#include "report/text_table.hpp"

namespace calmplate::report {
namespace {

constexpr double kSmallestHoleMm = 50.0, kLargestHole = 0.32;  // of the height
constexpr Share kWooferHole{0.27, 0.27};
constexpr double kClearMm = 12.0;
constexpr double kPads[] = {0.16, 0.39, 0.61, 0.84};  // of the beam's length

const char* const kTemplate = R"toml(# {title}
#
# Written as a start for {words}. Every figure below is invented:
# put your own in place of it. The file runs as it is:
#
#   calmplate check {file}
#   calmplate run {file} -o {folder}
#
# All places are in mm along the skin, the way a tape lies on it, seen from OUTSIDE the car: x to the
# right, y up. Choose where [0, 0] lies, such as the lower left corner, and measure all from there.

[job]
title = "{title}"
note = "A start for {words}; invented until it is measured."
currency = "EUR"

# THE SKIN. Its corners in order, each [x, y] or [x, y, corner radius]. Where a side bows out, bow_mm
# says by how much in its middle, one number a side, the first from point 1 to point 2; below 0: hollow.
[panel]
outline_mm = [
{outline}]
bow_mm = [{bows}]
thickness_mm = {thickness}         # with a micrometer at a hole, without the paint
material = "{material}"
loss_factor = 0.01          # bare skin as it hangs in the door

# THE CROWN, which counts more than anything else. Lay a straight edge of length L on the skin and
# measure the gap h under its middle (on a bulging skin: lift both ends alike, and take the difference).
# Radius in m = L x L / (8000 h), L and h in mm. Left out: straight that way.
{crown}
{holes}{swages}# The dish of the handle, measured across its opening.
[[panel.recess]]
centre_mm = {recess}
size_mm = {recess_size}
depth_mm = {recess_depth}

# WHAT HOLDS IT. The hem: the skin's flange, folded over the inner panel and glued. Stiff, not rigid.
[[panel.edge]]
part = "rim"
hold = "springs"
normal_N_per_mm2 = 20
in_plane_N_per_mm2 = 20
rotation_N_per_rad = 400
loss_factor = 0.05

# The side-impact beam behind the skin, on pads of mastic: where the pads are, from its first end.
[[stiffener]]
name = "side-impact beam"
from_mm = {beam_from}
to_mm = {beam_to}
area_mm2 = {beam_area}
inertia_normal_mm4 = {beam_inertia}
offset_mm = 28
material = "{material}"
pads_mm = [{pads}]
pad_stiffness_N_per_mm = 25
pad_shear_N_per_mm = 8
pad_loss_factor = 0.3

# THE SHELF. Two of the built-in generic sheets (calmplate sheet list); prices are invented. Or describe
# your own by the figures of its datasheet.
[[sheet]]
name = "butyl 2 mm, foil 0.1"
shelf = "butyl 2 mm"

[[sheet]]
name = "bitumen 2 mm"
shelf = "bitumen 2 mm"

# Where no sheet may go.
[[keep_out]]
name = "handle"
centre_mm = {recess}
size_mm = {handle_size}

[[keep_out]]
name = "drain holes"
outline_mm = {drains}

# WAYS OF LAYING IT, to be compared with each other and with the bare skin.
{layouts}[[layout]]
name = "full"

[[layout.piece]]
sheet = "butyl 2 mm, foil 0.1"
everywhere = true
margin_mm = 20
hole_margin_mm = 15

# WHAT SHAKES IT: a force of 1 N at one place, over the band of the woofer.
[drive]
kind = "force"
at_mm = {drive}
force_N = 1.0

[band]
low_Hz = 40
high_Hz = 250

[[listen_at]]
name = "wiring clip"
at_mm = {clip}

# Where one more piece would help most.
[benefit_map]
sheet = "butyl 2 mm, foil 0.1"
piece_mm = 150
spacing_mm = 50

[conditions]
temperature_C = 20
)toml";

std::string whole(double value) { return fixed(std::round(value) + 0.0, 0); }

/// A number with as few decimals as it needs.
std::string plain(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.6g", value);
  return text;
}

std::string point(double x, double y) { return "[" + whole(x) + ", " + whole(y) + "]"; }

/// For a text in quotes in the file.
std::string quoted(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out;
}

std::string as_argument(const std::string& name) {
  return name.find(' ') == std::string::npos ? name : "\"" + name + "\"";
}

/// The door at its size: places and lengths in mm.
struct Scale {
  const StarterDoor& door;
  double width, height, small;

  std::string at(const Share& s) const { return point(s.x * width, s.y * height); }
  double length(double mm) const { return small * mm; }
};

std::string hole_text(const Scale& scale, const StarterOptions& options) {
  const StarterDoor& d = scale.door;
  std::string out =
      "# HOLES: round, slots, or any line.\n[[panel.hole]]\ncentre_mm = " + scale.at(d.slot) +
      "    # the handle's lever\nlength_mm = " + whole(scale.length(38.0)) +
      "\nwidth_mm = " + whole(scale.length(16.0)) + "\n\n";
  if (d.lock)
    out += "[[panel.hole]]\ncentre_mm = " + scale.at(*d.lock) +
           "    # the lock\ndiameter_mm = " + whole(scale.length(20.0)) + "\n\n";
  if (options.woofer_hole_mm)
    out += "[[panel.hole]]\ncentre_mm = " + scale.at(kWooferHole) +
           "    # the woofer\ndiameter_mm = " + plain(*options.woofer_hole_mm) + "\n\n";
  return out;
}

std::string swage_text(const Scale& scale) {
  std::string out;
  for (const StarterSwage& s : scale.door.swages) {
    if (out.empty())
      out = "# SWAGE LINES: ridges, or grooves with a height below 0, from foot to foot.\n";
    out += "[[panel.swage]]\nfrom_mm = " + scale.at(s.from) + "\nto_mm = " + scale.at(s.to) +
           "\nwidth_mm = " + whole(scale.length(s.width_mm)) +
           "\nheight_mm = " + plain(std::round(10.0 * scale.length(s.height_mm)) / 10.0) + "\n\n";
  }
  return out;
}

/// True if a piece lies clear of the woofer's hole.
bool clear(const Scale& scale, const ShareBox& box, const StarterOptions& options) {
  if (!options.woofer_hole_mm) return true;
  const double dx = std::max(
      0.0, std::abs(box.centre.x - kWooferHole.x) * scale.width - 0.5 * box.size.x * scale.width);
  const double dy = std::max(
      0.0, std::abs(box.centre.y - kWooferHole.y) * scale.height - 0.5 * box.size.y * scale.height);
  return std::hypot(dx, dy) > 0.5 * *options.woofer_hole_mm + kClearMm;
}

std::string layout_text(const Scale& scale,
                        const std::string& name,
                        const std::vector<ShareBox>& boxes,
                        const StarterOptions& options) {
  std::string out = "[[layout]]\nname = \"" + name + "\"\n\n";
  for (const ShareBox& box : boxes)
    if (clear(scale, box, options))
      out += "[[layout.piece]]\nsheet = \"butyl 2 mm, foil 0.1\"\ncentre_mm = " +
             scale.at(box.centre) + "\nsize_mm = " + scale.at(box.size) + "\n\n";
  return out;
}

std::string crown_text(const StarterDoor& d) {
  std::string out;
  if (d.crown_up_m > 0.0) out += "crown_radius_up_m = " + plain(d.crown_up_m) + "\n";
  if (d.crown_along_m > 0.0) out += "crown_radius_along_m = " + plain(d.crown_along_m) + "\n";
  return out;
}

const StarterDoor& door_of(const std::string& kind) {
  std::vector<std::string> kinds;
  std::string all;
  for (const StarterDoor& d : starter_doors()) {
    if (d.kind == kind) return d;
    kinds.push_back(d.kind);
    all += (all.empty() ? "" : ", ") + d.kind;
  }
  const std::string near = base::nearest_word(kind, kinds.data(), kinds.size());
  throw base::InputError(
      {"", 0, "--kind"},
      "is \"" + kind + "\"" + (near.empty() ? "" : " (did you mean " + near + "?)"),
      all);
}

double in_range(const char* option, double value, double low, double high) {
  if (!(value >= low && value <= high))
    throw base::InputError(
        {"", 0, option}, "is " + plain(value) + " mm", plain(low) + " to " + plain(high) + " mm");
  return value;
}

std::string filled(const std::map<std::string, std::string>& words) {
  std::string out;
  for (const char* c = kTemplate; *c != '\0'; ++c) {
    if (*c != '{') {
      out += *c;
      continue;
    }
    std::string key;
    for (++c; *c != '}'; ++c) key += *c;
    out += words.at(key);
  }
  return out;
}

}  // namespace

std::string starter_job(const StarterOptions& options) {
  const StarterDoor& d = door_of(options.kind);
  const double width =
      in_range("--width-mm", options.width_mm.value_or(d.width_mm), kNarrowestMm, kWidestMm);
  const double height =
      in_range("--height-mm", options.height_mm.value_or(d.height_mm), kLowestMm, kTallestMm);
  const double thickness =
      in_range("--thickness-mm", options.thickness_mm.value_or(d.thickness_mm), 0.2, 5.0);
  const std::string material = options.material.value_or(d.material);
  if (material != "steel" && material != "aluminium")
    throw base::InputError({"", 0, "--material"}, "is \"" + material + "\"", "steel, aluminium");
  if (options.woofer_hole_mm)
    in_range("--woofer-hole-mm", *options.woofer_hole_mm, kSmallestHoleMm, kLargestHole * height);
  const Scale scale{d, width, height, std::min({1.0, width / d.width_mm, height / d.height_mm})};

  std::string outline, bows, pads;
  for (const StarterCorner& c : d.corners) {
    outline += "  [" + whole(c.at.x * width) + ", " + whole(c.at.y * height) + ", " +
               whole(scale.length(c.radius_mm)) + "],\n";
    bows += (bows.empty() ? "" : ", ") + whole(scale.length(c.bow_mm));
  }
  const double beam =
      std::hypot((d.beam_to.x - d.beam_from.x) * width, (d.beam_to.y - d.beam_from.y) * height);
  for (const double pad : kPads) pads += (pads.empty() ? "" : ", ") + whole(pad * beam);
  const double drain = std::min(30.0, 0.05 * height);
  const double recess_length = scale.length(d.recess_length_mm);
  const double recess_height = scale.length(d.recess_height_mm);
  const std::string folder = options.file.substr(0, options.file.rfind('.')) + "_results";
  return filled({{"title", quoted(options.title)},
                 {"words", d.words},
                 {"file", as_argument(options.file)},
                 {"folder", as_argument(folder)},
                 {"outline", outline},
                 {"bows", bows},
                 {"thickness", plain(thickness)},
                 {"material", material},
                 {"crown", crown_text(d)},
                 {"holes", hole_text(scale, options)},
                 {"swages", swage_text(scale)},
                 {"recess", scale.at(d.recess)},
                 {"recess_size", point(recess_length, recess_height)},
                 {"recess_depth", whole(scale.length(d.recess_depth_mm))},
                 {"handle_size",
                  point(recess_length + scale.length(50.0), recess_height + scale.length(50.0))},
                 {"drains",
                  "[" + point(0.06 * width, 0.0) + ", " + point(0.95 * width, 0.0) + ", " +
                      point(0.95 * width, drain) + ", " + point(0.06 * width, drain) + "]"},
                 {"beam_from", scale.at(d.beam_from)},
                 {"beam_to", scale.at(d.beam_to)},
                 {"beam_area", whole(d.beam_area_mm2)},
                 {"beam_inertia", whole(d.beam_inertia_mm4)},
                 {"pads", pads},
                 {"layouts",
                  layout_text(scale, "centre block", d.centre_block, options) +
                      layout_text(scale, "partial", d.partial, options)},
                 {"drive", scale.at({0.58, 0.28})},
                 {"clip", scale.at({0.55, 0.60})}});
}

std::string starter_words(const StarterOptions& options) {
  return "Wrote " + options.file + ": " + door_of(options.kind).words +
         ", drawn. Every figure in it is invented: put your own in place.\nNext: calmplate check " +
         as_argument(options.file) + "\n";
}

std::string starter_json(const StarterOptions& options) {
  const nlohmann::json out = {{"schema", "calmplate-start"},
                              {"schema_version", 1},
                              {"file", options.file},
                              {"kind", options.kind},
                              {"title", options.title}};
  return out.dump(1) + "\n";
}

}  // namespace calmplate::report
