// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh_io/file_checks.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cerrno>
#include <cstdint>
#include <cstring>
#include <fstream>
#include <iterator>
#include <system_error>
#include <utility>

#include "base/input_error.hpp"

namespace calmplate::mesh_io {
namespace fs = std::filesystem;
namespace {

constexpr const char* kEndings = "a file ending in .vtp, .vtu, .stl, .obj or .ply";

[[noreturn]] void refuse(const fs::path& file,
                         const std::string& wrong,
                         const std::string& allowed = "") {
  throw base::InputError({file.string(), 0, ""}, wrong, allowed);
}

std::ifstream open(const fs::path& file) {
  errno = 0;
  std::ifstream stream(file, std::ios::binary);
  if (!stream)
    refuse(file, std::string("cannot be read: ") + std::strerror(errno != 0 ? errno : EIO));
  return stream;
}

}  // namespace

Format format_of(const fs::path& file) {
  static const std::array<std::pair<const char*, Format>, 5> kKnown{{{".vtp", Format::kVtp},
                                                                     {".vtu", Format::kVtu},
                                                                     {".stl", Format::kStl},
                                                                     {".obj", Format::kObj},
                                                                     {".ply", Format::kPly}}};
  std::string ending = file.extension().string();
  std::transform(ending.begin(), ending.end(), ending.begin(), [](unsigned char c) {
    return static_cast<char>(std::tolower(c));
  });
  for (const auto& [known, format] : kKnown)
    if (ending == known) return format;
  refuse(file,
         ending.empty() ? "has no ending that tells its format"
                        : "has an ending of no mesh format known here",
         kEndings);
}

std::string format_name(Format format) {
  switch (format) {
    case Format::kVtp:
      return "VTP";
    case Format::kVtu:
      return "VTU";
    case Format::kStl:
      return "STL";
    case Format::kObj:
      return "OBJ";
    case Format::kPly:
      break;
  }
  return "PLY";
}

void check_readable(const fs::path& file) {
  std::error_code fault;
  const fs::file_status status = fs::status(file, fault);
  if (status.type() == fs::file_type::not_found) refuse(file, "is not there");
  if (fault) refuse(file, "cannot be read: " + fault.message());
  if (fs::is_directory(status)) refuse(file, "is a folder", kEndings);
  if (!fs::is_regular_file(status)) refuse(file, "is no ordinary file", kEndings);
  const std::uintmax_t size = fs::file_size(file, fault);
  if (fault) refuse(file, "cannot be read: " + fault.message());
  if (size == 0) refuse(file, "is empty");
  open(file);
}

std::string read_whole(const fs::path& file) {
  std::ifstream stream = open(file);
  std::error_code fault;
  const std::uintmax_t size = fs::file_size(file, fault);
  std::string text(static_cast<std::size_t>(fault ? 0 : size), '\0');
  stream.read(text.data(), static_cast<std::streamsize>(text.size()));
  if (fault || stream.bad() || static_cast<std::size_t>(stream.gcount()) != text.size())
    refuse(file, "cannot be read to its end");
  return text;
}

bool ends_as_vtk_file(const fs::path& file) {
  constexpr std::uintmax_t kTail = 256;
  std::ifstream stream = open(file);
  const std::uintmax_t size = fs::file_size(file);
  stream.seekg(static_cast<std::streamoff>(size > kTail ? size - kTail : 0));
  const std::string tail{std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
  return tail.find("</VTKFile>") != std::string::npos;
}

void refuse_damaged(const fs::path& file, Format format) {
  refuse(file,
         "is no whole " + format_name(format) +
             " file: damaged, cut short, or with a value that is no number");
}

}  // namespace calmplate::mesh_io
