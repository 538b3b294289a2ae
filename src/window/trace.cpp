// SPDX-License-Identifier: GPL-3.0-or-later
#include "window/trace.hpp"

#include <QJsonDocument>
#include <cerrno>
#include <cstring>

#include "base/input_error.hpp"

namespace calmplate::window {

Trace::Trace(const std::string& file) {
  clock_.start();
  if (file.empty()) return;
  file_ = std::fopen(file.c_str(), "w");
  if (file_ == nullptr)
    throw base::InputError({file, 0, ""},
                           std::string("cannot be written: ") + std::strerror(errno));
}

Trace::~Trace() {
  if (file_ != nullptr) std::fclose(file_);
}

double Trace::now_ms() const { return 1e-6 * static_cast<double>(clock_.nsecsElapsed()); }

void Trace::line(const QString& event, QJsonObject content) {
  if (file_ == nullptr) return;
  content.insert("event", event);
  content.insert("ms", now_ms());
  const QByteArray text = QJsonDocument(content).toJson(QJsonDocument::Compact);
  std::fwrite(text.constData(), 1, static_cast<std::size_t>(text.size()), file_);
  std::fputc('\n', file_);
  std::fflush(file_);
}

}  // namespace calmplate::window
