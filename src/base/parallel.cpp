// SPDX-License-Identifier: GPL-3.0-or-later
#include "base/parallel.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <stdexcept>
#include <thread>
#include <vector>

namespace calmplate::base {

void parallel_for(std::size_t count,
                  unsigned threads,
                  const std::function<void(std::size_t)>& body) {
  if (threads == 0) throw std::invalid_argument("parallel_for: threads is 0, must be 1 or more");
  if (threads == 1 || count < 2) {
    for (std::size_t i = 0; i < count; ++i) body(i);
    return;
  }
  std::vector<std::exception_ptr> faults(count);
  std::atomic<std::size_t> next{0};
  std::atomic<bool> failed{false};
  const auto work = [&] {
    for (std::size_t i = next++; i < count && !failed; i = next++) {
      try {
        body(i);
      } catch (...) {
        faults[i] = std::current_exception();
        failed = true;
      }
    }
  };
  std::vector<std::thread> pool;
  const std::size_t extra = std::min<std::size_t>(threads, count) - 1;
  for (std::size_t t = 0; t < extra; ++t) pool.emplace_back(work);
  work();
  for (std::thread& t : pool) t.join();
  for (const std::exception_ptr& fault : faults)
    if (fault) std::rethrow_exception(fault);
}

unsigned hardware_threads() { return std::max(1u, std::thread::hardware_concurrency()); }

}  // namespace calmplate::base
