// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/input_error.hpp"
#include "cutting/cutting_input.hpp"
#include "drive/drive_input.hpp"
#include "drive/woofer_input.hpp"
#include "job/report_input.hpp"
#include "panel/cover.hpp"
#include "panel/drawn_input.hpp"
#include "panel/panel.hpp"
#include "sheet/sheet.hpp"
#include "shell/hold_input.hpp"

namespace calmplate::job {

enum class Face { inner, outer };

/// One piece of sheet in a layout, as written. `where` gives the line for later messages.
struct Piece {
  std::vector<std::string> sheets;  ///< names of sheets of the job, from the skin outwards
  Face face = Face::inner;
  panel::Region region;    ///< on the flat map, m; keep-outs are already in its holes if everywhere
  bool foil_held = false;  ///< the foil's edge is held where it reaches a held rim
  base::Where where;
};

/// What is known of a sheet beside its physics.
struct SheetInput {
  std::string shelf;          ///< name on the built-in shelf, or empty
  bool hold_outside = false;  ///< a table may be used beyond what was measured
  base::Where modulus_where;  ///< of the sheet's modulus, for messages
  cutting::StockInput stock;
  base::Where where;
};

enum class Goal { velocity, radiated, worst_third, worst_point };

/// A layout whose pieces the program is to find.
struct PlaceInput {
  std::vector<std::string> sheets;  ///< at least one
  std::vector<Eigen::Vector2d>
      sizes_m;              ///< empty: stock sheets whole and halved, down to a sixteenth
  bool free_sizes = false;  ///< stretched and joined as well, up to the stock sheet
  std::vector<double> angles_rad = {0.0};
  std::optional<double> share;  ///< of the skin, 0 to 1
  std::optional<double> area_m2, mass_kg, cost, sheet_count;
  int pieces = 1000;
  double spacing_m = 0.05;
  double gap_m = 0.005;
  double margin_m = 0.01;
  Face face = Face::inner;
  std::vector<std::pair<Goal, double>> goals = {{Goal::velocity, 1.0}};
  bool sweep = false;          ///< judge at every temperature of the sweep
  bool worst = false;          ///< by the worst of them, else by their mean
  bool over_unknowns = false;  ///< judge also at draws of [unknowns]
  std::string layout;          ///< the pieces come on top of this layout; empty: of the bare panel
};

/// A way to cover the panel. The bare panel is always compared and needs no entry.
struct Layout {
  std::string name;
  std::vector<Piece> pieces;
  std::optional<PlaceInput> place;  ///< then the pieces are still to be found
  base::Where where;
};

struct KeepOut {
  std::string name;
  panel::Polygon outline;  ///< [n x 2] m on the flat map
  base::Where where;
};

struct ListenPoint {
  std::string name;
  Eigen::Vector2d at = Eigen::Vector2d::Zero();  ///< m on the flat map
  /// Peak acceleration from which what sits here rattles, m/s2; 0: not known. A part of a mass held
  /// by a preload lifts off at preload / mass.
  double limit_m_s2 = 0.0;
  base::Where where;
};

/// The benefit map: what one trial piece would give, laid at each place in turn.
struct BenefitMapInput {
  bool wanted = true;
  std::string sheet;         ///< empty: the first constrained or free-layer sheet of the job
  double piece_m = 0.150;    ///< side of the square trial piece
  double spacing_m = 0.050;  ///< distance between places
  std::string layout;        ///< on top of this layout; empty: of the bare panel
};

/// The same layout with one sheet after the other.
struct SheetComparisonInput {
  std::string layout;               ///< empty: no comparison is wanted
  std::vector<std::string> sheets;  ///< at least two
};

/// A quantity that is not known well: from low to high, both ends meant.
struct Spread {
  double low = 0.0, high = 0.0;
};

/// What is not known well. Factors are on what the job says.
struct UnknownsInput {
  std::optional<Spread> edge_factor;     ///< on every spring of the rim
  std::optional<Spread> pad_factor;      ///< on the pads of every beam and on every spring
  std::optional<Spread> crown_factor;    ///< on the skin's height over the plane through it
  std::optional<Spread> modulus_factor;  ///< on every sheet's modulus
  std::optional<Spread> thickness_m;
  std::optional<Spread> temperature_k;
  int samples = 16;

