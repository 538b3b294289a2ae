// SPDX-License-Identifier: GPL-3.0-or-later
#include <cstdint>
#include <fstream>
#include <iterator>
#include <stdexcept>
#include <string>
#include <system_error>

#include "job/job.hpp"
#include "job/read_sections.hpp"

namespace calmplate::job {
namespace {

constexpr std::uintmax_t kLargestFile = 4U << 20U;  // bytes

void read_title(TableReader& file, Job& job) {
  TableReader reader = file.required_section("job", keys::kJob);
  job.title = reader.text("title");
  job.note = reader.long_text_or("note", "");
  job.currency = reader.text_or("currency", job.currency);
  reader.finish();
}

std::string file_text(const std::filesystem::path& file) {
  namespace fs = std::filesystem;
  const base::Where at{file.string(), 0, ""};
  std::error_code error;
  const fs::file_status status = fs::status(file, error);
  if (status.type() == fs::file_type::not_found)
    throw base::InputError(at, "does not exist", "a job file");
  if (status.type() == fs::file_type::directory)
    throw base::InputError(at, "is a folder", "a job file");
  if (status.type() == fs::file_type::none)
    throw base::InputError(at, "cannot be read: " + error.message(), "a job file");
  if (status.type() != fs::file_type::regular)
    throw base::InputError(at, "is not an ordinary file", "a job file");
  const std::uintmax_t size = fs::file_size(file, error);
  if (!error && size > kLargestFile)
    throw base::InputError(at,
                           "is " + std::to_string(size >> 20U) + " MB long",
                           "a job file of up to " + std::to_string(kLargestFile >> 20U) + " MB");
  std::ifstream stream(file, std::ios::binary);
  if (!stream) throw base::InputError(at, "cannot be opened for reading", "a file you may read");
  std::string text((std::istreambuf_iterator<char>(stream)), std::istreambuf_iterator<char>());
  if (stream.bad()) throw base::InputError(at, "cannot be read to its end");
  if (text.find_first_not_of(" \t\r\n") == std::string::npos)
    throw base::InputError(at, "is empty", "a job file with at least [job], [panel] and [drive]");
  return text;
}

}  // namespace

const sheet::Sheet& Job::sheet_named(const std::string& name) const {
  for (const sheet::Sheet& sheet : sheets)
    if (sheet.name == name) return sheet;
  throw std::out_of_range("Job::sheet_named: no sheet " + name);
}

Job read_job_text(const std::string& text, const std::filesystem::path& file) {
  TableReader reader = TableReader::parse(text, file.string());
  Job job;
  job.file = file;
  read_title(reader, job);
  const Materials materials = read_materials(reader);
  read_panel(reader, materials, job);
  read_stiffeners(reader, materials, job);
  read_springs(reader, job);
  read_masses(reader, job);
  read_sheets(reader, materials, job);
  read_keep_outs(reader, job);
  read_layouts(reader, job);
  read_drive(reader, job);
  read_woofer(reader, job);
  read_cavity(reader, job);
  read_band(reader, job);
  read_listen_points(reader, job);
  read_benefit_map(reader, job);
  read_conditions(reader, job);
  reader.finish();
  return job;
}

Job read_job(const std::filesystem::path& file) { return read_job_text(file_text(file), file); }

}  // namespace calmplate::job
