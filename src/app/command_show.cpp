// SPDX-License-Identifier: GPL-3.0-or-later
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <memory>
#include <stdexcept>
#include <system_error>

#include "app/commands.hpp"
#include "job/job.hpp"

namespace calmplate::app {
namespace {

namespace fs = std::filesystem;

constexpr const char* kProgram = "calmplate-show";

/// This process becomes the window: it lies beside this program, which links no toolkit.
void show(const std::string& job) {
  job::read_job(job);  // a slip in the job is told without a display, too
  std::error_code failed;
  const fs::path self = fs::read_symlink("/proc/self/exe", failed);
  const fs::path program = self.parent_path() / kProgram;
  std::error_code ignored;
  if (failed || !fs::exists(program, ignored))
    throw std::runtime_error(std::string("the window program ") + kProgram +
                             " does not lie beside calmplate: it is built where Qt 5 and VTK's Qt "
                             "module are installed");
  std::string name = program.string(), argument = job;
  std::array<char*, 3> arguments = {name.data(), argument.data(), nullptr};
  ::execv(name.c_str(), arguments.data());
  throw std::runtime_error(name + " cannot be started: " + std::strerror(errno));
}

}  // namespace

void add_window(CLI::App& app) {
  auto job = std::make_shared<std::string>();
  CLI::App* command =
      app.add_subcommand("show", "Open a window in which laying sheet changes the curve at once");
  command->add_option("JOB", *job, "job file (TOML)")->required();
  command->footer("Example: calmplate show meshes/estate_front_door.toml");
  command->callback([job] { show(*job); });
}

}  // namespace calmplate::app
