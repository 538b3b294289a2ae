// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <QElapsedTimer>
#include <QJsonObject>
#include <QString>
#include <cstdio>
#include <memory>

namespace calmplate::window {

/// What the window did, one JSON object a line, for tests and benchmarks that drive it from
/// outside. Every line has "event" and "ms", the time since the start. Without a file nothing is
/// written.
class Trace {
 public:
  /// @throws base::InputError if the file cannot be written
  explicit Trace(const std::string& file);
  ~Trace();
  Trace(const Trace&) = delete;
  Trace& operator=(const Trace&) = delete;

  bool on() const { return file_ != nullptr; }
  void line(const QString& event, QJsonObject content = {});
  double now_ms() const;

 private:
  std::FILE* file_ = nullptr;
  QElapsedTimer clock_;
};

}  // namespace calmplate::window
