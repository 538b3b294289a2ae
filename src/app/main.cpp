// SPDX-License-Identifier: GPL-3.0-or-later
#include <CLI/CLI.hpp>
#ifdef __GLIBC__
#include <malloc.h>
#endif
#include <csignal>
#include <exception>
#include <iostream>

#include "app/commands.hpp"
#include "app/terminal.hpp"
#include "base/input_error.hpp"
#include "base/progress.hpp"

namespace {

int run(int argc, char** argv) {
  CLI::App app{"calmplate: where to lay damping sheet in a car door, and what it gives"};
  app.set_version_flag("--version", std::string("calmplate ") + CALMPLATE_VERSION);
  app.require_subcommand(1);
  app.footer("Example: calmplate run meshes/estate_front_door.toml -o door");
  calmplate::app::add_run(app);
  calmplate::app::add_report(app);
  calmplate::app::add_place(app);
  calmplate::app::add_check(app);
  calmplate::app::add_start(app);
  calmplate::app::add_cut(app);
  calmplate::app::add_sheet(app);
  calmplate::app::add_window(app);
  try {
    app.parse(argc, argv);
  } catch (const CLI::CallForHelp& e) {
    return app.exit(e);
  } catch (const CLI::CallForAllHelp& e) {
    return app.exit(e);
  } catch (const CLI::CallForVersion& e) {
    return app.exit(e);
  } catch (const CLI::ParseError& e) {
    std::cerr << "calmplate: " << e.what() << " (see calmplate --help)\n";
    return calmplate::app::kBadInput;
  }
  if (!std::cout.flush()) {
    calmplate::app::print_error("standard output cannot be written, as on a full disk");
    return calmplate::app::kFailed;
  }
  return calmplate::app::exit_status();
}

/// Large matrices come and go by the thousand: keep their pages instead of asking the system for
/// fresh ones, cleared, each time.
void keep_memory() {
#ifdef __GLIBC__
  constexpr int kKept = 512 << 20;  // bytes
  mallopt(M_MMAP_THRESHOLD, kKept);
  mallopt(M_TRIM_THRESHOLD, kKept);
  mallopt(M_ARENA_MAX, 1);  // a second arena cannot hold large blocks
#endif
}

}  // namespace

int main(int argc, char** argv) {
  // A file that may not grow is a fault to report, not a reason to die half-way.
  std::signal(SIGXFSZ, SIG_IGN);
  keep_memory();
  calmplate::app::catch_interrupt();
  try {
    return run(argc, argv);
  } catch (const calmplate::base::InputError& e) {
    calmplate::app::print_error(e.what());
    return calmplate::app::kBadInput;
  } catch (const calmplate::base::Cancelled& e) {
    calmplate::app::print_error(std::string(e.what()) + "; nothing was written");
    return calmplate::app::kInterrupted;
  } catch (const std::exception& e) {
    calmplate::app::print_error(e.what());
    return calmplate::app::kFailed;
  }
}
