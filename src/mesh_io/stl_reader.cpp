// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh_io/stl_reader.hpp"

#include <cctype>
#include <cstdint>
#include <cstring>
#include <string_view>

#include "mesh_io/text_words.hpp"

namespace calmplate::mesh_io {
namespace {

constexpr std::size_t kStlHead = 84;  // 80 bytes of any text and the count
constexpr std::size_t kStlFacet = 50;

/// Gives the corners at one place one number. Numbers go by first appearance.
class PointTable {
 public:
  explicit PointTable(std::vector<std::array<double, 3>>& points) : points_(points) {
    slots_.assign(1024, kNoPoint);
  }

  PointNumber number_of(std::array<double, 3> xyz) {
    for (double& x : xyz) x += 0.0;  // -0 and 0 are one place
    if (2 * points_.size() >= slots_.size()) grow();
    std::size_t slot = first_slot(xyz);
    while (slots_[slot] != kNoPoint) {
      if (std::memcmp(points_[slots_[slot]].data(), xyz.data(), sizeof(xyz)) == 0)
        return slots_[slot];
      slot = (slot + 1) & (slots_.size() - 1);
    }
    slots_[slot] = static_cast<PointNumber>(points_.size());
    points_.push_back(xyz);
    return slots_[slot];
  }

 private:
  std::size_t first_slot(const std::array<double, 3>& xyz) const {
    std::uint64_t mixed = 0;
    for (const double x : xyz) {
      std::uint64_t bits = 0;
      std::memcpy(&bits, &x, sizeof(bits));
      mixed = (mixed ^ bits ^ (mixed >> 29)) * 0x9E3779B97F4A7C15ULL;
    }
    return static_cast<std::size_t>(mixed >> 20) & (slots_.size() - 1);
  }
  void grow() {
    slots_.assign(2 * slots_.size(), kNoPoint);
    for (std::size_t i = 0; i < points_.size(); ++i) {
      std::size_t slot = first_slot(points_[i]);
      while (slots_[slot] != kNoPoint) slot = (slot + 1) & (slots_.size() - 1);
      slots_[slot] = static_cast<PointNumber>(i);
    }
  }
  std::vector<std::array<double, 3>>& points_;
  std::vector<PointNumber> slots_;  // a power of two of them
};

bool is_binary_stl(const std::string& text) {
  if (text.size() < kStlHead) return false;
  std::uint32_t count = 0;
  std::memcpy(&count, text.data() + 80, sizeof(count));
  return text.size() == kStlHead + kStlFacet * static_cast<std::size_t>(count);
}

void read_binary(const std::string& text, PolygonSoup& soup) {
  PointTable table(soup.points);
  const std::size_t count = (text.size() - kStlHead) / kStlFacet;
  soup.corners.reserve(3 * count);
  soup.ends.reserve(count);
  for (std::size_t at = kStlHead; at < text.size(); at += kStlFacet) {
    for (std::size_t corner = 1; corner <= 3; ++corner) {
      std::array<float, 3> xyz{};
      std::memcpy(xyz.data(), text.data() + at + 12 * corner, sizeof(xyz));
      soup.corners.push_back(table.number_of({xyz[0], xyz[1], xyz[2]}));
    }
    soup.close_polygon();
  }
}

/// True if the next word is `wanted`, in small or capital letters.
bool take(TextWords& words, std::string_view wanted) {
  const std::string_view word = words.next();
  if (word.size() != wanted.size()) return false;
  for (std::size_t i = 0; i < word.size(); ++i)
    if (std::tolower(static_cast<unsigned char>(word[i])) != wanted[i]) return false;
  return true;
}

/// What stands behind "facet". @return false if it is no whole facet
bool read_facet(TextWords& words, PointTable& table, PolygonSoup& soup) {
  std::array<double, 3> xyz{};
  const auto take_numbers = [&] {
    return words.next_number(xyz[0]) && words.next_number(xyz[1]) && words.next_number(xyz[2]);
  };
  if (!take(words, "normal") || !take_numbers()) return false;
  if (!take(words, "outer") || !take(words, "loop")) return false;
  for (int corner = 0; corner < 3; ++corner) {
    if (!take(words, "vertex") || !take_numbers()) return false;
    soup.corners.push_back(table.number_of(xyz));
  }
  soup.close_polygon();
  return take(words, "endloop") && take(words, "endfacet");
}

/// One solid after the other.
bool read_ascii(const std::string& text, PolygonSoup& soup) {
  PointTable table(soup.points);
  TextWords words(text.data(), text.data() + text.size());
  bool any = false;
  while (!words.at_end()) {
    if (!take(words, "solid")) return false;
    words.skip_line();  // its name
    while (true) {
      TextWords ahead = words;
      if (take(ahead, "facet")) {
        words = ahead;
        if (!read_facet(words, table, soup)) return false;
        continue;
      }
      if (!take(words, "endsolid")) return false;
      words.skip_line();
      break;
    }
    any = true;
  }
  return any;
}

}  // namespace

bool read_stl(const std::string& text, PolygonSoup& soup) {
  // A binary file's head may say "solid" as well.
  if (!is_binary_stl(text)) return read_ascii(text, soup);
  read_binary(text, soup);
  return true;
}

}  // namespace calmplate::mesh_io
