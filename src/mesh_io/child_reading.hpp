// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <cstddef>

#include "mesh_io/vtk_module.hpp"

namespace calmplate::mesh_io {

/// Runs `read` in a process of its own and hands its result back. VTK's XML readers believe every
/// number in a file: a damaged one made them divide by zero, and take 14 GB. The child has no
/// terminal, `memory` bytes more than it starts with, and two minutes of processor time; if it ends
/// in any other way than by handing over a whole result, the file is damaged.
/// @param memory  bytes
/// @return kNoProcess if no process can be started; kDamaged also if the child ran out of `memory`
VtkReading read_in_child(const char* file,
                         VtkReading (*read)(const char* file),
                         std::size_t memory);

}  // namespace calmplate::mesh_io
