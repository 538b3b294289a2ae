// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <stdexcept>
#include <string>

namespace calmplate::base {

/// Where in the user's input a fault lies. Empty or zero fields are left out of the message.
struct Where {
  std::string file;  ///< as the user wrote it
  int line = 0;      ///< counted from 1; 0: none
  std::string key;   ///< dotted key, such as "sheet[2].thickness_mm"
};

/// Something the user wrote that we cannot use. One printed line, exit status 2.
/// A fault in our own code is never an InputError: that is std::logic_error, exit status 1.
class InputError : public std::runtime_error {
 public:
  /// @param where    file, line and key; what is empty is left out
  /// @param wrong    what was found, with its value and unit: "is -2 mm"
  /// @param allowed  what would have been accepted: "above 0, up to 10 mm"; may be empty
  InputError(Where where, const std::string& wrong, const std::string& allowed = "");

  const Where& where() const noexcept { return where_; }
  const std::string& wrong() const noexcept { return wrong_; }
  const std::string& allowed() const noexcept { return allowed_; }

 private:
  Where where_;
  std::string wrong_;
  std::string allowed_;
};

/// The word of `known` nearest to `word` (Damerau-Levenshtein distance at most a third of its
/// length, at least 1), or an empty string. Used for "did you mean".
std::string nearest_word(const std::string& word, const std::string* known, std::size_t count);

}  // namespace calmplate::base
