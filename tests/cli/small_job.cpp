// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/small_job.hpp"

#include <filesystem>
#include <fstream>
#include <functional>
#include <iterator>
#include <sstream>
#include <stdexcept>

namespace calmplate::cli {
namespace {

/// Adds a grid of squares to an OBJ text; its points are counted from `first`.
int add_grid(std::ostream& obj,
             int first,
             int nx,
             int ny,
             const std::function<void(double, double)>& add_point) {
  for (int j = 0; j <= ny; ++j)
    for (int i = 0; i <= nx; ++i) add_point(double(i) / nx, double(j) / ny);
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) {
      const int a = first + j * (nx + 1) + i, b = a + 1, d = a + nx + 1, c = d + 1;
      obj << "f " << a << " " << b << " " << c << "\nf " << a << " " << c << " " << d << "\n";
    }
  return first + (nx + 1) * (ny + 1);
}

std::string file_text(const std::string& file) {
  std::ifstream stream(file, std::ios::binary);
  if (!stream) throw std::runtime_error("cannot read " + file);
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

}  // namespace

std::string plate_obj(double length, double width, int nx, int ny) {
  std::ostringstream obj;
  add_grid(obj, 1, nx, ny, [&](double u, double v) {
    obj << "v " << length * u << " " << width * v << " 0\n";
  });
  return obj.str();
}

std::string box_obj(double length, double width, double height) {
  // The six faces share no points; the program welds them.
  std::ostringstream obj;
  int first = 1;
  const auto face = [&](const std::function<void(double, double)>& point) {
    first = add_grid(obj, first, 6, 6, point);
  };
  const auto v = [&](double x, double y, double z) {
    obj << "v " << length * x << " " << width * y << " " << height * z << "\n";
  };
  face([&](double s, double t) { v(t, s, 0); });
  face([&](double s, double t) { v(s, t, 1); });
  face([&](double s, double t) { v(s, 0, t); });
  face([&](double s, double t) { v(t, 1, s); });
  face([&](double s, double t) { v(0, t, s); });
  face([&](double s, double t) { v(1, s, t); });
  return obj.str();
}

std::string small_job() {
  return R"toml([job]
title = "Small plate (invented)"

[panel]
mesh = "plate.obj"
element_mm = 0
thickness_mm = 0.8

[[panel.edge]]
part = "rim"
hold = "clamped"

[[sheet]]
name = "butyl"
kind = "constrained"
core_thickness_mm = 2.0
core_density_kg_m3 = 1700
core_shear_MPa = 1.0
core_loss_factor = 0.9
foil_thickness_mm = 0.1

[[keep_out]]
name = "drain"
centre_mm = [440, 20]
size_mm = [80, 20]

[[layout]]
name = "patch"

[[layout.piece]]
sheet = "butyl"
centre_mm = [250, 200]
size_mm = [200, 150]

[[layout]]
name = "full"

[[layout.piece]]
sheet = "butyl"
everywhere = true
margin_mm = 25

[drive]
kind = "force"
at_mm = [150, 130]

[band]
low_Hz = 30
high_Hz = 120
step_Hz = 1

[[listen_at]]
name = "clip"
at_mm = [350, 250]

[benefit_map]
piece_mm = 150
spacing_mm = 100
)toml";
}

const char* const kWoofer = R"toml([woofer]
fs_Hz = 65
Qms = 4.5
Qes = 0.62
Re_ohm = 3.2
Mms_g = 15
Sd_cm2 = 133
Xmax_mm = 5
nominal_ohm = 4
cone_centre_mm = [150, 130]

[amplifier]
power_W = 25

[filter]
high_pass_Hz = 50
low_pass_Hz = 200
low_pass_order = 4

[cavity]
volume_l = 58
leak_area_cm2 = 20
)toml";

const char* const kDrive = "[drive]\nkind = \"force\"\nat_mm = [150, 130]\n";

std::string woofer_job() {
  return changed(changed(small_job(), kDrive, kWoofer),
                 "at_mm = [350, 250]\n",
                 "at_mm = [350, 250]\nholds_g = 8\npreload_N = 0.4\n");
}

std::string changed(std::string text, const std::string& part, const std::string& by) {
  const std::size_t at = text.find(part);
  if (at == std::string::npos) throw std::invalid_argument("no \"" + part + "\" in the text");
  return text.replace(at, part.size(), by);
}

void write_small_job(const Folder& folder) {
  folder.write("plate.obj", plate_obj(0.5, 0.4, 16, 13));
  folder.write("job.toml", small_job());
}

void write_test_plate(const Folder& folder) {
  const std::string meshes = CALMPLATE_MESHES;
  folder.write("plate.vtp", file_text(meshes + "/flat_test_plate.vtp"));
  folder.write(
      "job.toml",
      changed(file_text(meshes + "/flat_test_plate.toml"), "flat_test_plate.vtp", "plate.vtp"));
}

}  // namespace calmplate::cli
