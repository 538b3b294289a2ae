// SPDX-License-Identifier: GPL-3.0-or-later
#include "window/help_card.hpp"

#include <QDialogButtonBox>
#include <QPushButton>
#include <QTextBrowser>
#include <QVBoxLayout>

#include "window/dialogs.hpp"
#include "window/words.hpp"

namespace calmplate::window {
namespace {

void show_page(QWidget* parent, const QString& title, const QString& page, const QSize& size) {
  QDialog dialog(parent);
  dialog.setWindowTitle(title);
  auto* text = new QTextBrowser(&dialog);
  text->setHtml(page);
  text->setAccessibleName(title);
  auto* buttons = new QDialogButtonBox(&dialog);
  QPushButton* close = buttons->addButton(words::close_button(), QDialogButtonBox::RejectRole);
  QObject::connect(buttons, &QDialogButtonBox::rejected, &dialog, &QDialog::reject);
  auto* column = new QVBoxLayout(&dialog);
  column->addWidget(text);
  column->addWidget(buttons);
  dialog.resize(size);
  close->setDefault(true);
  text->setFocus();
  ask(dialog);
}

}  // namespace

void show_help_card(QWidget* parent) {
  QString page = "<table cellspacing='0' cellpadding='3' width='100%'><tr>";
  for (int column = 0; column < 3; ++column)
    page += "<th align='left'>" + words::help_head(column).toHtmlEscaped() + "</th>";
  page += "</tr>";
  for (const words::HelpRow& row : words::help_rows())
    page += "<tr><td>" + row.what.toHtmlEscaped() + "</td><td>" + row.mouse.toHtmlEscaped() +
            "</td><td>" + row.keys.toHtmlEscaped() + "</td></tr>";
  show_page(parent, words::help_title(), page + "</table>", {900, 640});
}

void show_cautions(QWidget* parent) {
  QString page = "<p><b>" + words::cautions_first().toHtmlEscaped() + "</b></p><ul>";
  for (const QString& caution : words::cautions())
    page += "<li>" + caution.toHtmlEscaped() + "</li>";
  show_page(parent, words::cautions_title(), page + "</ul>", {620, 560});
}

}  // namespace calmplate::window
