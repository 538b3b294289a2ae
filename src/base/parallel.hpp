// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <cstddef>
#include <functional>

namespace calmplate::base {

/// Calls body(i) once for every i in [0, count), on up to `threads` threads. Each call must write
/// only to what belongs to its own i: then the result does not depend on the number of threads.
/// The first exception in order of i is thrown again here after all threads have ended.
/// @param threads  1 or more; 1 runs in the calling thread
/// @throws std::invalid_argument if threads is 0
void parallel_for(std::size_t count,
                  unsigned threads,
                  const std::function<void(std::size_t)>& body);

/// Number of threads the machine runs at once, at least 1.
unsigned hardware_threads();

}  // namespace calmplate::base
