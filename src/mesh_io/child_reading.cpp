// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh_io/child_reading.hpp"

#include <fcntl.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdint>
#include <cstring>
#include <exception>
#include <fstream>
#include <new>
#include <string>

namespace calmplate::mesh_io {
namespace {

/// What goes through the pipe before the points, the ends of the polygons and their corners.
struct Head {
  std::uint64_t outcome = 0;
  std::uint64_t cells = 0;
  std::uint64_t lines_and_points = 0;
  std::uint64_t points = 0;
  std::uint64_t polygons = 0;
  std::uint64_t corners = 0;  ///< of all polygons together
};

bool send(int pipe, const void* bytes, std::size_t size) {
  const char* at = static_cast<const char*>(bytes);
  while (size > 0) {
    const ssize_t n = ::write(pipe, at, size);
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return false;
    at += n;
    size -= static_cast<std::size_t>(n);
  }
  return true;
}

bool send(int pipe, const VtkReading& reading) {
  const PolygonSoup& soup = reading.soup;
  const Head head{static_cast<std::uint64_t>(reading.outcome),
                  reading.cells,
                  soup.lines_and_points,
                  soup.points.size(),
                  soup.ends.size(),
                  soup.corners.size()};
  return send(pipe, &head, sizeof(head)) &&
         send(pipe, soup.points.data(), head.points * 3 * sizeof(double)) &&
         send(pipe, soup.ends.data(), head.polygons * sizeof(std::size_t)) &&
         send(pipe, soup.corners.data(), head.corners * sizeof(PointNumber));
}

void limit(int resource, rlim_t most) {
  rlimit now{};
  if (::getrlimit(resource, &now) != 0) return;
  now.rlim_cur = std::min(now.rlim_max, most);
  ::setrlimit(resource, &now);
}

/// No terminal, no handlers of the program's, no core file, bounded memory and time.
void confine(std::size_t memory) {
  const int nothing = ::open("/dev/null", O_RDWR);
  for (int stream = 0; nothing >= 0 && stream < 3; ++stream) ::dup2(nothing, stream);
  for (const int fault : {SIGSEGV, SIGFPE, SIGBUS, SIGILL, SIGABRT, SIGTERM, SIGINT, SIGXCPU})
    ::signal(fault, SIG_DFL);
  ::signal(SIGPIPE, SIG_IGN);
  limit(RLIMIT_CORE, 0);
  limit(RLIMIT_CPU, 120);
  std::ifstream statm("/proc/self/statm");
  rlim_t pages = 0;
  if (statm >> pages)
    limit(RLIMIT_AS, pages * static_cast<rlim_t>(::sysconf(_SC_PAGESIZE)) + memory);
}

[[noreturn]] void child(int pipe,
                        const char* file,
                        VtkReading (*read)(const char*),
                        std::size_t memory) {
  confine(memory);
  VtkReading reading;
  try {
    reading = read(file);
  } catch (const std::exception&) {
    reading = VtkReading{};
  }
  bool sent = false;
  try {
    sent = send(pipe, reading);
  } catch (const std::bad_alloc&) {
  }
  ::_exit(sent ? 0 : 1);
}

std::string receive(int pipe) {
  std::string bytes;
  std::vector<char> part(1 << 16);
  while (true) {
    const ssize_t n = ::read(pipe, part.data(), part.size());
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return bytes;
    bytes.append(part.data(), static_cast<std::size_t>(n));
  }
}

VtkReading unpack(const std::string& bytes) {
  Head head;
  VtkReading reading;
  if (bytes.size() < sizeof(head)) return reading;
  std::memcpy(&head, bytes.data(), sizeof(head));
  if (bytes.size() != sizeof(head) + 24 * head.points + 8 * head.polygons + 4 * head.corners)
    return reading;
  const char* at = bytes.data() + sizeof(head);
  const auto take = [&at](void* into, std::size_t size) {
    std::copy_n(at, size, static_cast<char*>(into));
    at += size;
  };
  reading.outcome = static_cast<VtkOutcome>(head.outcome);
  reading.cells = head.cells;
  reading.soup.lines_and_points = head.lines_and_points;
  reading.soup.points.resize(head.points);
  take(reading.soup.points.data(), 24 * head.points);
  reading.soup.ends.resize(head.polygons);
  take(reading.soup.ends.data(), 8 * head.polygons);
  reading.soup.corners.resize(head.corners);
  take(reading.soup.corners.data(), 4 * head.corners);
  return reading;
}

}  // namespace

VtkReading read_in_child(const char* file, VtkReading (*read)(const char*), std::size_t memory) {
  static_assert(sizeof(std::size_t) == 8, "point numbers go through the pipe as 8 bytes");
  int ends[2];
  const VtkReading no_process{VtkOutcome::kNoProcess, 0, {}};
  if (::pipe2(ends, O_CLOEXEC) != 0) return no_process;
  const pid_t id = ::fork();
  if (id == 0) {
    ::close(ends[0]);
    child(ends[1], file, read, memory);
  }
  ::close(ends[1]);
  const std::string bytes = id < 0 ? std::string() : receive(ends[0]);
  ::close(ends[0]);
  if (id < 0) return no_process;
  while (::waitpid(id, nullptr, 0) < 0 && errno == EINTR) {
  }
  return unpack(bytes);
}

}  // namespace calmplate::mesh_io
