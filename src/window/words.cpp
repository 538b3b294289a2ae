// SPDX-License-Identifier: GPL-3.0-or-later
#include "window/words.hpp"

#include <QCoreApplication>
#include <cmath>

namespace calmplate::window::words {
namespace {

QString say(const char* text) { return QCoreApplication::translate("window", text); }
QString number(double value, int decimals) { return QString::number(value, 'f', decimals); }

}  // namespace

QString program() { return say("calmplate"); }
QString title(const QString& job_title, const QString& file) {
  return say("%1[*] - %2 - calmplate").arg(file, job_title);
}

QString view_name() { return say("The skin with its sheet"); }
QString view_description() {
  return say(
      "Tab goes from piece to piece, the arrow keys move the selected one. F1 lists all keys.");
}
QString drive_point() { return say("drive"); }
QString seen_from_outside() { return say("seen from outside"); }
QString seen_from_inside() { return say("seen from inside"); }
QString at_mm(double x_mm, double y_mm) {
  return say("(%1, %2) mm").arg(number(x_mm, 0), number(y_mm, 0));
}
QString benefit_scale() { return say("dB less by one more piece"); }
QString working_scale() { return say("how hard the sheet works, share of its most"); }
QString mode_scale(double freq_hz) {
  return say("motion of the skin at %1 Hz, in and out").arg(number(freq_hz, 1));
}

QString chart_name() { return say("Response of the skin over frequency"); }
QString chart_bare() { return say("bare"); }
QString chart_now() { return say("this layout, live"); }
QString chart_settled() { return say("last settled (figures of record)"); }
QString chart_frequency() { return say("frequency, Hz (shaded: the band that counts)"); }
QString chart_level(const QString& unit) { return say("skin velocity, %1").arg(unit); }
QString chart_reading(double freq_hz, std::optional<double> bare_db, std::optional<double> now_db) {
  QString text = say("%1 Hz:").arg(number(freq_hz, 0));
  if (bare_db) text += say(" bare %1 dB").arg(number(*bare_db, 1));
  if (now_db) text += say(", now %1 dB").arg(number(*now_db, 1));
  if (bare_db && now_db) text += say(" (%1 dB less)").arg(number(*bare_db - *now_db, 1));
  return text;
}

QString figures_name() { return say("Figures of this layout"); }
QString reduction_live(double db) {
  return std::abs(db) < 0.05 ? say("0.0 dB") : say("%1 dB").arg(number(-db, 1));
}
QString reduction_waits() { return say("... dB"); }
QString live_note() { return say("against bare, over the band (live)"); }
QString settling_note() { return say("figures of record: settling..."); }
QString settled_note(double reduction_db, double level_db, const QString& unit) {
  return say("figures of record: %1 dB, level %2 %3")
      .arg(number(-reduction_db, 1), number(level_db, 1), unit);
}
QString not_settled_note() { return say("figures of record: after a rest"); }
QString mass(double kg) { return say("%1 kg").arg(number(kg, 2)); }
QString cost(double amount, const QString& currency) {
  return say("%1 %2").arg(number(amount, 2), currency);
}
QString no_price() { return say("no price given"); }
QString area(double m2, double share) {
  return say("%1 m2, %2 % of the skin").arg(number(m2, 3), number(100.0 * share, 0));
}
QString stock(const QString& sheet, double sheets, int whole) {
  return say("%1: %2 sheets by area, at least %3 whole").arg(sheet, number(sheets, 2)).arg(whole);
}
QString stock_plan(int bought, double cost, const QString& currency, bool proven) {
  QString text = say("to buy: %1").arg(bought);
  if (cost > 0.0) text += say(" for %1 %2").arg(number(cost, 2), currency);
  return proven ? text : text + say(" (no proof that fewer cannot do)");
}
QString mass_row() { return say("mass"); }
QString cost_row() { return say("sheet by area"); }
QString area_row() { return say("covered"); }
QString pieces_row() { return say("pieces"); }
QString stock_row() { return say("stock"); }

QString layouts_head() { return say("Layouts"); }
QString sheets_head() { return say("Sheet of the next piece"); }
QString modes_head() { return say("Modes"); }
QString sheet_row(
    const QString& name, double thickness_m, double kg_m2, double price, const QString& currency) {
  QString text =
      say("%1\n%2 mm, %3 kg/m2").arg(name, number(1e3 * thickness_m, 1), number(kg_m2, 1));
  if (price > 0.0) text += say(", %1 %2 a sheet").arg(number(price, 2), currency);
  return text;
}
QString face_head() { return say("Face"); }
QString face_inner() { return say("inner face of the skin"); }
QString face_outer() { return say("outer face of the skin"); }
QString mode_columns(int column) {
  return column == 0 ? say("Hz") : column == 1 ? say("loss factor") : say("rings, s");
}
QString modes_wait() { return say("The modes are being worked out."); }
QString animate() { return say("move"); }
QString amplitude(int mm) { return say("drawn up to %1 mm").arg(mm); }
QString temperature(double celsius) { return say("Temperature: %1 C").arg(number(celsius, 0)); }
QString temperature_name() { return say("Temperature of sheet and skin in degrees Celsius"); }
QString new_layout() { return say("layout"); }
QString layout_name_question() { return say("Name of the layout:"); }
QString placed_layout_note() {
  return say("The program finds this layout's pieces (calmplate run); they cannot be moved here.");
}

QString building(const QString& stage, int percent) {
  return say("Working out the bare skin: %1, %2 %").arg(stage).arg(percent);
}
QString mapping(const QString& stage, int percent) {
  return say("Benefit map: %1, %2 %").arg(stage).arg(percent);
}
QString settling(const QString& stage, int percent) {
  return say("Settling the figures of record: %1, %2 %").arg(stage).arg(percent);
}
QString ready() { return say("Ready. Drag on the skin to lay a piece; F1 lists mouse and keys."); }
QString fault(const QString& what) { return say("Could not be worked out: %1").arg(what); }
QString cannot(const QString& why) { return say("Not done: %1").arg(why); }
QString saved(const QString& file) { return say("Saved: %1").arg(file); }
QString undone(const QString& what) { return say("Undone: %1").arg(what); }
QString redone(const QString& what) { return say("Done again: %1").arg(what); }
QString cut_tool() { return say("Cut: drag a line across a piece. Escape leaves."); }
QString piece_selected(int number, int count, const QString& size) {
  return say("Piece %1 of %2: %3").arg(number).arg(count).arg(size);
}
QString piece_place(double width_mm, double height_mm, double x_mm, double y_mm, double angle_deg) {
  const QString text = say("%1 x %2 mm, centre (%3, %4) mm")
                           .arg(number(width_mm, 0), number(height_mm, 0))
                           .arg(number(x_mm, 0), number(y_mm, 0));
  return angle_deg == 0.0 ? text : text + say(", turned %1 degrees").arg(number(angle_deg, 1));
}
QString no_piece() { return say("No piece is selected: click on one, or press Tab in the view."); }
QString snapping(bool on) {
  return on ? say("Positions snap to 5 mm, angles to 5 degrees.") : say("Positions do not snap.");
}
QString working_waits() {
  return say("How hard the sheet works is known once the figures have settled.");
}
QString warnings(int count, const QString& first) {
  return count == 1 ? first
                    : say("%1 (and %2 more; see calmplate check)").arg(first).arg(count - 1);
}

QString save_question(const QString& file) {
  return say("The layouts of %1 have changed. Save them?").arg(file);
}
QString save_button() { return say("&Save"); }
QString discard_button() { return say("&Do not save"); }
QString cancel_button() { return say("Go &back"); }
QString save_as_title() { return say("Save the job as"); }
QString job_files() { return say("Job files (*.toml)"); }

}  // namespace calmplate::window::words
