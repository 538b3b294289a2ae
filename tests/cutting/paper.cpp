// SPDX-License-Identifier: GPL-3.0-or-later
#include "cutting/paper.hpp"

#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <functional>
#include <iterator>
#include <sstream>
#include <stdexcept>

namespace calmplate::testing {
namespace {

namespace fs = std::filesystem;

/// A folder that is gone afterwards.
class Scratch {
 public:
  Scratch() {
    std::string name = (fs::temp_directory_path() / "calmplate-paper-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) throw std::runtime_error("no scratch folder");
    path_ = name;
  }
  ~Scratch() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
  fs::path operator/(const std::string& name) const { return path_ / name; }

 private:
  fs::path path_;
};

void write(const fs::path& file, const std::string& bytes) {
  std::ofstream(file, std::ios::binary) << bytes;
}

std::string read(const fs::path& file) {
  std::ifstream stream(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

void run(const std::string& command) {
  if (std::system(command.c_str()) != 0)
    throw std::runtime_error("failed (is poppler-utils installed?): " + command);
}

std::vector<double> strokes(int from,
                            int to,
                            double dots_per_mm,
                            const std::function<int(int)>& grey) {
  constexpr int kDark = 110;
  std::vector<double> middles;
  double weight = 0.0, sum = 0.0;
  bool dark = false;
  for (int i = from; i <= to; ++i) {
    const int darkness = i < to ? 255 - grey(i) : 0;
    if (darkness > 60) {
      weight += darkness;
      sum += darkness * (i + 0.5);
      dark = dark || darkness > 255 - kDark;
      continue;
    }
    if (dark) middles.push_back(sum / weight / dots_per_mm);
    weight = sum = 0.0;
    dark = false;
  }
  return middles;
}

}  // namespace

Print printed(const std::string& pdf, int page, double dots_per_inch, bool colour) {
  const Scratch folder;
  write(folder / "a.pdf", pdf);
  std::ostringstream command;
  command << "pdftoppm -singlefile -r " << dots_per_inch << " -f " << page << " -l " << page
          << (colour ? " " : " -gray ") << (folder / "a.pdf") << " " << (folder / "page");
  run(command.str());
  std::istringstream file(read(folder / (colour ? "page.ppm" : "page.pgm")));
  std::string magic;
  int largest = 0;
  Print print;
  file >> magic >> print.width >> print.height >> largest;
  file.get();
  print.channels = colour ? 3 : 1;
  print.dots_per_mm = dots_per_inch / 25.4;
  print.dots.assign(std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>());
  if (print.dots.size() != static_cast<std::size_t>(print.width) *
                               static_cast<std::size_t>(print.height * print.channels))
    throw std::runtime_error("pdftoppm: a page of another size than it says");
  return print;
}

std::string words_of(const std::string& pdf) {
  const Scratch folder;
  write(folder / "a.pdf", pdf);
  run("pdftotext -layout \"" + (folder / "a.pdf").string() + "\" \"" + (folder / "a.txt").string() +
      "\"");
  return read(folder / "a.txt");
}

std::vector<double> strokes_in_row(const Print& print, double y_mm, double from_mm, double to_mm) {
  const auto dot = [&](double mm) { return static_cast<int>(mm * print.dots_per_mm); };
  return strokes(
      dot(from_mm), dot(to_mm), print.dots_per_mm, [&](int x) { return print.at(x, dot(y_mm)); });
}

std::vector<double> strokes_in_column(const Print& print,
                                      double x_mm,
                                      double from_mm,
                                      double to_mm) {
  const auto dot = [&](double mm) { return static_cast<int>(mm * print.dots_per_mm); };
  return strokes(
      dot(from_mm), dot(to_mm), print.dots_per_mm, [&](int y) { return print.at(dot(x_mm), y); });
}

}  // namespace calmplate::testing
