// SPDX-License-Identifier: GPL-3.0-or-later
#include "base/safe_output.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <stdexcept>
#include <system_error>
#include <vector>

#include "base/input_error.hpp"

namespace calmplate::base {
namespace fs = std::filesystem;
namespace {

[[noreturn]] void fail(const fs::path& path, const std::string& what) {
  throw std::runtime_error(path.string() + ": " + what + ": " + std::strerror(errno));
}

/// Writes and flushes; false with errno set on any fault.
bool write_all(int file, const std::string& text) {
  std::size_t done = 0;
  while (done < text.size()) {
    const ssize_t n = ::write(file, text.data() + done, text.size() - done);
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return false;
    done += static_cast<std::size_t>(n);
  }
  return ::fsync(file) == 0;
}

/// A sibling of `target` that does not exist yet.
fs::path sibling(const fs::path& target, const std::string& kind) {
  const fs::path parent = target.has_parent_path() ? target.parent_path() : fs::path(".");
  return parent /
         ("." + target.filename().string() + "." + kind + "-" + std::to_string(::getpid()));
}

}  // namespace

void write_file_whole(const fs::path& path, const std::string& text) {
  const fs::path temporary = sibling(path, "new");
  const int file = ::open(temporary.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0644);
  if (file < 0) fail(path, "cannot be written");
  const bool written = write_all(file, text);
  const int written_errno = errno;
  const bool closed = ::close(file) == 0;
  if (!written || !closed || ::rename(temporary.c_str(), path.c_str()) != 0) {
    if (!written) errno = written_errno;
    const int keep = errno;
    ::unlink(temporary.c_str());
    errno = keep;
    fail(path, "cannot be written");
  }
}

OutputFolder::OutputFolder(const fs::path& target, const std::string& marker) {
  if (target.empty())
    throw InputError({"output", 0, ""}, "is an empty name", "the name of a folder");
  target_ = target.has_filename() ? target : target.parent_path();
  if (target_.empty()) target_ = target;
  const fs::path parent = target_.has_parent_path() ? target_.parent_path() : fs::path(".");
  std::error_code ignored;
  if (!fs::is_directory(parent, ignored))
    throw InputError({parent.string(), 0, ""}, "is not a folder", "an existing folder to write in");
  if (fs::exists(target_, ignored)) {
    const bool folder = fs::is_directory(target_, ignored);
    const bool ours = folder && (fs::is_empty(target_, ignored) || fs::exists(target_ / marker));
    if (!ours)
      throw InputError({target_.string(), 0, ""},
                       "exists and is not a result of this program",
                       "a new name, an empty folder, or a former result to replace");
  }
  temporary_ = sibling(target_, "partial");
  fs::remove_all(temporary_, ignored);
  if (!fs::create_directory(temporary_, ignored))
    throw std::runtime_error(target_.string() + ": cannot be created: " + ignored.message());
}

OutputFolder::~OutputFolder() {
  std::error_code ignored;
  if (!committed_) fs::remove_all(temporary_, ignored);
}

void OutputFolder::commit() {
  const fs::path former = sibling(target_, "former");
  std::error_code ignored;
  fs::remove_all(former, ignored);
  const bool had_former = fs::exists(target_, ignored);
  if (had_former && ::rename(target_.c_str(), former.c_str()) != 0)
    fail(target_, "the former result cannot be moved");
  if (::rename(temporary_.c_str(), target_.c_str()) != 0) {
    const int keep = errno;
    if (had_former) ::rename(former.c_str(), target_.c_str());
    errno = keep;
    fail(target_, "cannot be put in place");
  }
  committed_ = true;
  fs::remove_all(former, ignored);
}

}  // namespace calmplate::base
