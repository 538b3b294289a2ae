// SPDX-License-Identifier: GPL-3.0-or-later
#include <filesystem>
#include <iostream>
#include <memory>
#include <string>

#include "app/commands.hpp"
#include "base/input_error.hpp"
#include "base/safe_output.hpp"
#include "page/page.hpp"

namespace calmplate::app {
namespace {

struct Options {
  std::string folder, output;
  page::Voice voice = page::Voice::fitter;
  bool quiet = false;
};

void report(const Options& options) {
  const std::filesystem::path folder = options.folder;
  std::error_code ignored;
  if (!std::filesystem::is_directory(folder, ignored))
    throw base::InputError(
        {options.folder, 0, ""}, "is not a folder", "a folder that calmplate run wrote");
  const std::filesystem::path file = options.output.empty()
                                         ? folder / page::file_name(options.voice)
                                         : std::filesystem::path(options.output);
  if (std::filesystem::is_directory(file, ignored))
    throw base::InputError({file.string(), 0, ""}, "is a folder", "a file to write");
  const std::filesystem::path beside =
      file.has_parent_path() ? file.parent_path() : std::filesystem::path(".");
  if (!std::filesystem::is_directory(beside, ignored))
    throw base::InputError({beside.string(), 0, ""}, "is not a folder", "a folder that exists");
  base::write_file_whole(file, page::report_page(folder, options.voice));
  if (!options.quiet) std::cout << file.string() << "\n";
}

}  // namespace

void add_report(CLI::App& app) {
  auto options = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand(
      "report", "Write the page to hand over from a result folder: one HTML file with all inside");
  command->add_option("FOLDER", options->folder, "what calmplate run wrote")->required();
  command->add_option("--for", options->voice, "whose page: customer or fitter; fitter")
      ->transform(CLI::CheckedTransformer(std::map<std::string, page::Voice>{
          {"customer", page::Voice::customer}, {"fitter", page::Voice::fitter}}))
      ->type_name("VOICE");
  command->add_option(
      "-o,--output", options->output, "file to write; customer.html or report.html in FOLDER");
  command->add_flag("--quiet", options->quiet, "do not print the file's name");
  command->footer("Example: calmplate report door --for customer -o door.html");
  command->callback([options] { report(*options); });
}

}  // namespace calmplate::app
