// SPDX-License-Identifier: GPL-3.0-or-later
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "job/read_sections.hpp"

namespace calmplate::job {
namespace {

constexpr std::uintmax_t kLargestLogo = 512 * 1024;  // bytes: the page carries it as text
constexpr const char* kLogoAllowed =
    "a PNG or JPEG file of up to 512 kB, its path from the job file";

/// ".png" or ".jpg" by the first bytes; empty for anything else.
/// Source: [memory] the signatures of PNG and JPEG; their files open in tests.
std::string picture_ending(const std::string& bytes) {
  const std::string png("\x89PNG\r\n\x1a\n", 8), jpeg("\xff\xd8\xff", 3);
  if (bytes.compare(0, png.size(), png) == 0) return ".png";
  if (bytes.compare(0, jpeg.size(), jpeg) == 0) return ".jpg";
  return "";
}

void read_logo(TableReader& reader, Job& job) {
  const std::string name = reader.text_or("logo", "");
  if (name.empty()) return;
  const std::filesystem::path file = job.file.parent_path() / name;
  std::error_code fault;
  if (!std::filesystem::is_regular_file(file, fault))
    reader.fail("logo", "is not a file that is there, " + in_quotes(name), kLogoAllowed);
  const std::uintmax_t size = std::filesystem::file_size(file, fault);
  if (fault || size > kLargestLogo)
    reader.fail("logo", "is too large, " + std::to_string(size / 1024) + " kB", kLogoAllowed);
  std::ifstream stream(file, std::ios::binary);
  job.report.logo.assign(std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>());
  if (!stream.good() && !stream.eof())
    reader.fail("logo", "cannot be read, " + in_quotes(name), kLogoAllowed);
  job.report.logo_ending = picture_ending(job.report.logo);
  if (job.report.logo_ending.empty())
    reader.fail("logo", "is neither PNG nor JPEG, " + in_quotes(name), kLogoAllowed);
}

}  // namespace

void read_report(TableReader& file, Job& job) {
  auto reader = file.section("report", keys::kReport);
  if (!reader) return;
  ReportInput& report = job.report;
  report.fitter = reader->text_or("fitter", "");
  report.contact = reader->text_or("contact", "");
  report.car = reader->text_or("car", "");
  report.customer = reader->text_or("customer", "");
  report.question = reader->text_or("question", "");
  read_logo(*reader, job);
  if (reader->has("proposal")) {
    std::vector<std::string> names;
    for (const Layout& layout : job.layouts) names.push_back(layout.name);
    report.proposal = names[reader->word("proposal", names, "layout")];
  }
  reader->finish();
}

}  // namespace calmplate::job
