// SPDX-License-Identifier: GPL-3.0-or-later
#include "study/unknowns.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <memory>
#include <stdexcept>
#include <utility>

#include "base/parallel.hpp"
#include "panel/mesh.hpp"

namespace calmplate::study {
namespace {

constexpr double kCoarser = 1.5;

/// Between the ends of a range, evenly in the logarithm for factors.
double within(const job::Spread& range, double at, bool logarithmic) {
  return logarithmic ? range.low * std::pow(range.high / range.low, at)
                     : range.low + (range.high - range.low) * at;
}

std::string figure(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.3g", value);
  return text;
}

std::vector<std::string> ranges_of(const job::UnknownsInput& u) {
  std::vector<std::string> out;
  const auto add = [&](const std::string& name,
                       const std::optional<job::Spread>& range,
                       double factor,
                       double offset,
                       const std::string& unit) {
    if (range)
      out.push_back(name + " " + figure(factor * (range->low + offset)) + " to " +
                    figure(factor * (range->high + offset)) + unit);
  };
  add("hold of the rim", u.edge_factor, 1.0, 0.0, " times as stiff");
  add("pads and springs", u.pad_factor, 1.0, 0.0, " times as stiff");
  add("crown", u.crown_factor, 1.0, 0.0, " times as high");
  add("sheet", u.modulus_factor, 1.0, 0.0, " times as stiff");
  add("thickness", u.thickness_m, 1e3, 0.0, " mm");
  add("temperature", u.temperature_k, 1.0, -273.15, " C");
  return out;
}

/// Figures of one layout at one draw, and how they are read out of a study.
struct Figures {
  double reduction_db = 0.0, first_hz = 0.0, first_loss = 0.0;
};

Figures figures_of(const std::vector<LayoutResult>& studied, std::size_t i) {
  Figures f;
  f.reduction_db = studied[0].band_level_db - studied[i].band_level_db;
  if (!studied[i].modes.empty()) {
    f.first_hz = studied[i].modes.front().freq_hz;
    f.first_loss = studied[i].modes.front().loss_factor;
  }
  return f;
}

/// Low and high of a figure: the record's own with what the draws add to or take from it.
LowHigh around(double record, double middle, const std::vector<double>& drawn) {
  LowHigh out{record, record};
  for (const double value : drawn) {
    out.low = std::min(out.low, record + value - middle);
    out.high = std::max(out.high, record + value - middle);
  }
  return out;
}

/// Whether the order of the layouts by reduction holds at every draw.
std::string ranking_sentence(const Results& record,
                             const std::vector<std::vector<LayoutResult>>& draws) {
  std::vector<std::size_t> order;
  for (std::size_t i = 1; i < record.layouts.size(); ++i) order.push_back(i);
  const auto reduction = [&](const std::vector<LayoutResult>& s, std::size_t i) {
    return s[0].band_level_db - s[i].band_level_db;
  };
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return reduction(record.layouts, a) > reduction(record.layouts, b);
  });
  if (order.size() < 2) return "";
  const std::string count = std::to_string(draws.size());
  std::string changes;
  for (std::size_t k = 0; k + 1 < order.size(); ++k) {
    int turned = 0;
    for (const auto& s : draws) turned += reduction(s, order[k + 1]) > reduction(s, order[k]);
    if (turned > 0)
      changes += (changes.empty() ? "" : "; ") + ("\"" + record.layouts[order[k]].name) +
                 "\" and \"" + record.layouts[order[k + 1]].name + "\" change places in " +
                 std::to_string(turned) + " of " + count;
  }
  if (!changes.empty()) return "The order does not hold over all that is unknown: " + changes + ".";
  std::string names;
  for (const std::size_t i : order)
    names += (names.empty() ? "\"" : ", then \"") + record.layouts[i].name + "\"";
  return "The order " + names + " holds in all " + count + " draws of what is unknown.";
}

}  // namespace

Eigen::MatrixXd even_points(int n, int d) {
  if (n < 1 || d < 1) throw std::invalid_argument("even_points: n and d must be at least 1");
  double g = 1.5;
  for (int step = 0; step < 100; ++step) g = std::pow(1.0 + g, 1.0 / (d + 1.0));
  Eigen::MatrixXd out(n, d);
  for (int i = 0; i < n; ++i)
    for (int j = 0; j < d; ++j) {
      const double at = 0.5 + (i + 1.0) * std::pow(g, -(j + 1.0));
      out(i, j) = at - std::floor(at);
    }
  return out;
}

Draw draw_at(const job::Job& job, const Eigen::VectorXd& at) {
  const job::UnknownsInput& u = job.unknowns;
  Draw out;
  out.thickness_m = job.thickness_m;
  out.temperature_k = job.temperature_k;
  Eigen::Index next = 0;
  const auto take = [&](const std::optional<job::Spread>& range, bool logarithmic, double& value) {
    if (range) value = within(*range, at(next++), logarithmic);
  };
  take(u.edge_factor, true, out.edge_factor);
  take(u.pad_factor, true, out.pad_factor);
  take(u.crown_factor, false, out.crown_factor);
  take(u.modulus_factor, true, out.modulus_factor);
  take(u.thickness_m, false, out.thickness_m);
  take(u.temperature_k, false, out.temperature_k);
  return out;
}

