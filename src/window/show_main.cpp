// SPDX-License-Identifier: GPL-3.0-or-later
#include <vtkObject.h>

#include <cstdio>
#include <exception>
#include <string>
#ifdef __GLIBC__
#include <malloc.h>
#endif

#include "base/input_error.hpp"
#include "window/graphics.hpp"
#include "window/main_window.hpp"

namespace {

constexpr int kFailed = 1, kBadInput = 2;

struct Arguments {
  std::string job, trace;
};

/// JOB and, for tests and benchmarks, --trace FILE (see DEVELOPERS.md).
Arguments read_arguments(int argc, char** argv) {
  Arguments arguments;
  for (int i = 1; i < argc; ++i) {
    const std::string word = argv[i];
    if (word == "--trace" && i + 1 < argc)
      arguments.trace = argv[++i];
    else if (arguments.job.empty() && word.rfind("--", 0) != 0)
      arguments.job = word;
    else
      throw calmplate::base::InputError(
          {}, "\"" + word + "\" is not known to calmplate-show", "calmplate-show JOB");
  }
  if (arguments.job.empty())
    throw calmplate::base::InputError({}, "no job file is given", "calmplate-show JOB");
  return arguments;
}

void print_error(const std::string& text) { std::fprintf(stderr, "calmplate: %s\n", text.c_str()); }

/// As in the main program: large matrices come and go.
void keep_memory() {
#ifdef __GLIBC__
  constexpr int kKept = 512 << 20;  // bytes
  mallopt(M_MMAP_THRESHOLD, kKept);
  mallopt(M_TRIM_THRESHOLD, kKept);
  mallopt(M_ARENA_MAX, 1);
#endif
}

int show(int argc, char** argv) {
  const Arguments arguments = read_arguments(argc, argv);
  calmplate::app::LoadedJob loaded = calmplate::app::load_job(arguments.job);
  calmplate::editing::JobText text = calmplate::editing::JobText::open(arguments.job);
  calmplate::window::Trace trace(arguments.trace);
  vtkObject::GlobalWarningDisplayOff();
  const auto application = calmplate::window::start_graphics(argc, argv);
  calmplate::window::MainWindow window(std::move(loaded), std::move(text), trace);
  window.show();
  window.activateWindow();
  return QCoreApplication::exec();
}

}  // namespace

int main(int argc, char** argv) {
  keep_memory();
  try {
    return show(argc, argv);
  } catch (const calmplate::base::InputError& e) {
    print_error(e.what());
    return kBadInput;
  } catch (const std::exception& e) {
    print_error(e.what());
    return kFailed;
  }
}