  int count() const {
    return edge_factor.has_value() + pad_factor.has_value() + crown_factor.has_value() +
           modulus_factor.has_value() + thickness_m.has_value() + temperature_k.has_value();
  }
  bool any() const {
    return edge_factor || pad_factor || crown_factor || modulus_factor || thickness_m ||
           temperature_k;
  }
};

enum class Air { none, one_face, both_faces };

/// A whole job in SI units, every value checked for itself (not yet against the panel).
struct Job {
  std::filesystem::path file;
  std::string title;
  std::string note;
  std::string currency = "EUR";

  std::filesystem::path mesh_file;         ///< resolved against the job's folder; empty if drawn
  double mesh_metres_per_unit = 1.0;       ///< 1 too if panel_options.guess_unit is set
  std::optional<panel::DrawnInput> drawn;  ///< in place of the mesh; see settle_elements
  panel::PanelOptions panel_options;       ///< element_size_m 0 of a drawn skin: by the band
  double thickness_m = 0.0;
  sheet::Material material;  ///< of the skin; its loss_factor is the bare panel's
  Air air = Air::both_faces;
  double temperature_k = 293.15;
  std::vector<double> temperatures_k;  ///< of the sweep, ascending; empty: no sweep

  std::vector<shell::EdgeInput> edges;
  std::vector<base::Where> edge_where;  ///< one for each edge
  std::vector<shell::BeamInput> beams;
  std::vector<base::Where> beam_where;
  std::vector<shell::SpringInput> springs;
  std::vector<base::Where> spring_where;
  std::vector<shell::MassInput> masses;
  std::vector<base::Where> mass_where;

  std::vector<sheet::Sheet> sheets;
  std::vector<SheetInput> sheet_inputs;  ///< one for each sheet
  std::vector<Layout> layouts;
  std::vector<KeepOut> keep_outs;
  std::vector<ListenPoint> listen_at;
  bool band_given = false;  ///< else the woofer's own, see settle_band
  drive::DriveInput drive;
  base::Where drive_where;
  std::optional<drive::WooferInput> woofer;
  base::Where woofer_where;
  drive::AmplifierInput amplifier;  ///< set if there is a woofer
  drive::FilterInput filter;        ///< none unless there is a woofer
  drive::CavityInput cavity;        ///< not wanted if the job does not speak of it
  base::Where cavity_where;
  drive::BandInput band;
  BenefitMapInput benefit_map;
  SheetComparisonInput sheet_comparison;
  UnknownsInput unknowns;
  cutting::CuttingInput cutting;
  ReportInput report;
  std::vector<std::string> warnings;  ///< what the reader should know, one sentence each

  const sheet::Sheet& sheet_named(const std::string& name) const;  ///< @throws std::out_of_range
};

/// Reads and checks a job file (TOML 1.0).
/// @throws base::InputError for the first fault found: file, line, key, what is wrong, what is
/// allowed
Job read_job(const std::filesystem::path& file);

/// A job with a woofer and without a band: the band in which the woofer plays, see
/// drive::woofer_band. Others stay as they are.
/// @throws base::InputError if a sheet is not known there
void settle_band(Job& job, double panel_area_m2);

/// The checks that need the panel: every position on it, rim parts that exist, pieces that lie on
/// the panel by at least 99.9 % of their area and do not overlap each other in one layout and face.
/// @throws base::InputError
void check_against_panel(const Job& job, const panel::Panel& panel);

}  // namespace calmplate::job