job::Job drawn_job(const job::Job& job, const Draw& draw) {
  job::Job out = job;
  out.thickness_m = draw.thickness_m;
  out.temperature_k = draw.temperature_k;
  out.temperatures_k.clear();
  for (shell::EdgeInput& e : out.edges) {
    e.normal_stiffness *= draw.edge_factor;
    e.in_plane_stiffness *= draw.edge_factor;
    e.rotation_stiffness *= draw.edge_factor;
  }
  for (shell::BeamInput& b : out.beams) {
    b.pad_stiffness *= draw.pad_factor;
    b.pad_shear_stiffness *= draw.pad_factor;
  }
  for (shell::SpringInput& s : out.springs) s.normal_stiffness *= draw.pad_factor;
  for (sheet::Sheet& s : out.sheets)
    if (s.core_modulus && draw.modulus_factor != 1.0)
      s.core_modulus =
          std::make_shared<const sheet::ScaledModulus>(s.core_modulus, draw.modulus_factor);
  return out;
}

panel::Panel with_crown(const job::Job& job, const panel::Panel& panel, double factor) {
  panel::Mesh mesh = panel.mesh;
  // The plane through the skin: its mean normal, through the middle of the outer rim.
  const Eigen::Vector3d normal = panel.normals.colwise().sum().transpose().normalized();
  Eigen::Vector3d middle = Eigen::Vector3d::Zero();
  double count = 0.0;
  for (const panel::RimPart& part : panel.rim)
    for (const int node : part.nodes)
      if (!part.hole) {
        middle += mesh.nodes.row(node).transpose();
        count += 1.0;
      }
  middle /= count;
  for (Eigen::Index i = 0; i < mesh.nodes.rows(); ++i) {
    const double height = (mesh.nodes.row(i).transpose() - middle).dot(normal);
    mesh.nodes.row(i) += (factor - 1.0) * height * normal.transpose();
  }
  panel::FlatMap map(mesh, panel.flat.points());
  return panel::panel_on_map(std::move(mesh), std::move(map), job.panel_options.corner_degrees);
}

UnknownsResult study_unknowns(const job::Job& job,
                              const Results& record,
                              const PanelMaker& make_panel,
                              double element_m,
                              unsigned threads,
                              const base::Progress& progress) {
  const panel::Panel panel = make_panel(kCoarser * element_m);
  UnknownsResult out;
  out.ranges = ranges_of(job.unknowns);
  const int n = job.unknowns.samples;
  const Eigen::MatrixXd points = even_points(n, static_cast<int>(out.ranges.size()));
  const auto study = [&](const Draw& draw) {
    const job::Job drawn = drawn_job(job, draw);
    const panel::Panel skin =
        draw.crown_factor == 1.0 ? panel : with_crown(job, panel, draw.crown_factor);
    return study_layouts(common_of(drawn, skin, progress), 1, progress, Detail::modes);
  };
  Draw as_written;
  as_written.thickness_m = job.thickness_m;
  as_written.temperature_k = job.temperature_k;
  std::vector<LayoutResult> middle;
  std::vector<std::vector<LayoutResult>> draws(static_cast<std::size_t>(n));
  base::parallel_for(draws.size() + 1, threads, [&](std::size_t i) {
    progress.step("unknowns", static_cast<double>(i) / static_cast<double>(n + 1));
    if (i == 0)
      middle = study(as_written);
    else
      draws[i - 1] = study(draw_at(job, points.row(static_cast<Eigen::Index>(i) - 1)));
  });
  out.samples = n;
  out.solves = (n + 1) * static_cast<int>(record.layouts.size());
  out.degrees_of_freedom = middle.front().full_size;
  for (std::size_t i = 0; i < record.layouts.size(); ++i) {
    std::vector<double> reduction, first_hz, first_loss;
    for (const auto& s : draws) {
      const Figures f = figures_of(s, i);
      reduction.push_back(f.reduction_db);
      first_hz.push_back(f.first_hz);
      first_loss.push_back(f.first_loss);
    }
    const Figures own = figures_of(record.layouts, i), there = figures_of(middle, i);
    LayoutRange range;
    range.name = record.layouts[i].name;
    range.reduction_db = around(own.reduction_db, there.reduction_db, reduction);
    range.first_hz = around(own.first_hz, there.first_hz, first_hz);
    range.first_loss = around(own.first_loss, there.first_loss, first_loss);
    range.first_loss.low = std::max(0.0, range.first_loss.low);
    out.layouts.push_back(range);
  }
  out.sentence = ranking_sentence(record, draws);
  return out;
}

}  // namespace calmplate::study
