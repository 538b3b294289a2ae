// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <array>
#include <string>
#include <vector>

/// What searching, unknowns and element sizes give.
namespace calmplate::study {

/// How the pieces of a placed layout were found.
struct PlaceResult {
  std::string layout;
  double gain_db = 0.0;  ///< on the quick model; the record is the layout's own reduction
  int places = 0;        ///< that were free
  int screened = 0, solved = 0;
  bool stopped = false;  ///< on request, with the best so far
};

struct CoveragePoint {
  int pieces = 0;
  double share = 0.0;
  double mass_kg = 0.0;
  double cost = 0.0;
  double reduction_db = 0.0;
};

/// Benefit against coverage, each point a layout on the model of record.
struct CoverageCurve {
  std::string layout;                 ///< whose pieces were laid one after the other
  std::vector<CoveragePoint> points;  ///< nothing first, a full cover last if there is one
  int knee = 0;
  std::string sentence;
};

struct LowHigh {
  double low = 0.0, high = 0.0;
};

/// What the unknowns leave open of one layout.
struct LayoutRange {
  std::string name;
  LowHigh reduction_db;
  LowHigh first_hz, first_loss;  ///< of the lowest mode
};

struct UnknownsResult {
  std::vector<std::string> ranges;  ///< what was varied, in words
  int samples = 0;
  int solves = 0;              ///< full eigen-solves that it took
  int degrees_of_freedom = 0;  ///< of the bare panel in each
  std::vector<LayoutRange> layouts;
  std::string sentence;  ///< whether the order of the layouts holds
};

/// A figure at three element sizes, coarse to fine, and its limit.
struct Extrapolated {
  std::array<double, 3> value{};
  double limit = 0.0;
};

struct ConvergenceResult {
  std::array<double, 3> element_m{};
  std::vector<Extrapolated> bare_hz;       ///< lowest modes of the bare panel
  std::vector<std::string> layouts;        ///< names
  std::vector<Extrapolated> reduction_db;  ///< one a layout
  double worst_hz_error = 0.0;             ///< of the finest size against the limit, relative
  double worst_db_error = 0.0;             ///< likewise, dB
};

}  // namespace calmplate::study
