// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
class QWidget;

namespace calmplate::window {

void show_help_card(QWidget* parent);  ///< mouse and keys; returns when it is closed
void show_cautions(QWidget* parent);

}  // namespace calmplate::window
