// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/input_error.hpp"
#include "job/key_unit.hpp"
#include "job/keys.hpp"

namespace calmplate::job {

using Points = Eigen::Matrix<double, Eigen::Dynamic, 2, Eigen::RowMajor>;
using Corners = Eigen::Matrix<double, Eigen::Dynamic, 3, Eigen::RowMajor>;

/// Walks one section of a job file. A key that the section does not know is refused at once; every
/// getter checks what it reads and turns it into SI by the unit in the key's ending; finish()
/// refuses what nobody asked for. All getters throw base::InputError with file, line and key, and
/// std::invalid_argument if the key is not listed in the section.
class TableReader {
 public:
  /// Parses a whole file. @param root_section  its top level; outlives the reader
  /// @throws base::InputError if it is not UTF-8 or not TOML
  static TableReader parse(const std::string& text,
                           const std::string& file,
                           const Section& root_section = keys::kFile);

  TableReader(TableReader&&) noexcept;
  ~TableReader();

  bool has(const std::string& key) const;

  double number(const std::string& key, Range allowed);
  /// @param fallback  in the key's own unit, like `allowed`
  double number_or(const std::string& key, Range allowed, double fallback);
  std::string text(const std::string& key);  ///< not empty, one line, at most 200 characters
  std::string text_or(const std::string& key, const std::string& fallback);
  /// As text_or, but of any length, on any number of lines.
  std::string long_text_or(const std::string& key, const std::string& fallback);
  bool flag_or(const std::string& key, bool fallback);

  /// One of some words that the program knows. @return what stands beside the word
  template <typename T>
  T choice(const std::string& key, const std::vector<std::pair<std::string, T>>& known) {
    return known[word(key, firsts(known), "")].second;
  }
  template <typename T>
  T choice_or(const std::string& key,
              const std::vector<std::pair<std::string, T>>& known,
              T fallback) {
    return asked_and_there(key) ? choice(key, known) : fallback;
  }
  /// One of some words, by number.
  /// @param what  what the words are names of ("sheet"); empty: words of the program's own
  std::size_t word(const std::string& key,
                   const std::vector<std::string>& known,
                   const std::string& what);

  /// As word() for a list of words. @param least    how many there must be
  /// @param repeats  a word may stand more than once
  std::vector<std::size_t> words(const std::string& key,
                                 const std::vector<std::string>& known,
                                 const std::string& what,
                                 std::size_t least,
                                 bool repeats);

  Eigen::Vector2d point(const std::string& key, Range allowed);
  std::optional<Eigen::Vector2d> point_or_none(const std::string& key, Range allowed);
  /// A direction in space, any length but 0. @return unit vector, or `fallback` as it is
  Eigen::Vector3d direction_or(const std::string& key, const Eigen::Vector3d& fallback);
  std::vector<double> numbers(const std::string& key, Range allowed);         ///< at least one
  std::vector<Eigen::Vector2d> pairs(const std::string& key, Range allowed);  ///< at least one
  /// @param least  how many points there must be. @return [n x 2], n >= least
  Points points(const std::string& key, Range allowed, std::size_t least = 3);
  /// Points [x, y] or [x, y, radius]. @param fallback_si  radius where none is given
  /// @return [n x 3], n >= least
  Corners corners(
      const std::string& key, Range allowed, Range radius, double fallback_si, std::size_t least);

  /// The one section of that name, or nothing.
  std::optional<TableReader> section(const std::string& key, const Section& section);
  /// The one section of that name. @throws base::InputError if it is not there
  TableReader required_section(const std::string& key, const Section& section);
  /// The list of sections of that name, empty if there is none.
  std::vector<TableReader> sections(const std::string& key, const Section& section);
  /// The sections with names of the user's own under `key`: [material.NAME].
  std::vector<std::pair<std::string, TableReader>> named_sections(const std::string& key,
                                                                  const Section& section);

  /// Refuses keys that are there but were not asked for.
  /// @param condition  what they do not go with, such as: kind = "mass"
  void finish(const std::string& condition = "");

  base::Where where() const;                        ///< of the section
  base::Where where(const std::string& key) const;  ///< of a key in it, there or not
  [[noreturn]] void fail(const std::string& key,
                         const std::string& wrong,
                         const std::string& allowed = "") const;
  [[noreturn]] void fail_missing(const std::string& key, const std::string& allowed) const;

 private:
  struct Data;
  explicit TableReader(std::unique_ptr<Data> data);

  bool asked_and_there(const std::string& key);
  void refuse_unknown_keys() const;

  template <typename T>
  static std::vector<std::string> firsts(const std::vector<std::pair<std::string, T>>& known) {
    std::vector<std::string> words;
    for (const auto& k : known) words.push_back(k.first);
    return words;
  }

  std::unique_ptr<Data> data_;
};

/// Reads the key "name" of the sections of one list and refuses a name that came before.
class Names {
 public:
  std::string read(TableReader& reader);

 private:
  std::map<std::string, base::Where> seen_;
};

/// The words in quotes with commas between them, the first dozen of them.
std::string list_in_quotes(const std::vector<std::string>& words);
std::string in_quotes(const std::string& text);  ///< in quotes, shortened if it is long

}  // namespace calmplate::job
