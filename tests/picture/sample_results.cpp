// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/sample_results.hpp"

#include <vtkCellData.h>
#include <vtkDoubleArray.h>
#include <vtkNew.h>
#include <vtkPointData.h>
#include <vtkPoints.h>
#include <vtkUnstructuredGrid.h>
#include <vtkXMLUnstructuredGridWriter.h>

#include <cmath>
#include <fstream>
#include <functional>
#include <iterator>
#include <limits>
#include <stdexcept>
#include <string>
#include <vector>

namespace calmplate::sample {
namespace {

using nlohmann::json;
constexpr double kPi = 3.14159265358979323846;
constexpr double kWidth = 1000.0;  // mm, at the foot of the door
constexpr double kHeight = 620.0;

struct Place {
  double x = 0.0;
  double y = 0.0;
};

/// The door: its rear edge leans forwards, its top falls a little towards the front.
Place flat(double s, double t) {
  const double top = kHeight - 50.0 * (1.0 - s) * (1.0 - s);
  const double y = t * top;
  const double left = 60.0 * (y / kHeight) * (y / kHeight);
  const double right = kWidth - 110.0 * std::pow(y / kHeight, 3.0);
  return {left + s * (right - left), y};
}

/// The handle's hole in shares of the door.
bool in_hole(double s, double t) { return s > 0.78 && s < 0.90 && t > 0.74 && t < 0.84; }

double bump(const Place& p, double x, double y, double reach) {
  return std::exp(-((p.x - x) * (p.x - x) + (p.y - y) * (p.y - y)) / (reach * reach));
}

json outline_json(const std::vector<Place>& points) {
  json list = json::array();
  for (const Place& p : points) list.push_back({p.x, p.y});
  return list;
}

/// The rim of a rectangle in shares of the door, as fine as the grid.
std::vector<Place> loop(double s0, double s1, double t0, double t1, int ns, int nt) {
  std::vector<Place> points;
  for (int i = 0; i < ns; ++i) points.push_back(flat(s0 + (s1 - s0) * i / ns, t0));
  for (int j = 0; j < nt; ++j) points.push_back(flat(s1, t0 + (t1 - t0) * j / nt));
  for (int i = ns; i > 0; --i) points.push_back(flat(s0 + (s1 - s0) * i / ns, t1));
  for (int j = nt; j > 0; --j) points.push_back(flat(s0, t0 + (t1 - t0) * j / nt));
  return points;
}

std::vector<Place> rectangle(double x, double y, double w, double h, double turn_deg = 0.0) {
  const double c = std::cos(turn_deg * kPi / 180.0);
  const double s = std::sin(turn_deg * kPi / 180.0);
  std::vector<Place> points;
  for (const Place& p : {Place{-0.5, -0.5}, Place{0.5, -0.5}, Place{0.5, 0.5}, Place{-0.5, 0.5}}) {
    points.push_back({x + c * p.x * w - s * p.y * h, y + s * p.x * w + c * p.y * h});
  }
  return points;
}

json piece(int number, const std::string& sheet, double x, double y, double w, double h, double a) {
  return {{"number", number},
          {"sheet", sheet},
          {"face", "inner"},
          {"outlines_mm", json::array({outline_json(rectangle(x, y, w, h, a))})},
          {"size_mm", {w, h}},
          {"area_m2", w * h * 1e-6},
          {"mass_kg", w * h * 1e-6 * 3.4}};
}

json everywhere() {
  json outlines = json::array();
  outlines.push_back(outline_json(loop(0.03, 0.97, 0.04, 0.96, 40, 30)));
  outlines.push_back(outline_json(loop(0.75, 0.93, 0.70, 0.88, 8, 8)));
  return {{"number", 1},
          {"sheet", "butyl 2 mm"},
          {"face", "inner"},
          {"outlines_mm", outlines},
          {"size_mm", nullptr},
          {"area_m2", 0.49},
          {"mass_kg", 1.67}};
}

/// An invented layout whose peaks are lowered by `quieter` dB.
json layout(const std::string& name, const json& pieces, double share, double quieter) {
  const bool bare = pieces.empty();
  json out = {{"name", name},
              {"pieces", pieces},
              {"area_m2", share * 0.567},
              {"share", share},
              {"mass_kg", share * 0.567 * 3.4},
              {"band_level_db", 131.4 - quieter},
              {"band_reduction_db", quieter},
              {"third_octaves", json::array()},
              {"modes", json::array()},
              {"working_map_field", nullptr}};
  if (!bare) out["working_map_field"] = "working_" + name + "_W_per_m2";
  int k = 0;
  for (const double centre : {40.0, 50.0, 63.0, 80.0, 100.0, 125.0, 160.0, 200.0, 250.0}) {
    const double lower = bare ? 0.0 : quieter * (1.0 + 0.5 * std::sin(1.7 * k++)) - 1.5;
    out["third_octaves"].push_back(
        {{"centre_hz", centre}, {"level_db", 120.0 - lower}, {"reduction_db", lower}});
  }
  for (int m = 0; m < 8; ++m) {
    const double loss = 0.004 + 0.011 * quieter / (1.0 + 0.2 * m);
    const double freq = 48.3 * (1.0 + 0.55 * m) * (1.0 - 0.05 * share);
    out["modes"].push_back({{"freq_hz", freq},
                            {"loss_factor", loss},
                            {"bending_share", 0.42 + 0.06 * m},
                            {"ring_time_s", 2.2 / (loss * freq)}});
  }
  return out;
}

json curve(const json& of_layout, const std::vector<double>& freq_hz) {
  json levels = json::array();
  for (const double f : freq_hz) {
    double power = 1e3;
    for (const json& mode : of_layout.at("modes")) {
      const double f0 = mode.at("freq_hz");
      const double loss = mode.at("loss_factor");
      const double r = f / f0;
      power += 1e9 * r * r / ((1 - r * r) * (1 - r * r) + loss * loss);
    }
    levels.push_back(10.0 * std::log10(power));
  }
  return levels;
}

json panel_json(const SampleOptions& o) {
  json outlines = json::array();
  outlines.push_back(outline_json(loop(0, 1, 0, 1, o.along, o.upright)));
  outlines.push_back(outline_json(loop(0.78, 0.90, 0.74, 0.84, 12, 6)));
  json rim = json::array();
  rim.push_back({{"name", "bottom"}, {"hold", "springs"}, {"length_mm", 1000.0}});
  rim.push_back({{"name", "right"}, {"hold", "springs"}, {"length_mm", 633.0}});
  rim.push_back({{"name", "top"}, {"hold", "simply-supported"}, {"length_mm", 834.0}});
  rim.push_back({{"name", "left"}, {"hold", "springs"}, {"length_mm", 573.0}});
  rim.push_back({{"name", "hole-1"}, {"hold", "free"}, {"length_mm", 322.0}});
  json keep_outs = json::array();
  keep_outs.push_back(
      {{"name", "window rail"}, {"outline_mm", outline_json(rectangle(285, 420, 50, 180, 6))}});
  keep_outs.push_back(
      {{"name", "drain"}, {"outline_mm", outline_json(rectangle(520, 24, 90, 26))}});
  return {{"size_flat_mm", {1000.0, 620.0}},
          {"area_m2", 0.567},
          {"thickness_mm", 0.7},
          {"outlines_mm", outlines},
          {"rim", rim},
          {"keep_outs", keep_outs}};
}

json results_json(const SampleOptions& o) {
  json layouts = json::array();
  layouts.push_back(layout("bare", json::array(), 0.0, 0.0));
  json partial = json::array();
  partial.push_back(piece(1, "butyl 2 mm", 300, 200, 300, 200, 0));
  partial.push_back(piece(2, "butyl 2 mm", 620, 250, 250, 200, 0));
  partial.push_back(piece(3, "butyl 3 mm with thick foil", 560, 470, 200, 150, -12));
  partial.push_back(piece(4, "butyl 2 mm", 860, 180, 80, 60, 0));
  layouts.push_back(layout("partial", partial, 0.25, 8.3));
  layouts.push_back(layout("full", json::array({everywhere()}), 0.86, 15.2));
  json best = json::array();
  best.push_back(piece(1, "butyl 2 mm", 470, 300, 300, 250, 0));
  best.push_back(piece(2, "butyl 2 mm", 760, 280, 150, 250, 0));
  layouts.push_back(layout("best placed", best, 0.198, 10.1));
  std::vector<double> freq;
  for (int k = 0; k <= 900; ++k) freq.push_back(30.0 * std::pow(400.0 / 30.0, k / 900.0));
  json levels = json::object();
  for (const json& one : layouts) levels[one.at("name").get<std::string>()] = curve(one, freq);
  json drive = {{"kind", "force"}, {"text", "1 N at (300, 200) mm"}, {"at_mm", {300.0, 200.0}}};
  json best_place = {{"centre_mm", {430.0, 300.0}}, {"benefit_db", 4.9}};
  return {{"schema", "calmplate-results"},
          {"schema_version", 1},
          {"job", {{"title", "Estate front door, left"}, {"note", "invented example"}}},
          {"panel", panel_json(o)},
          {"band", {{"low_hz", 40}, {"high_hz", 250}}},
          {"drive", drive},
          {"curves", {{"freq_hz", freq}, {"level_db", levels}, {"unit", "dB re 1 nm/s"}}},
          {"layouts", layouts},
          {"benefit_map",
           {{"sheet", "butyl 2 mm"},
            {"piece_mm", 150},
            {"field", "benefit_dB"},
            {"best", best_place}}}};
}

/// The mesh under construction, with the grid place of every point.
struct Grid {
  std::vector<Place> share;  ///< [n_point] s, t
  std::vector<std::array<vtkIdType, 3>> triangles;
};

Grid make_grid(const SampleOptions& o) {
  Grid grid;
  for (int j = 0; j <= o.upright; ++j) {
    for (int i = 0; i <= o.along; ++i) {
      grid.share.push_back({double(i) / o.along, double(j) / o.upright});
    }
  }
  const auto id = [&](int i, int j) { return vtkIdType(j * (o.along + 1) + i); };
  for (int j = 0; j < o.upright; ++j) {
    for (int i = 0; i < o.along; ++i) {
      if (in_hole((i + 0.5) / o.along, (j + 0.5) / o.upright)) continue;
      grid.triangles.push_back({id(i, j), id(i + 1, j), id(i + 1, j + 1)});
      grid.triangles.push_back({id(i, j), id(i + 1, j + 1), id(i, j + 1)});
    }
  }
  return grid;
}

void add_array(vtkFieldData& to,
               const std::string& name,
               std::size_t count,
               const std::function<double(std::size_t)>& value) {
  vtkNew<vtkDoubleArray> array;
  array->SetName(name.c_str());
  for (std::size_t k = 0; k < count; ++k) array->InsertNextValue(value(k));
  to.AddArray(array);
}

double benefit(const SampleOptions& o, double s, double t) {
  const Place p = flat(s, t);
  if (o.left_half_high) return p.x < 500.0 ? 10.0 : 0.0;
  const bool near_rim =
      p.x < 75 + 60 * t * t || p.x > 925 - 110 * t * t * t || p.y < 75 || t > 0.875;
  const bool near_hole = s > 0.70 && s < 0.98 && t > 0.62 && t < 0.96;
  if (o.with_holes_in_field && (near_rim || near_hole)) {
    return std::numeric_limits<double>::quiet_NaN();
  }
  return 0.4 + 4.5 * bump(p, 430, 300, 150) + 2.6 * bump(p, 720, 220, 140) +
         1.2 * bump(p, 180, 180, 90);
}

void add_fields(vtkUnstructuredGrid& mesh,
                const Grid& grid,
                const json& results,
                const SampleOptions& o) {
  vtkNew<vtkDoubleArray> map;
  map->SetName("flat_map_mm");
  map->SetNumberOfComponents(3);
  for (const Place& st : grid.share) {
    const Place p = flat(st.x, st.y);
    map->InsertNextTuple3(p.x, p.y, 0.0);
  }
  mesh.GetPointData()->AddArray(map);
  const std::size_t points = grid.share.size();
  add_array(*mesh.GetPointData(), "benefit_dB", points, [&](std::size_t k) {
    return benefit(o, grid.share[k].x, grid.share[k].y);
  });
  const int waves[6][2] = {{1, 1}, {2, 1}, {1, 2}, {3, 1}, {2, 2}, {3, 2}};
  for (const json& one : results.at("layouts")) {
    const std::string name = one.at("name");
    for (std::size_t m = 0; m < 6; ++m) {
      add_array(*mesh.GetPointData(),
                "mode_" + name + "_" + std::to_string(m + 1),
                points,
                [&](std::size_t k) {
                  const Place& st = grid.share[k];
                  return std::sin(waves[m][0] * kPi * st.x) * std::sin(waves[m][1] * kPi * st.y);
                });
    }
    if (o.with_velocity) {
      const bool bare = name == "bare";
      add_array(*mesh.GetPointData(), "velocity_" + name, points, [&](std::size_t k) {
        const double s = grid.share[k].x;
        if (bare) return s < 0.5 ? 160.0 : 140.0;
        return s == 0.0 ? -std::numeric_limits<double>::infinity() : 150.0;
      });
    }
    const auto centre = [&](std::size_t c) {
      const Place& a = grid.share[std::size_t(grid.triangles[c][0])];
      const Place& b = grid.share[std::size_t(grid.triangles[c][1])];
      return flat(0.5 * (a.x + b.x), 0.5 * (a.y + b.y));
    };
    add_array(*mesh.GetCellData(),
              "working_" + name + "_W_per_m2",
              grid.triangles.size(),
              [&](std::size_t c) {
                const Place p = centre(c);
                return 3e-4 * (bump(p, 430, 300, 140) + 0.6 * bump(p, 700, 220, 100) + 0.05);
              });
  }
}

}  // namespace

void write_json(const std::filesystem::path& folder, const json& results) {
  std::ofstream(folder / "results.json") << results.dump(1) << "\n";
}

void rename_in_mesh(const std::filesystem::path& folder,
                    const std::string& from,
                    const std::string& to) {
  const std::filesystem::path file = folder / "panel.vtu";
  std::ifstream in(file, std::ios::binary);
  std::string bytes{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
  in.close();
  const std::size_t at = bytes.find("\"" + from + "\"");
  if (at == std::string::npos) throw std::logic_error("rename_in_mesh: no array " + from);
  bytes.replace(at + 1, from.size(), to);
  std::ofstream(file, std::ios::binary) << bytes;
}

json write_sample(const std::filesystem::path& folder, const SampleOptions& options) {
  std::filesystem::create_directories(folder);
  const json results = results_json(options);
  write_json(folder, results);
  const Grid grid = make_grid(options);
  vtkNew<vtkPoints> points;
  points->SetDataTypeToDouble();
  for (const Place& st : grid.share) {
    const Place p = flat(st.x, st.y);
    // Crowned towards -y, which is outside: the flat map's x runs along x and its y along z.
    const double crown = 0.035 * (1.0 - std::pow(2.0 * st.x - 1.0, 2.0)) +
                         0.06 * (1.0 - std::pow(2.0 * st.y - 1.0, 2.0));
    points->InsertNextPoint(1e-3 * p.x, -crown, 1e-3 * p.y);
  }
  vtkNew<vtkUnstructuredGrid> mesh;
  mesh->SetPoints(points);
  for (const auto& t : grid.triangles) mesh->InsertNextCell(VTK_TRIANGLE, 3, t.data());
  add_fields(*mesh, grid, results, options);
  vtkNew<vtkXMLUnstructuredGridWriter> writer;
  writer->SetFileName((folder / "panel.vtu").c_str());
  writer->SetInputData(mesh);
  writer->Write();
  return results;
}

}  // namespace calmplate::sample
