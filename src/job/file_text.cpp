// SPDX-License-Identifier: GPL-3.0-or-later
#include "job/file_text.hpp"

#include <cstdint>
#include <fstream>
#include <iterator>
#include <system_error>

#include "base/input_error.hpp"

namespace calmplate::job {
namespace {

constexpr std::uintmax_t kLargestFile = 4U << 20U;  // bytes

}  // namespace

std::string file_text(const std::filesystem::path& file,
                      const std::string& what,
                      const std::string& least) {
  namespace fs = std::filesystem;
  const base::Where at{file.string(), 0, ""};
  std::error_code error;
  const fs::file_status status = fs::status(file, error);
  if (status.type() == fs::file_type::not_found) throw base::InputError(at, "does not exist", what);
  if (status.type() == fs::file_type::directory) throw base::InputError(at, "is a folder", what);
  if (status.type() == fs::file_type::none)
    throw base::InputError(at, "cannot be read: " + error.message(), what);
  if (status.type() != fs::file_type::regular)
    throw base::InputError(at, "is not an ordinary file", what);
  const std::uintmax_t size = fs::file_size(file, error);
  if (!error && size > kLargestFile)
    throw base::InputError(at,
                           "is " + std::to_string(size >> 20U) + " MB long",
                           what + " of up to " + std::to_string(kLargestFile >> 20U) + " MB");
  std::ifstream stream(file, std::ios::binary);
  if (!stream) throw base::InputError(at, "cannot be opened for reading", "a file you may read");
  std::string text((std::istreambuf_iterator<char>(stream)), std::istreambuf_iterator<char>());
  if (stream.bad()) throw base::InputError(at, "cannot be read to its end");
  if (text.find_first_not_of(" \t\r\n") == std::string::npos)
    throw base::InputError(at, "is empty", least);
  return text;
}

}  // namespace calmplate::job
