// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/draw_program.hpp"

#include <sys/wait.h>
#include <unistd.h>
#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkPNGReader.h>

#include <cstdlib>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include "picture/canvas.hpp"
#include "picture/colour_scale.hpp"

namespace calmplate::sample {
namespace {

std::string whole_file(const std::filesystem::path& file) {
  std::ifstream stream(file, std::ios::binary);
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

}  // namespace

TemporaryFolder::TemporaryFolder(const std::string& name)
    : path_(std::filesystem::temp_directory_path() /
            ("calmplate-" + name + "-" + std::to_string(getpid()))) {
  std::filesystem::remove_all(path_);
  std::filesystem::create_directories(path_);
}

TemporaryFolder::~TemporaryFolder() {
  std::error_code ignored;
  std::filesystem::remove_all(path_, ignored);
}

ProgramRun run_draw_program(const std::filesystem::path& scratch,
                            const std::string& arguments,
                            const std::string& environment) {
  const std::filesystem::path out = scratch / "stdout.txt";
  const std::filesystem::path err = scratch / "stderr.txt";
  // A sanitizer's leak check would count what the graphics driver keeps to its end.
  const std::string command = "env -u DISPLAY -u WAYLAND_DISPLAY ASAN_OPTIONS=detect_leaks=0 " +
                              environment + " '" + CALMPLATE_DRAW + "' " + arguments + " >'" +
                              out.string() + "' 2>'" + err.string() + "'";
  const int code = std::system(command.c_str());
  ProgramRun run;
  run.status = WIFEXITED(code) ? WEXITSTATUS(code) : 128 + WTERMSIG(code);
  run.out = whole_file(out);
  run.err = whole_file(err);
  return run;
}

int count_lines(const std::string& text) {
  int lines = 0;
  for (const char c : text) lines += c == '\n' ? 1 : 0;
  return lines;
}

picture::RgbaImage read_png(const std::filesystem::path& file) {
  vtkNew<vtkPNGReader> reader;
  reader->SetFileName(file.c_str());
  reader->Update();
  vtkImageData* data = reader->GetOutput();
  int size[3] = {0, 0, 0};
  data->GetDimensions(size);
  if (data->GetNumberOfScalarComponents() != 3) throw std::runtime_error("not an RGB picture");
  picture::RgbaImage image{size[0], size[1], {}};
  const auto* from = static_cast<const unsigned char*>(data->GetScalarPointer());
  const std::size_t count = std::size_t(size[0]) * std::size_t(size[1]);
  for (std::size_t k = 0; k < count; ++k) {
    image.bytes.insert(image.bytes.end(), {from[3 * k], from[3 * k + 1], from[3 * k + 2], 255});
  }
  return image;
}

double mean_lightness(const picture::RgbaImage& image, double x0, double y0, double x1, double y1) {
  double sum = 0.0;
  int count = 0;
  for (int j = int(y0 * image.height); j < int(y1 * image.height); ++j) {
    for (int i = int(x0 * image.width); i < int(x1 * image.width); ++i) {
      const std::size_t k = 4 * (std::size_t(j) * std::size_t(image.width) + std::size_t(i));
      sum += picture::lightness(
          {image.bytes[k] / 255.0, image.bytes[k + 1] / 255.0, image.bytes[k + 2] / 255.0});
      ++count;
    }
  }
  return sum / count;
}

double share_of(const picture::RgbaImage& image,
                double x_mm,
                double y_mm,
                const picture::Colour& colour,
                double half_mm) {
  int same = 0, all = 0;
  const auto first = [&](double mm) { return int((mm - half_mm) * picture::kPxPerMm); };
  const auto last = [&](double mm) { return int((mm + half_mm) * picture::kPxPerMm); };
  for (int j = first(y_mm); j <= last(y_mm); ++j) {
    for (int i = first(x_mm); i <= last(x_mm); ++i) {
      const std::size_t k = 4 * (std::size_t(j) * std::size_t(image.width) + std::size_t(i));
      ++all;
      if (std::abs(image.bytes[k] / 255.0 - colour.r) < 0.02 &&
          std::abs(image.bytes[k + 1] / 255.0 - colour.g) < 0.02 &&
          std::abs(image.bytes[k + 2] / 255.0 - colour.b) < 0.02) {
        ++same;
      }
    }
  }
  return double(same) / all;
}

double inked_share(const picture::RgbaImage& image) {
  std::size_t inked = 0;
  for (std::size_t k = 0; k + 3 < image.bytes.size(); k += 4) {
    if (image.bytes[k] < 250 || image.bytes[k + 1] < 250 || image.bytes[k + 2] < 250) ++inked;
  }
  return double(inked) / (0.25 * double(image.bytes.size()));
}

}  // namespace calmplate::sample
