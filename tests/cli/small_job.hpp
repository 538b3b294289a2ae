// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>

#include "cli/program.hpp"

namespace calmplate::cli {

/// A flat plate in the plane z = 0 from the origin, as OBJ text: nx x ny squares, two triangles
/// each.
std::string plate_obj(double length, double width, int nx, int ny);

/// A box as OBJ text: a closed surface of six squares on each side.
std::string box_obj(double length, double width, double height);

/// An invented plate of 500 x 400 mm with two layouts, read from "plate.obj"; a run takes a moment.
std::string small_job();

/// The small job with a woofer in its door in place of the force, and a clip that may rattle.
std::string woofer_job();
extern const char* const kWoofer;  ///< its sections [woofer] to [cavity]
extern const char* const kDrive;   ///< the small job's [drive], which they replace

/// `text` with its first `part` replaced. @throws std::invalid_argument if there is no such part
std::string changed(std::string text, const std::string& part, const std::string& by);

/// Writes plate.obj and job.toml.
void write_small_job(const Folder& folder);

/// Writes the demo's flat plate and its job as plate.vtp and job.toml; a run takes a few seconds.
void write_test_plate(const Folder& folder);

}  // namespace calmplate::cli
