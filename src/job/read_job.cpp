// SPDX-License-Identifier: GPL-3.0-or-later
#include <stdexcept>
#include <string>

#include "job/file_text.hpp"
#include "job/job.hpp"
#include "job/read_sections.hpp"

namespace calmplate::job {
namespace {

void read_title(TableReader& file, Job& job) {
  TableReader reader = file.required_section("job", keys::kJob);
  job.title = reader.text("title");
  job.note = reader.long_text_or("note", "");
  job.currency = reader.text_or("currency", job.currency);
  reader.finish();
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
  read_woofer(reader, job);
  read_cavity(reader, job);
  read_drive(reader, job);
  read_band(reader, job);
  read_listen_points(reader, job);
  read_benefit_map(reader, job);
  read_sheet_comparison(reader, job);
  read_conditions(reader, job);
  read_cutting(reader, job);
  read_report(reader, job);
  read_unknowns(reader, job);
  reader.finish();
  // A band that the woofer decides is not known yet.
  if (job.band_given || !job.woofer) check_sheet_limits(job);
  return job;
}

Job read_job(const std::filesystem::path& file) {
  return read_job_text(
      file_text(file, "a job file", "a job file with at least [job], [panel] and [drive]"), file);
}

}  // namespace calmplate::job
