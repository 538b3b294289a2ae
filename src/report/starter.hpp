// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <string>
#include <vector>

/// Job files to begin with: an invented door of some kind, drawn, with remarks that say what to
/// measure.
namespace calmplate::report {

/// A place and a size as shares of the door's width and height.
struct Share {
  double x = 0.0, y = 0.0;
};
struct ShareBox {
  Share centre, size;
};

/// A corner of the outline; the bow is that of the side to the next corner.
struct StarterCorner {
  Share at;
  double radius_mm = 0.0, bow_mm = 0.0;
};
struct StarterSwage {
  Share from, to;
  double width_mm = 0.0, height_mm = 0.0;
};

/// One kind of door. Invented: no car was measured.
struct StarterDoor {
  std::string kind;   ///< as typed
  std::string words;  ///< "the front door of a small hatchback"
  double width_mm = 0.0, height_mm = 0.0, thickness_mm = 0.0;
  std::string material;
  std::vector<StarterCorner> corners;
  double crown_up_m = 0.0, crown_along_m = 0.0;  ///< 0: straight
  std::vector<StarterSwage> swages;
  Share recess;  ///< of the handle
  double recess_length_mm = 0.0, recess_height_mm = 0.0, recess_depth_mm = 0.0;
  Share slot;                 ///< of the handle's lever, in the recess
  std::optional<Share> lock;  ///< of the lock's barrel
  Share beam_from, beam_to;
  double beam_area_mm2 = 0.0, beam_inertia_mm4 = 0.0;
  std::vector<ShareBox> centre_block, partial;  ///< the pieces of two layouts
};

/// All kinds, always in the same order.
const std::vector<StarterDoor>& starter_doors();

/// What the person knows already; the rest is the kind's.
struct StarterOptions {
  std::string title;
  std::string file;  ///< name of the job file, for the remarks
  std::string kind;
  std::optional<double> width_mm, height_mm, thickness_mm;
  std::optional<std::string> material;   ///< "steel" or "aluminium"
  std::optional<double> woofer_hole_mm;  ///< a round hole in the skin, front low
};

constexpr double kNarrowestMm = 400.0, kWidestMm = 1600.0;
constexpr double kLowestMm = 300.0, kTallestMm = 1300.0;

/// The text of a job that runs as it is.
/// @throws base::InputError naming the option: an unknown kind, a size out of range, a woofer's
/// hole
///         under 50 mm or larger than 0.32 of the height
std::string starter_job(const StarterOptions& options);

/// What was written and what to do next, two lines.
std::string starter_words(const StarterOptions& options);
/// {"schema": "calmplate-start", "file", "kind", "title"}
std::string starter_json(const StarterOptions& options);

}  // namespace calmplate::report
