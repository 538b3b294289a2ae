// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/draw_process.hpp"

#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstring>
#include <system_error>

extern char** environ;

namespace calmplate::app {
namespace {

namespace fs = std::filesystem;

fs::path drawing_program() {
  std::error_code failed;
  const fs::path self = fs::read_symlink("/proc/self/exe", failed);
  return failed ? fs::path() : self.parent_path() / "calmplate-draw";
}

/// All that the child says until it ends, last non-empty line of it. The child is asked to end when
/// the person wants to stop: a signal may have reached this process alone.
std::string last_line(int file, pid_t child, const base::Progress& progress) {
  constexpr int kLookMilliseconds = 100;
  std::string text;
  std::array<char, 4096> buffer{};
  for (;;) {
    if (progress.cancelled && progress.cancelled()) ::kill(child, SIGTERM);
    pollfd readable{file, POLLIN, 0};
    if (::poll(&readable, 1, kLookMilliseconds) <= 0) continue;
    const ssize_t n = ::read(file, buffer.data(), buffer.size());
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) break;
    text.append(buffer.data(), static_cast<std::size_t>(n));
  }
  while (!text.empty() && text.back() == '\n') text.pop_back();
  const std::size_t at = text.rfind('\n');
  return at == std::string::npos ? text : text.substr(at + 1);
}

}  // namespace

std::string draw_pictures(const fs::path& folder, const base::Progress& progress) {
  const fs::path program = drawing_program();
  std::error_code ignored;
  if (!fs::exists(program, ignored))
    return "the drawing program calmplate-draw does not lie beside calmplate";
  int pipe_ends[2];
  if (::pipe2(pipe_ends, O_CLOEXEC) != 0) return std::strerror(errno);
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
  posix_spawn_file_actions_adddup2(&actions, pipe_ends[1], STDERR_FILENO);
  std::string name = program.string(), argument = folder.string();
  std::array<char*, 3> arguments = {name.data(), argument.data(), nullptr};
  pid_t child = 0;
  const int failed =
      ::posix_spawn(&child, name.c_str(), &actions, nullptr, arguments.data(), environ);
  posix_spawn_file_actions_destroy(&actions);
  ::close(pipe_ends[1]);
  const std::string said =
      failed == 0 ? last_line(pipe_ends[0], child, progress) : std::strerror(failed);
  ::close(pipe_ends[0]);
  if (failed != 0) return said;
  int status = 0;
  while (::waitpid(child, &status, 0) < 0 && errno == EINTR) continue;
  if (WIFEXITED(status) && WEXITSTATUS(status) == 0) return "";
  if (WIFSIGNALED(status))
    return "the drawing program was ended by signal " + std::to_string(WTERMSIG(status));
  return said.empty() ? "the drawing program failed without a word" : said;
}

}  // namespace calmplate::app
