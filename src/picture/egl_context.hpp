// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace calmplate::picture {

/// While it lives, what this process and its libraries write to standard error goes nowhere.
/// Drivers and loaders print there and offer no other way to be quiet.
class QuietStandardError {
 public:
  QuietStandardError();
  ~QuietStandardError();
  QuietStandardError(const QuietStandardError&) = delete;
  QuietStandardError& operator=(const QuietStandardError&) = delete;

 private:
  int saved_ = -1;
};

/// An OpenGL context with no window system behind it: EGL on Mesa's surfaceless platform, drawn by
/// the software driver so that every machine draws the same picture. Current in the calling thread
/// from construction to destruction.
class EglContext {
 public:
  /// @throws std::runtime_error (one line) if EGL offers no such context
  EglContext();
  ~EglContext();
  EglContext(const EglContext&) = delete;
  EglContext& operator=(const EglContext&) = delete;

 private:
  void* display_ = nullptr;
  void* context_ = nullptr;
};

}  // namespace calmplate::picture
