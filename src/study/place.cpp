// SPDX-License-Identifier: GPL-3.0-or-later
#include "study/place.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "base/parallel.hpp"
#include "base/units.hpp"
#include "placement/spots.hpp"
#include "response/third_octaves.hpp"
#include "study/unknowns.hpp"

namespace calmplate::study {
namespace {

constexpr Eigen::Index kDraws = 4;  ///< of what is unknown, for placing over it

std::string mm(const Eigen::Vector2d& size) {
  char text[64];
  std::snprintf(text, sizeof text, "%.0f x %.0f mm", 1e3 * size.x(), 1e3 * size.y());
  return text;
}

/// A stock sheet halved across its longer side again and again, down to a sixteenth or to 120 mm.
std::vector<Eigen::Vector2d> cuts_of(const sheet::Sheet& s) {
  constexpr double kShortest_m = 0.12;
  Eigen::Vector2d cut(std::max(s.stock_width_m, s.stock_length_m),
                      std::min(s.stock_width_m, s.stock_length_m));
  std::vector<Eigen::Vector2d> out = {cut};
  for (int halved = 0; halved < 4; ++halved) {
    cut = {std::max(0.5 * cut.x(), cut.y()), std::min(0.5 * cut.x(), cut.y())};
    if (cut.y() < kShortest_m) break;
    out.push_back(cut);
  }
  return out;
}

placement::Goal goal_of(job::Goal goal) {
  switch (goal) {
    case job::Goal::radiated:
      return placement::Goal::radiated;
    case job::Goal::worst_third:
      return placement::Goal::worst_third;
    case job::Goal::worst_point:
      return placement::Goal::worst_point;
    case job::Goal::velocity:
      break;
  }
  return placement::Goal::velocity;
}

}  // namespace

PlaceBench::PlaceBench(const job::Job& job,
                       const panel::Panel& panel,
                       unsigned threads,
                       const base::Progress& progress)
    : job_(&job), panel_(&panel), threads_(threads), progress_(progress) {
  progress.step("bare panel for placing", 0.0);
  sites_.push_back(make_site(nullptr, nullptr));
  const bool over_unknowns =
      job.unknowns.any() && std::any_of(job.layouts.begin(), job.layouts.end(), [](const auto& l) {
        return l.place && l.place->over_unknowns;
      });
  if (!over_unknowns) return;
  const Eigen::MatrixXd points = even_points(kDraws, job.unknowns.count());
  for (Eigen::Index i = 0; i < kDraws; ++i) {
    progress.step("bare panel for placing", static_cast<double>(i + 1) / (kDraws + 1.0));
    Draw draw = draw_at(job, points.row(i));
    draw.modulus_factor = 1.0;
    auto drawn = std::make_unique<job::Job>(drawn_job(job, draw));
    drawn->temperatures_k = job.temperatures_k;
    std::unique_ptr<panel::Panel> skin;
    if (draw.crown_factor != 1.0)
      skin = std::make_unique<panel::Panel>(with_crown(job, panel, draw.crown_factor));
    sites_.push_back(make_site(std::move(drawn), std::move(skin)));
  }
}

std::unique_ptr<PlaceBench::Site> PlaceBench::make_site(std::unique_ptr<job::Job> job,
                                                        std::unique_ptr<panel::Panel> panel) const {
  auto site = std::make_unique<Site>();
  site->job = std::move(job);
  site->panel = std::move(panel);
  const job::Job& own = site->job ? *site->job : *job_;
  site->common = common_of(own, site->panel ? *site->panel : *panel_, progress_);
  site->bare = reduced::reduce_full(site->common.skin,
                                    shell::build_model(site->common.skin, attachments_of(own), {}),
                                    site->common.ports,
                                    reduction_of(own, true, threads_),
                                    progress_);
  return site;
}

void PlaceBench::add_benches(const job::PlaceInput& place, const Site& site, Benches& out) const {
  const Common& c = site.common;
  const job::Job& job = *c.job;
  std::vector<shell::LaidPiece> below;
  for (const job::Layout& l : job.layouts)
    if (l.name == place.layout) below = pieces_of(job, *c.panel, l);
  std::vector<double> temperatures = {job.temperature_k};
  if (place.sweep && !job.temperatures_k.empty()) temperatures = job.temperatures_k;
  const bool radiated = std::any_of(place.goals.begin(), place.goals.end(), [](const auto& goal) {
    return goal.first == job::Goal::radiated;
  });
  for (const double temp_k : temperatures) {
    progress_.check();
    const coupling::CoupledDoor door =
        couple_door(job,
                    c.skin,
                    c.door,
                    site.bare,
                    reduced::reduce_by_pieces(
                        c.skin, site.bare, below, reduction_of(job, true, 1).reference_hz, temp_k));
    out.owned.push_back(std::make_unique<placement::TrialBench>(
        c.skin, site.bare, door.model, job.drive, job.band));
    out.list.push_back(out.owned.back().get());
    out.powers.emplace_back();
    if (!radiated) continue;
    for (const response::ThirdOctave& t :
         response::third_octaves(job.band.low_hz, job.band.high_hz))
      out.powers.back().push_back({t.low_hz, t.high_hz, door.skin_power(t.centre_hz)});
  }
}

PlaceBench::Benches PlaceBench::benches_for(const job::PlaceInput& place) const {
  Benches out;
  for (std::size_t s = 0; s < sites_.size(); ++s)
    if (s == 0 || place.over_unknowns) add_benches(place, *sites_[s], out);
  return out;
}

placement::SearchRequest PlaceBench::request_for(const job::PlaceInput& place) const {
  const job::Job& job = *job_;
  placement::SearchRequest r;
  for (const std::string& name : place.sheets) {
    const sheet::Sheet& s = job.sheet_named(name);
    r.sheets.push_back({&s, place.sizes_m.empty() ? cuts_of(s) : place.sizes_m});
    if (place.free_sizes)
      r.sheets.back().free_up_to_m =
          s.stock_width_m > 0.0
              ? Eigen::Vector2d(std::max(s.stock_width_m, s.stock_length_m),
                                std::min(s.stock_width_m, s.stock_length_m))
              : Eigen::Vector2d(panel_->flat.size().norm(), panel_->flat.size().norm());
  }
  r.angles_rad = place.angles_rad;
  r.spacing_m = place.spacing_m;
  r.gap_m = place.gap_m;
  r.rim_margin_m = place.margin_m;
  r.outer_face = place.face == job::Face::outer;
  for (const job::KeepOut& k : job.keep_outs) r.keep_out.push_back(k.outline);
  for (const job::Layout& l : job.layouts)
    if (l.name == place.layout)
      for (const job::Piece& p : l.pieces)
        if (p.face == place.face)
          for (const panel::Polygon& outline : panel::outlines(*panel_, p.region))
            if (panel::polygon_area(outline) > 0.0) r.taken.push_back(outline);
  r.wishes.clear();
  for (const auto& [goal, weight] : place.goals) r.wishes.push_back({goal_of(goal), weight});
  r.worst_temperature = place.worst;
  if (place.area_m2) r.limits.area_m2 = *place.area_m2;
  if (place.share) r.limits.area_m2 = std::min(r.limits.area_m2, *place.share * panel_->area_m2);
  if (place.mass_kg) r.limits.mass_kg = *place.mass_kg;
  if (place.cost) r.limits.cost = *place.cost;
  if (place.sheet_count) r.limits.sheets = *place.sheet_count;
  r.limits.pieces = place.pieces;
  r.threads = threads_;
  return r;
}

job::Layout PlaceBench::laid_out(const job::Layout& layout,
                                 const std::vector<placement::Spot>& spots) const {
  job::Layout out = layout;
  out.pieces.clear();
  for (const job::Layout& l : job_->layouts)
    if (l.name == layout.place->layout) out.pieces = l.pieces;
  for (const placement::Spot& spot : spots) {
    job::Piece piece;
    piece.sheets = {layout.place->sheets[spot.sheet]};
    piece.face = layout.place->face;
    piece.region.outline = spot.outline;
    piece.where = layout.where;
    out.pieces.push_back(piece);
  }
  out.place.reset();
  return out;
}

PlaceResult PlaceBench::place(const job::Layout& layout, job::Layout& placed) const {
  const Benches benches = benches_for(*layout.place);
  const placement::SearchRequest request = request_for(*layout.place);
  const placement::SearchResult found =
      placement::search(*panel_, benches.list, benches.powers, request, progress_);
  if (found.spots == 0) {
    Eigen::Vector2d smallest = request.sheets.front().sizes_m.front();
    for (const placement::SearchSheet& s : request.sheets)
      for (const Eigen::Vector2d& size : s.sizes_m)
        if (size.prod() < smallest.prod()) smallest = size;
    throw base::InputError(layout.where,
                           "has no room for any piece, the smallest being " + mm(smallest) +
                               ": keep-outs, margins and what is laid already leave none",
                           "smaller sizes_mm, margins or keep-outs");
  }
  if (found.pieces.empty() && !found.stopped)
    throw base::InputError(layout.where,
                           "has limits that allow no piece",
                           "limits for at least one piece, or smaller sizes_mm");
  placed = laid_out(layout, found.pieces);
  PlaceResult out;
  out.layout = layout.name;
  out.gain_db = found.gain_db;
  out.places = found.spots;
  out.screened = found.screened;
  out.solved = found.solved;
  out.stopped = found.stopped;
  return out;
}

void PlaceBench::place_by_energy(const job::Layout& layout, job::Layout& placed) const {
  const Benches benches = benches_for(*layout.place);
  const placement::SearchRequest request = request_for(*layout.place);
  const placement::TrialBench& bench = *benches.list.front();
  const reduced::PoleExpansion poles = bench.poles({});
  std::vector<placement::Spot> spots = placement::all_spots(*panel_, request);
  std::vector<double> energy(spots.size(), 0.0);
  base::parallel_for(spots.size(), threads_, [&](std::size_t i) {
    shell::LaidPiece piece;
    piece.covered = spots[i].covered;
    piece.plies = {request.sheets[spots[i].sheet].sheet};
    piece.outer_face = request.outer_face;
    const Eigen::VectorXcd moved = bench.moved_poles(poles, bench.condense(piece));
    // Loss that the piece adds to each mode of the band, relative to the mode's own stiffness.
    for (Eigen::Index j = 0; j < moved.size(); ++j) {
      const double f = std::sqrt(std::max(poles.lambda(j).real(), 0.0)) / base::kTwoPi;
      if (f >= bench.band().low_hz && f <= bench.band().high_hz)
        energy[i] += (moved(j) - poles.lambda(j)).imag() / poles.lambda(j).real();
    }
    energy[i] /= spots[i].area_m2;
  });
  std::vector<std::size_t> order(spots.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return energy[a] > energy[b];
  });
  std::vector<placement::Spot> laid;
  double area = 0.0;
  for (const std::size_t i : order) {
    if (area + spots[i].area_m2 > request.limits.area_m2) continue;
    if (std::any_of(laid.begin(), laid.end(), [&](const placement::Spot& other) {
          return placement::in_the_way(spots[i], other, request.gap_m);
        }))
      continue;
    area += spots[i].area_m2;
    laid.push_back(spots[i]);
  }
  placed = laid_out(layout, laid);
}

std::vector<PlaceResult> place_layouts(job::Job& job,
                                       const panel::Panel& panel,
                                       unsigned threads,
                                       const base::Progress& progress) {
  std::vector<PlaceResult> out;
  if (std::none_of(job.layouts.begin(), job.layouts.end(), [](const auto& l) {
        return l.place.has_value();
      }))
    return out;
  const job::Job as_written = job;
  const PlaceBench bench(as_written, panel, threads, progress);
  for (std::size_t i = 0; i < job.layouts.size(); ++i)
    if (as_written.layouts[i].place)
      out.push_back(bench.place(as_written.layouts[i], job.layouts[i]));
  return out;
}

}  // namespace calmplate::study
