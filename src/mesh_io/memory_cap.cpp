// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh_io/memory_cap.hpp"

#include <unistd.h>

#include <algorithm>
#include <fstream>

namespace calmplate::mesh_io {

MemoryCap::MemoryCap(std::size_t bytes) {
  std::ifstream statm("/proc/self/statm");
  rlim_t pages = 0;
  if (!(statm >> pages) || ::getrlimit(RLIMIT_AS, &before_) != 0) return;
  rlimit capped = before_;
  capped.rlim_cur =
      std::min(before_.rlim_cur, pages * static_cast<rlim_t>(::sysconf(_SC_PAGESIZE)) + bytes);
  set_ = ::setrlimit(RLIMIT_AS, &capped) == 0;
}

MemoryCap::~MemoryCap() {
  if (set_) ::setrlimit(RLIMIT_AS, &before_);
}

}  // namespace calmplate::mesh_io
