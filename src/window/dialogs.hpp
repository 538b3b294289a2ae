// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <QDialog>
#include <QTimer>

namespace calmplate::window {

/// Shows a dialog and waits for it. It takes the keyboard by itself: where no window manager hands
/// out the focus, as on a bare display, nobody else would. The window behind gets it back.
inline int ask(QDialog& dialog) {
  QTimer::singleShot(0, &dialog, [&dialog] { dialog.activateWindow(); });
  const int answer = dialog.exec();
  if (dialog.parentWidget() != nullptr) dialog.parentWidget()->window()->activateWindow();
  return answer;
}

}  // namespace calmplate::window
