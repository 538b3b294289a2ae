// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/program.hpp"

#include <fcntl.h>
#include <sys/ioctl.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <fstream>
#include <functional>
#include <iterator>
#include <stdexcept>

namespace calmplate::cli {
namespace {

namespace fs = std::filesystem;

std::string bytes_of(const fs::path& file) {
  std::ifstream stream(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

/// A file in memory: it holds any amount of output and leaves nothing on the disk.
int memory_file() {
  const int file = ::memfd_create("output", MFD_CLOEXEC);
  if (file < 0) throw std::runtime_error("no file in memory");
  return file;
}

std::string take_memory(int file) {
  std::string text;
  std::array<char, 65536> buffer{};
  ::lseek(file, 0, SEEK_SET);
  for (ssize_t n = 0; (n = ::read(file, buffer.data(), buffer.size())) > 0;)
    text.append(buffer.data(), static_cast<std::size_t>(n));
  ::close(file);
  return text;
}

struct Streams {
  int in, out, err;
  bool terminal;  ///< err becomes the process's own terminal
  long file_limit_bytes;
};

/// What the child does between fork and the program; only calls that are safe there.
[[noreturn]] void become_program(const char* folder, char** arguments, const Streams& streams) {
  ::prctl(PR_SET_PDEATHSIG, SIGKILL);
  if (streams.terminal) {
    ::setsid();
    ::ioctl(streams.err, TIOCSCTTY, 0);
  }
  ::dup2(streams.in, STDIN_FILENO);
  ::dup2(streams.out, STDOUT_FILENO);
  ::dup2(streams.err, STDERR_FILENO);
  if (streams.file_limit_bytes > 0) {
    const rlim_t limit = static_cast<rlim_t>(streams.file_limit_bytes);
    const rlimit both{limit, limit};
    ::setrlimit(RLIMIT_FSIZE, &both);
  }
  if (::chdir(folder) == 0) ::execv(arguments[0], arguments);
  ::_exit(127);
}

pid_t start(const Folder& folder,
            const std::vector<std::string>& arguments,
            const Streams& streams) {
  std::vector<std::string> words{CALMPLATE_PROGRAM};
  words.insert(words.end(), arguments.begin(), arguments.end());
  std::vector<char*> pointers;
  for (std::string& word : words) pointers.push_back(word.data());
  pointers.push_back(nullptr);
  ::unsetenv("DISPLAY");
  ::unsetenv("WAYLAND_DISPLAY");
  const pid_t child = ::fork();
  if (child < 0) throw std::runtime_error("no process");
  if (child == 0) become_program(folder.path().c_str(), pointers.data(), streams);
  return child;
}

int wait_for_end(pid_t child) {
  int status = 0;
  while (::waitpid(child, &status, 0) < 0)
    if (errno != EINTR) return -1;
  return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

Outcome run_with_output(const Folder& folder,
                        const std::vector<std::string>& arguments,
                        int out,
                        long file_limit_bytes) {
  const int in = ::open("/dev/null", O_RDONLY | O_CLOEXEC);
  const int err = memory_file();
  Outcome outcome;
  outcome.status = wait_for_end(start(folder, arguments, {in, out, err, false, file_limit_bytes}));
  ::close(in);
  outcome.err = take_memory(err);
  outcome.out = take_memory(out);
  return outcome;
}

}  // namespace

Folder::Folder() {
  std::string name = (fs::temp_directory_path() / "calmplate_cli_XXXXXX").string();
  if (::mkdtemp(name.data()) == nullptr) throw std::runtime_error("no folder for the test");
  path_ = name;
}

Folder::~Folder() {
  std::error_code ignored;
  fs::remove_all(path_, ignored);
}

void Folder::write(const std::string& name, const std::string& text) const {
  std::ofstream stream(path_ / name, std::ios::binary);
  stream << text;
  if (!stream) throw std::runtime_error("cannot write " + name);
}

std::string Folder::read(const std::string& name) const { return bytes_of(path_ / name); }

std::set<std::string> Folder::content() const {
  std::set<std::string> found;
  for (const auto& entry : fs::recursive_directory_iterator(path_)) {
    const std::string name = entry.path().lexically_relative(path_).string();
    if (!entry.is_regular_file()) {
      found.insert(name);
      continue;
    }
    const std::string bytes = bytes_of(entry.path());
    found.insert(name + ": " + std::to_string(bytes.size()) + " bytes, hash " +
                 std::to_string(std::hash<std::string>()(bytes)));
  }
  return found;
}

int count_lines(const std::string& text) {
  return static_cast<int>(std::count(text.begin(), text.end(), '\n'));
}

Outcome run_program(const Folder& folder,
                    const std::vector<std::string>& arguments,
                    long file_limit_bytes) {
  return run_with_output(folder, arguments, memory_file(), file_limit_bytes);
}

Outcome run_into_full_device(const Folder& folder, const std::vector<std::string>& arguments) {
  const int out = ::open("/dev/full", O_WRONLY | O_CLOEXEC);
  if (out < 0) throw std::runtime_error("no full device");
  return run_with_output(folder, arguments, out, 0);
}

TerminalRun::TerminalRun(const Folder& folder, const std::vector<std::string>& arguments) {
  terminal_ = ::posix_openpt(O_RDWR | O_NOCTTY | O_CLOEXEC);
  if (terminal_ < 0 || ::grantpt(terminal_) != 0 || ::unlockpt(terminal_) != 0)
    throw std::runtime_error("no terminal");
  const int other_end = ::open(::ptsname(terminal_), O_RDWR | O_NOCTTY | O_CLOEXEC);
  if (other_end < 0) throw std::runtime_error("no terminal");
  out_ = memory_file();
  child_ = start(folder, arguments, {other_end, out_, other_end, true, 0});
  ::close(other_end);
}

TerminalRun::~TerminalRun() {
  if (child_ > 0) {
    ::kill(child_, SIGKILL);
    wait_for_end(child_);
    ::close(out_);
  }
  ::close(terminal_);
}

/// False once no process has the terminal open any more.
bool TerminalRun::read_some() {
  std::array<char, 4096> buffer{};
  for (;;) {
    const ssize_t n = ::read(terminal_, buffer.data(), buffer.size());
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return false;
    shown_.append(buffer.data(), static_cast<std::size_t>(n));
    return true;
  }
}

bool TerminalRun::wait_for(const std::string& text) {
  while (shown_.find(text) == std::string::npos)
    if (!read_some()) return false;
  return true;
}

void TerminalRun::press_ctrl_c() {
  const char key = 3;
  if (::write(terminal_, &key, 1) != 1) throw std::runtime_error("the terminal takes no key");
}

void TerminalRun::send_signal(int number) { ::kill(child_, number); }

Outcome TerminalRun::finish() {
  while (read_some()) continue;
  Outcome outcome;
  outcome.status = wait_for_end(child_);
  child_ = -1;
  outcome.out = take_memory(out_);
  outcome.err = shown_;
  return outcome;
}

}  // namespace calmplate::cli
