// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <QString>
#include <optional>
#include <vector>

/// Every word that the window shows, in one place for whoever translates it.
namespace calmplate::window::words {

QString program();
QString title(const QString& job_title, const QString& file);

// 3-D view
QString view_name();
QString view_description();
QString drive_point();
QString seen_from_outside();
QString seen_from_inside();
QString at_mm(double x_mm, double y_mm);
QString benefit_scale();
QString working_scale();
QString mode_scale(double freq_hz);

// Chart
QString chart_name();
QString chart_bare();
QString chart_now();
QString chart_settled();
QString chart_frequency();
QString chart_level(const QString& unit);
QString chart_reading(double freq_hz, std::optional<double> bare_db, std::optional<double> now_db);

// Figures
QString figures_name();
QString reduction_live(double db);
QString reduction_waits();
QString live_note();
QString settling_note();
QString settled_note(double reduction_db, double level_db, const QString& unit);
QString not_settled_note();
QString mass(double kg);
QString cost(double amount, const QString& currency);
QString no_price();
QString area(double m2, double share);
QString stock(const QString& sheet, double sheets, int whole);
QString stock_plan(int bought, double cost, const QString& currency, bool proven);
QString mass_row();
QString cost_row();
QString area_row();
QString pieces_row();
QString stock_row();

// Lists
QString layouts_head();
QString sheets_head();
QString modes_head();
QString sheet_row(
    const QString& name, double thickness_m, double kg_m2, double price, const QString& currency);
QString face_inner();
QString face_outer();
QString face_head();
QString mode_columns(int column);
QString modes_wait();
QString animate();
QString amplitude(int mm);
QString temperature(double celsius);
QString temperature_name();
QString new_layout();
QString layout_name_question();
QString placed_layout_note();

// What is going on
QString building(const QString& stage, int percent);
QString mapping(const QString& stage, int percent);
QString settling(const QString& stage, int percent);
QString ready();
QString fault(const QString& what);
QString cannot(const QString& why);
QString saved(const QString& file);
QString undone(const QString& what);
QString redone(const QString& what);
QString cut_tool();
QString piece_selected(int number, int count, const QString& size);
QString piece_place(double width_mm, double height_mm, double x_mm, double y_mm, double angle_deg);
QString no_piece();
QString snapping(bool on);
QString working_waits();
QString warnings(int count, const QString& first);

// Questions
QString save_question(const QString& file);
QString save_button();
QString discard_button();
QString cancel_button();
QString save_as_title();
QString job_files();

// Menus and actions; the part after a tabulator is no part of the word
enum class Act {
  save,
  save_as,
  close,
  undo,
  redo,
  lay_best,
  remove,
  turn,
  turn_little,
  turn_back,
  turn_back_little,
  cut_tool,
  cut_across,
  cut_along,
  other_face,
  use_sheet,
  snap,
  inner_outer,
  layout_new,
  layout_copy,
  layout_rename,
  layout_remove,
  layout_next,
  layout_before,
  sheet_next,
  sheet_before,
  look_outside,
  look_inside,
  look_outside_aslant,
  look_inside_aslant,
  zoom_in,
  zoom_out,
  colour_plain,
  colour_benefit,
  colour_working,
  colour_mode,
  on_layout,
  keep_outs,
  mode_next,
  mode_before,
  animate,
  warmer,
  colder,
  help,
  cautions
};
struct ActWord {
  QString word;  ///< with & before its letter
  QString keys;  ///< as QKeySequence reads it; several with "; " between
};
ActWord act(Act which);
QString tool(Act which);  ///< a word short enough for the row of tools
enum class Menu { file, edit, piece, layout, view, modes, help };
QString menu(Menu which);

// Help
struct HelpRow {
  QString what, mouse, keys;
};
QString help_title();
QString cautions_title();
QString help_head(int column);
std::vector<HelpRow> help_rows();
std::vector<QString> cautions();
QString cautions_first();
QString close_button();

}  // namespace calmplate::window::words
