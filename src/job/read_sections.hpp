// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <map>
#include <string>

#include "job/job.hpp"
#include "job/table_reader.hpp"

/// The readers of the single sections. `file` is the job file's top level. Each fills its part of
/// the job and throws base::InputError for the first fault. Those that refer to names defined
/// elsewhere say which must have been read before.
namespace calmplate::job {

constexpr Range kPosition{-10000.0, 10000.0};  ///< mm on the flat map; the panel narrows it later
constexpr Range kLoss{0.0, 3.0};               ///< loss factor of soft materials
constexpr Range kStiffness{0.001, 1e6};        ///< N/mm of one spring

using Materials = std::map<std::string, sheet::Material>;

/// Steel and aluminium, with what [material.NAME] adds or overrides.
Materials read_materials(TableReader& file);
/// The material that a key names. @param fallback  a built-in name
sheet::Material material_named(TableReader& reader,
                               const std::string& key,
                               const std::string& fallback,
                               const Materials& materials);

/// The skin that outline_mm and its sections in [panel] describe, checked by itself.
panel::DrawnInput read_drawn(TableReader& panel);
void read_panel(TableReader& file, const Materials& materials, Job& job);
void read_stiffeners(TableReader& file, const Materials& materials, Job& job);
void read_springs(TableReader& file, Job& job);
void read_masses(TableReader& file, Job& job);
void read_sheets(TableReader& file, const Materials& materials, Job& job);
void read_keep_outs(TableReader& file, Job& job);
/// What [layout.place] of a layout asks for; the layouts before it have been read.
PlaceInput read_place(TableReader& layout, const Job& job);
void read_layouts(TableReader& file, Job& job);  ///< after sheets and keep-outs
void read_drive(TableReader& file, Job& job);
void read_woofer(TableReader& file, Job& job);  ///< with its amplifier and filter
void read_cavity(TableReader& file, Job& job);
void read_band(TableReader& file, Job& job);
void read_listen_points(TableReader& file, Job& job);
void read_benefit_map(TableReader& file, Job& job);       ///< after sheets and layouts
void read_sheet_comparison(TableReader& file, Job& job);  ///< after sheets and layouts
void read_unknowns(TableReader& file, Job& job);          ///< after edges, beams and springs
void read_conditions(TableReader& file, Job& job);
void read_cutting(TableReader& file, Job& job);  ///< with the offcuts; after sheets
void read_report(TableReader& file, Job& job);   ///< after layouts

/// How a sheet is sold and which way it may lie.
cutting::StockInput read_stock(TableReader& sheet);

/// The modulus that [sheet.modulus] of a sheet describes. @param input  gets what is said beside it
sheet::ModulusPtr read_modulus(TableReader& sheet, SheetInput& input);
/// Whether every sheet's modulus is known in the job's band and at its temperatures.
void check_sheet_limits(Job& job);

/// Rectangle from centre_mm, size_mm, angle_deg. @param smallest_mm  of both sides
panel::Polygon read_rectangle(TableReader& reader, double smallest_mm);
/// Polygon from outline_mm: at least three points, not crossing itself, at least 25 mm2; the first
/// point may be repeated at the end.
panel::Polygon read_outline(TableReader& reader);
/// Circle from centre_mm and diameter_mm as a polygon of 64 sides drawn around it.
panel::Polygon read_circle(TableReader& reader);

/// A job from text. @param file  its name, for messages and for paths in it
Job read_job_text(const std::string& text, const std::filesystem::path& file);

}  // namespace calmplate::job
