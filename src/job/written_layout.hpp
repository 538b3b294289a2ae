// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <cstddef>
#include <filesystem>
#include <string>
#include <utility>
#include <vector>

#include "job/job.hpp"
#include "job/table_reader.hpp"

/// Layouts as the words and numbers of a job file, for whoever edits them: the readers turn these
/// into job::Layout, and the places say where each stands in the text.
namespace calmplate::job {

enum class Shape { rectangle, polygon, everywhere };

/// One [[layout.piece]] in the units of the file. What does not belong to its shape stays 0.
struct WrittenPiece {
  std::vector<std::string> sheets;  ///< from the skin outwards, at least one
  Face face = Face::inner;
  bool foil_held = false;
  Shape shape = Shape::rectangle;
  Eigen::Vector2d centre_mm = Eigen::Vector2d::Zero(), size_mm = Eigen::Vector2d::Zero();
  double angle_deg = 0.0;
  Points outline_mm = Points(0, 2);  ///< [n x 2], the first point not repeated
  double margin_mm = 0.0, hole_margin_mm = 0.0;

  bool operator==(const WrittenPiece& other) const;
  bool operator!=(const WrittenPiece& other) const { return !(*this == other); }
};

/// The piece as key and value in TOML, in the order of docs/job-file.md; keys at their default are
/// left out. Lengths and angles are written with up to ten digits.
std::vector<std::pair<std::string, std::string>> keys_of(const WrittenPiece& piece);

/// A text in quotes, as TOML wants it.
std::string toml_text(const std::string& text);
/// A number as TOML and as short as can be: "480", "12.5".
std::string toml_number(double value);

/// Bytes [begin, end) of a text.
struct Span {
  std::size_t begin = 0, end = 0;
};

/// One key of a section and where its value stands.
struct WrittenKey {
  std::string key;
  Span value;                         ///< brackets and quotes included
  std::vector<Span> numbers;          ///< of a number or of lists of numbers, in their order
  int first_line = 0, last_line = 0;  ///< from 1: that of the key, that of the value's end
};

/// Where a section stands in the text.
struct WrittenSection {
  int line = 0;                  ///< from 1, of its header
  bool in_line = false;          ///< an inline table: it has no header and no lines of its own
  std::vector<WrittenKey> keys;  ///< in the order of the text
};

/// One [[layout]] of a file.
struct WrittenLayout {
  std::string name;
  bool to_place = false;  ///< it has [layout.place], so its pieces are not in the file
  std::vector<WrittenPiece> pieces;
  WrittenSection section;
  int place_line = 0;  ///< of the header of its [layout.place], 0: there is none
  std::vector<WrittenSection> piece_sections;  ///< one for each piece
};

struct WrittenLayouts {
  std::vector<WrittenLayout> layouts;
  std::vector<int> header_lines;  ///< of every section of the file, ascending
};

/// The layouts of a job file that read_job_text accepts.
/// @param file  its name, for messages
/// @throws base::InputError if it is not TOML
WrittenLayouts written_layouts(const std::string& text, const std::filesystem::path& file);

/// What read_job makes of a layout with these pieces, by the same readers.
/// @param job  whose sheets and keep-outs the pieces mean
/// @return     with `where` naming "piece 2" and no file
/// @throws base::InputError as read_job, and "layout" or "piece 2" as the place
Layout read_written(const std::string& name,
                    const std::vector<WrittenPiece>& pieces,
                    const Job& job);

}  // namespace calmplate::job
