// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <filesystem>
#include <iostream>
#include <memory>
#include <string>

#include "app/commands.hpp"
#include "base/input_error.hpp"
#include "base/safe_output.hpp"
#include "report/starter.hpp"

namespace calmplate::app {
namespace {

namespace fs = std::filesystem;

struct Options {
  report::StarterOptions starter;
  std::string output;
  bool json = false, quiet = false;
};

void check_name(const std::string& name) {
  const bool odd = std::any_of(name.begin(), name.end(), [](char c) {
    return static_cast<unsigned char>(c) < 0x20 || c == 0x7f;
  });
  if (name.empty() || name.size() > 100 || odd)
    throw base::InputError({"", 0, "NAME"},
                           name.empty() ? "is empty"
                           : odd        ? "holds a line break"
                                        : "is too long",
                           "a name of up to 100 letters, such as left_front");
}

/// Where the job goes: -o as it is, else the name with .toml, in this folder.
fs::path target_of(const Options& options) {
  if (!options.output.empty()) return options.output;
  const std::string& name = options.starter.title;
  if (name.find('/') != std::string::npos || name[0] == '.')
    throw base::InputError({"", 0, "NAME"},
                           "is \"" + name + "\", which is no name of a file here",
                           "a plain name, or -o");
  return fs::path(name).extension() == ".toml" ? name : name + ".toml";
}

void check_target(const fs::path& target) {
  std::error_code ignored;
  if (fs::exists(fs::symlink_status(target, ignored)))
    throw base::InputError({target.string(), 0, ""},
                           "is there already and stays as it is",
                           "another name, or another file with -o");
  const fs::path folder = target.has_parent_path() ? target.parent_path() : fs::path(".");
  if (!fs::is_directory(folder, ignored))
    throw base::InputError({folder.string(), 0, ""}, "is not a folder", "an existing folder");
}

void start(const Options& given) {
  Options options = given;
  check_name(options.starter.title);
  const fs::path target = target_of(options);
  options.starter.file = target.string();
  if (options.output.empty() && target == options.starter.title)
    options.starter.title = target.stem().string();
  const std::string text = report::starter_job(options.starter);
  check_target(target);
  base::write_file_whole(target, text);
  if (options.json)
    std::cout << report::starter_json(options.starter);
  else if (!options.quiet)
    std::cout << report::starter_words(options.starter);
}

}  // namespace

void add_start(CLI::App& app) {
  auto options = std::make_shared<Options>();
  report::StarterOptions& starter = options->starter;
  starter.kind = report::starter_doors().front().kind;
  std::string kinds;
  for (const report::StarterDoor& door : report::starter_doors())
    kinds += (kinds.empty() ? "" : ", ") + door.kind;
  CLI::App* command =
      app.add_subcommand("start", "Write a job with a drawn door to begin with; it runs as it is");
  command->add_option("NAME", starter.title, "name of the job; NAME.toml is written")->required();
  command->add_option("--kind", starter.kind, "kind of door: " + kinds)->capture_default_str();
  command->add_option("--width-mm", starter.width_mm, "width of the skin along the door");
  command->add_option("--height-mm", starter.height_mm, "height of the skin");
  command->add_option("--thickness-mm", starter.thickness_mm, "of the sheet metal");
  command->add_option("--material", starter.material, "steel or aluminium");
  command->add_option(
      "--woofer-hole-mm", starter.woofer_hole_mm, "diameter of a hole in the skin for the woofer");
  command->add_option("-o,--output", options->output, "file to write in place of NAME.toml");
  command->add_flag("--json", options->json, "print what was written as JSON");
  command->add_flag("--quiet", options->quiet, "print nothing if all is well");
  command->footer("Example: calmplate start left_front --kind estate-rear --width-mm 860");
  command->callback([options] { start(*options); });
}

}  // namespace calmplate::app
