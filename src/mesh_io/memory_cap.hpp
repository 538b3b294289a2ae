// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <sys/resource.h>

#include <cstddef>

namespace calmplate::mesh_io {

/// While it lives, the process may take `bytes` more memory than it has now; asking for more throws
/// std::bad_alloc. A damaged VTK file can ask for any number of bytes, and its reader believes it.
/// The cap holds for all threads, so it is kept for the reading of one file only.
class MemoryCap {
 public:
  explicit MemoryCap(std::size_t bytes);
  ~MemoryCap();
  MemoryCap(const MemoryCap&) = delete;
  MemoryCap& operator=(const MemoryCap&) = delete;

 private:
  rlimit before_{};
  bool set_ = false;
};

}  // namespace calmplate::mesh_io
