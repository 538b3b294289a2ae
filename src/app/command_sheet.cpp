// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <iostream>
#include <memory>

#include "app/commands.hpp"
#include "app/draw_process.hpp"
#include "app/terminal.hpp"
#include "base/input_error.hpp"
#include "base/safe_output.hpp"
#include "base/units.hpp"
#include "report/sheet_json.hpp"
#include "report/sheet_text.hpp"

namespace calmplate::app {
namespace {

constexpr const char* kMarker = "sheet.json";
constexpr std::size_t kMostTemperatures = 8;
constexpr double kColdestC = -100.0, kHottestC = 200.0;

/// The sheets that can be asked for: the job's first, then the shelf's.
struct Shelf {
  std::vector<report::ListedSheet> sheets;
  std::string currency;
};

Shelf sheets_of(const std::string& job_file) {
  Shelf out;
  job::Job job;
  if (!job_file.empty()) {
    job = job::read_job(job_file);
    out.sheets = report::job_sheets(job);
  }
  out.currency = job.currency;
  const std::vector<report::ListedSheet> shelf = report::shelf_sheets(out.currency);
  out.sheets.insert(out.sheets.end(), shelf.begin(), shelf.end());
  return out;
}

/// @throws base::InputError with the nearest name if there is none
const report::ListedSheet& named(const Shelf& shelf, const std::string& name, bool with_job) {
  std::vector<std::string> names;
  for (const report::ListedSheet& listed : shelf.sheets) {
    if (listed.sheet.name == name) return listed;
    names.push_back(listed.sheet.name);
  }
  const std::string nearest = base::nearest_word(name, names.data(), names.size());
  const std::string wrong = "\"" + name + "\" is neither on the shelf nor in " +
                            (with_job ? "the job" : "a job given with --job");
  if (!nearest.empty())
    throw base::InputError({"", 0, "NAME"}, wrong + "; did you mean \"" + nearest + "\"?");
  std::string all;
  for (const std::string& known : names) all += (all.empty() ? "" : ", ") + known;
  throw base::InputError({"", 0, "NAME"}, wrong, all);
}

struct ListOptions {
  std::string job;
  bool json = false, quiet = false;
};

void add_list(CLI::App& sheet) {
  auto options = std::make_shared<ListOptions>();
  CLI::App* command = sheet.add_subcommand("list", "The built-in sheets and a job's, a line each");
  command->add_option("--job", options->job, "list the sheets of this job file as well");
  command->add_flag("--json", options->json, "print JSON for machines");
  command->add_flag("--quiet", options->quiet, "print nothing if all is well");
  command->footer("Example: calmplate sheet list --job meshes/estate_front_door.toml");
  command->callback([options] {
    const Shelf shelf = sheets_of(options->job);
    if (options->json)
      std::cout << report::sheet_list_json(shelf.sheets, shelf.currency);
    else if (!options->quiet)
      std::cout << report::sheet_list_text(shelf.sheets, shelf.currency);
  });
}

struct ShowOptions {
  std::string name, job, folder;
  std::vector<double> temperatures_c{-10.0, 0.0, 20.0, 40.0, 60.0};
  bool json = false, quiet = false, no_pictures = false;
};

std::vector<double> temperatures_k(std::vector<double> celsius) {
  for (const double t : celsius)
    if (!(t >= kColdestC && t <= kHottestC))
      throw base::InputError({"", 0, "--temperatures"}, "has one out of range", "-100 to 200 C");
  std::sort(celsius.begin(), celsius.end());
  celsius.erase(std::unique(celsius.begin(), celsius.end()), celsius.end());
  if (celsius.size() > kMostTemperatures)
    throw base::InputError({"", 0, "--temperatures"},
                           "has " + std::to_string(celsius.size()) + " temperatures",
                           "1 to " + std::to_string(kMostTemperatures));
  for (double& t : celsius) t = base::from_celsius(t);
  return celsius;
}

/// Writes sheet.json, sheet.txt and the pictures into a temporary folder and puts it in place.
/// @return why there are no pictures, or empty
std::string write_folder(const ShowOptions& options,
                         const std::string& json,
                         const std::string& text) {
  const base::Progress progress = terminal_progress(options.quiet);
  base::OutputFolder folder(options.folder, kMarker);
  base::write_file_whole(folder.path() / kMarker, json);
  base::write_file_whole(folder.path() / "sheet.txt", text);
  std::string missing;
  if (!options.no_pictures) {
    progress.step("pictures", 0.5);
    missing = draw_pictures(folder.path(), progress);
    progress.check();
    std::error_code ignored;
    if (!missing.empty()) std::filesystem::remove_all(folder.path() / "pictures", ignored);
  }
  folder.commit();
  end_progress();
  return missing;
}

void show(const ShowOptions& options) {
  const Shelf shelf = sheets_of(options.job);
  const report::ListedSheet& listed = named(shelf, options.name, !options.job.empty());
  const report::SheetFigures figures =
      report::sheet_figures(listed.sheet, temperatures_k(options.temperatures_c));
  const std::string json = report::sheet_json(listed, figures, shelf.currency);
  const std::string text = report::sheet_text(listed, figures, shelf.currency);
  std::string missing;
  if (!options.folder.empty()) missing = write_folder(options, json, text);
  if (options.json)
    std::cout << json;
  else if (!options.quiet)
    std::cout << text << (options.folder.empty() ? "" : "\nSheet and pictures: ") << options.folder
              << (options.folder.empty() ? "" : "\n");
  if (missing.empty()) return;
  print_error("figures are in " + options.folder + ", but not the pictures: " + missing);
  set_exit_status(kFailed);
}

void add_show(CLI::App& sheet) {
  auto options = std::make_shared<ShowOptions>();
  CLI::App* command = sheet.add_subcommand(
      "show", "One sheet: its numbers and their sources, modulus, loss factor, coated bars");
  command->add_option("NAME", options->name, "name of a built-in sheet, or of one of the job's")
      ->required();
  command->add_option("--job", options->job, "look among the sheets of this job file first");
  command->add_option(
      "-o,--output", options->folder, "folder for figures and pictures; a former one is replaced");
  command
      ->add_option("--temperatures",
                   options->temperatures_c,
                   "temperatures of the curves over frequency, in C; behind NAME, at most 8")
      ->delimiter(',')
      ->capture_default_str();
  command->add_flag("--no-pictures", options->no_pictures, "leave the pictures out");
  command->add_flag("--json", options->json, "print sheet.json instead of the tables");
  command->add_flag("--quiet", options->quiet, "print nothing, show no progress");
  command->footer("Example: calmplate sheet show \"butyl 2 mm\" -o butyl");
  command->callback([options] { show(*options); });
}

}  // namespace

void add_sheet(CLI::App& app) {
  CLI::App* sheet = app.add_subcommand("sheet", "Sheets as materials over temperature");
  sheet->require_subcommand(1);
  sheet->footer("Example: calmplate sheet list");
  add_list(*sheet);
  add_show(*sheet);
  add_sheet_derive(*sheet);
}

}  // namespace calmplate::app
