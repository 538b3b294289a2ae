// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <sys/types.h>

#include <filesystem>
#include <set>
#include <string>
#include <vector>

/// The program as its user runs it: a process of its own, told apart by exit status, the two output
/// streams and what lies in the folder afterwards.
namespace calmplate::cli {

/// A folder of its own that is gone after the test.
class Folder {
 public:
  Folder();
  ~Folder();
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  std::filesystem::path operator/(const std::string& name) const { return path_ / name; }
  const std::filesystem::path& path() const { return path_; }
  void write(const std::string& name, const std::string& text) const;
  std::string read(const std::string& name) const;
  /// Every file and folder below, hidden ones too, by its path from here; files with size and hash.
  std::set<std::string> content() const;

 private:
  std::filesystem::path path_;
};

struct Outcome {
  int status = -1;  ///< exit status; 128 + signal if a signal ended the program
  std::string out;
  std::string err;  ///< empty if standard error was a terminal
};

int count_lines(const std::string& text);

/// Runs the program in `folder` to its end, DISPLAY unset, neither output stream a terminal.
/// @param file_limit_bytes  no file may grow beyond this, as on a full disk; 0: no limit
Outcome run_program(const Folder& folder,
                    const std::vector<std::string>& arguments,
                    long file_limit_bytes = 0);

/// The program with its standard output on the device /dev/full, which takes nothing.
Outcome run_into_full_device(const Folder& folder, const std::vector<std::string>& arguments);

/// The program while it runs, on a terminal but for its standard output.
class TerminalRun {
 public:
  TerminalRun(const Folder& folder, const std::vector<std::string>& arguments);
  ~TerminalRun();
  TerminalRun(const TerminalRun&) = delete;
  TerminalRun& operator=(const TerminalRun&) = delete;

  /// Reads until the terminal has shown `text`. @return false if the program ended before
  bool wait_for(const std::string& text);
  void press_ctrl_c();
  void send_signal(int number);
  /// Waits for the end. The outcome's err is all that the terminal has shown.
  Outcome finish();

 private:
  bool read_some();
  pid_t child_ = -1;
  int terminal_ = -1, out_ = -1;
  std::string shown_;
};

}  // namespace calmplate::cli
