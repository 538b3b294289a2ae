// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <nlohmann/json.hpp>

#include "panel/cover.hpp"
#include "reduced/complex_modes.hpp"
#include "reduced/full_reduction.hpp"
#include "shell/panel_model.hpp"
#include "support/test_meshes.hpp"

namespace {

using namespace calmplate;
using Json = nlohmann::json;

Json read_case(const std::string& name) {
  std::ifstream file(std::string(CALMPLATE_PEER_DATA) + "/" + name + ".json");
  REQUIRE(file.good());
  return Json::parse(file);
}

sheet::Material material(const Json& layer) {
  return {
      layer["name"], layer["young_pa"], layer["poisson"], layer["density_kg_m3"], layer["loss"]};
}

/// The sheets of a case, from the skin outwards: pairs of core and foil.
std::vector<sheet::Sheet> sheets(const Json& layers) {
  std::vector<sheet::Sheet> out;
  for (std::size_t i = 0; i + 1 < layers.size(); i += 2) {
    const Json &core = layers[i], &foil = layers[i + 1];
    sheet::Sheet s;
    s.name = "ply " + std::to_string(i / 2 + 1);
    s.core_thickness_m = core["thickness_m"];
    s.core_density = core["density_kg_m3"];
    const double shear =
        core["young_pa"].get<double>() / (2.0 * (1.0 + core["poisson"].get<double>()));
    s.core_modulus = std::make_shared<sheet::ConstantModulus>(shear, core["loss"].get<double>());
    s.foil_thickness_m = foil["thickness_m"];
    s.foil = material(foil);
    out.push_back(s);
  }
  return out;
}

reduced::ComplexModes shell_modes(const Json& c, double top_hz) {
  const double length = c["length_m"], width = c["width_m"], radius = c["radius_m"];
  // Elements of 5 mm. With 10 mm the frequencies agree as well, but the loss of modes whose waves
  // are as short as the piece is up to 5 % too high.
  const panel::Mesh mesh = radius > 0.0 ? testing::cylinder_panel(length, width, radius, 80, 60)
                                        : testing::flat_plate(length, width, 80, 60);
  panel::PanelOptions options;
  options.outward = Eigen::Vector3d::UnitZ();
  const panel::Panel panel = panel::make_panel(mesh, options, "peer");
  shell::EdgeInput rim;
  rim.part = "rim";
  rim.hold = shell::Hold::clamped;
  const double thickness = c["skin"]["thickness_m"];
  const shell::Skin skin =
      shell::make_skin(panel, shell::plate_of(material(c["skin"]), thickness), 0.0, {rim});
  const std::vector<sheet::Sheet> plies = sheets(c["sheet"]);
  std::vector<shell::LaidPiece> pieces;
  if (!plies.empty()) {
    const auto p = c["piece_m"].get<std::vector<double>>();
    panel::Region region;
    region.outline = panel::rectangle(
        {0.5 * (p[0] + p[2]), 0.5 * (p[1] + p[3])}, {p[2] - p[0], p[3] - p[1]}, 0.0);
    shell::LaidPiece piece;
    piece.covered = panel::cover(panel, region);
    for (const sheet::Sheet& s : plies) piece.plies.push_back(&s);
    piece.outer_face = c["face"].get<int>() > 0;
    pieces.push_back(piece);
  }
  const shell::PanelModel model = shell::build_model(skin, {}, pieces);
  reduced::Ports ports;
  ports.load = Eigen::VectorXd::Zero(skin.n_dof);
  ports.listen.resize(0, skin.n_dof);
  reduced::ReductionOptions o;
  o.top_hz = 2.0 * top_hz;
  o.reference_hz = 100.0;
  o.air_faces = 0;
  return reduced::complex_modes(reduced::reduce_full(skin, model, ports, o, {}).model, top_hz);
}

// Source: [crosscheck] three-dimensional elasticity by GetFEM and SciPy,
// tests/peers/elasticity_3d.py, whose files name versions, meshes and estimated errors (below 0.01
// % in frequency, 0.4 % in loss).
void compare(const std::string& name, double freq_rule, double loss_rule, std::size_t modes) {
  const Json data = read_case(name);
  const auto freq = data["freq_hz"].get<std::vector<double>>();
  const auto loss = data["loss_factor"].get<std::vector<double>>();
  const std::size_t count = std::min(modes, freq.size());
  const reduced::ComplexModes shell = shell_modes(data["case"], 1.05 * freq[count - 1]);
  REQUIRE(static_cast<std::size_t>(shell.freq_hz.size()) >= count);
  std::printf("%-16s mode    shell Hz    solid Hz   diff %%   shell loss  solid loss   diff %%\n",
              name.c_str());
  for (std::size_t i = 0; i < count; ++i) {
    const auto j = static_cast<Eigen::Index>(i);
    const double df = shell.freq_hz(j) / freq[i] - 1.0;
    const double dl = loss[i] > 0.0 ? shell.loss_factor(j) / loss[i] - 1.0 : 0.0;
    std::printf("%21zu %11.3f %11.3f %8.2f %12.5f %11.5f %8.2f\n",
                i + 1,
                shell.freq_hz(j),
                freq[i],
                100.0 * df,
                shell.loss_factor(j),
                loss[i],
                100.0 * dl);
    CAPTURE(name, i + 1, shell.freq_hz(j), freq[i], shell.loss_factor(j), loss[i]);
    CHECK(std::abs(df) < freq_rule);
    CHECK(std::abs(dl) < loss_rule);
  }
}

}  // namespace

TEST_CASE("a bare clamped plate has the frequencies of a solid one", "[peers][crosscheck]") {
  compare("flat_bare", 0.005, 0.02, 10);
}

TEST_CASE("a plate with a piece has the frequencies and losses of a solid one",
          "[peers][crosscheck]") {
  compare("flat_centred", 0.005, 0.02, 10);
  compare("flat_corner", 0.005, 0.02, 10);
}

TEST_CASE("a thin stiff core under the foil agrees with a solid one", "[peers][crosscheck]") {
  compare("flat_stiff_core", 0.005, 0.02, 10);
}

TEST_CASE("a crowned skin with a piece on either face agrees with a solid one",
          "[peers][crosscheck]") {
  for (const char* name : {"curved_bare", "curved_concave", "curved_convex"})
    compare(name, 0.005, 0.02, 10);
}

TEST_CASE("two sheets on top of each other agree with a solid stack", "[peers][crosscheck]") {
  compare("flat_two_sheets", 0.01, 0.05, 6);
}
