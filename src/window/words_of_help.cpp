// SPDX-License-Identifier: GPL-3.0-or-later
#include <QCoreApplication>

#include "window/words.hpp"

/// The help card and the cautions. docs/user-guide.md has the same table; a test compares them.
namespace calmplate::window::words {
namespace {

QString say(const char* text) { return QCoreApplication::translate("window", text); }

}  // namespace

QString help_title() { return say("Mouse and keys"); }
QString cautions_title() { return say("Cautions"); }
QString help_head(int column) {
  return column == 0 ? say("to do") : column == 1 ? say("mouse, on the skin") : say("keys");
}
QString close_button() { return say("&Close"); }

std::vector<HelpRow> help_rows() {
  return {
      {say("lay a piece"), say("drag over free skin"), say("L: where it helps most")},
      {say("select a piece"), say("click on it"), say("Tab, Shift+Tab in the view; Escape: none")},
      {say("move it"), say("drag it"), say("arrows 5 mm, with Shift 1 mm")},
      {say("resize it"),
       say("drag a corner"),
       say("Alt+arrows 5 mm, with Shift 1 mm; its lower left corner stays")},
      {say("turn it"),
       say("drag the round handle"),
       say("R 15 degrees, Shift+R 1 degree; T, Shift+T back")},
      {say("cut it in two"),
       say("C, then drag a line across it"),
       say("X across its middle, Shift+X along")},
      {say("delete it"), say("menu Piece"), say("Del or Backspace")},
      {say("to its other face"), say("menu Piece"), say("F; Shift+F: the next piece")},
      {say("give it another sheet"), say("choose in the list, menu Piece"), say("S")},
      {say("choose the sheet of the next piece"),
       say("click in the list"),
       say("Ctrl+Down, Ctrl+Up")},
      {say("snap to 5 mm and 5 degrees, or not"), say("menu Piece"), say("G")},
      {say("stop a drag and take it back"), say(""), say("Escape")},
      {say("undo, redo"), say("menu Edit"), say("Ctrl+Z, Ctrl+Y")},
      {say("another layout"), say("click in the list"), say("Ctrl+Right, Ctrl+Left")},
      {say("new, duplicate, rename, delete a layout"),
       say("buttons below the list"),
       say("Ctrl+N, Ctrl+D, F2, Ctrl+Del")},
      {say("turn the view"),
       say("drag with the right button"),
       say("arrows while no piece is selected")},
      {say("shift the view"),
       say("drag with the middle button, or Shift and the right one"),
       say("Shift+arrows while no piece is selected")},
      {say("nearer, farther"), say("wheel"), say("+, -")},
      {say("look straight on, from outside or inside"), say("menu View"), say("1, 2")},
      {say("look aslant, from outside or inside"), say("menu View"), say("3, 4")},
      {say("colours: plain, benefit, working, mode"), say("menu View"), say("5, 6, 7, 8")},
      {say("benefit on top of this layout"), say("menu View"), say("B")},
      {say("show or hide keep-outs"), say("menu View"), say("K")},
      {say("another mode, move the skin"), say("click in the list"), say("PgDown, PgUp, M")},
      {say("warmer, colder"), say("slider"), say("Ctrl+PgUp, Ctrl+PgDown")},
      {say("read the chart"), say("point at it"), say("Left, Right in the chart")},
      {say("save, save as"), say("menu File"), say("Ctrl+S, Ctrl+Shift+S")},
      {say("close"), say("menu File"), say("Ctrl+Q")},
      {say("this card, cautions"), say("menu Help"), say("F1, Shift+F1")},
  };
}

QString cautions_first() {
  return say(
      "The vehicle maker's instructions, local rules and licensed practice come first; where they "
      "differ from anything here, follow them. These cautions are common practice, and not "
      "complete.");
}

std::vector<QString> cautions() {
  return {
      say("Drain holes: never cover them or the bottom seams; keep 30 mm around them clear. "
          "Trapped water rusts the hem."),
      say("Side-impact sensors: many read the air pressure in the door. Do not cover one or its "
          "vent, and ask the maker before you close or open holes of the inner panel."),
      say("Airbags and belt tensioners: ignition off, battery disconnected, waiting time as the "
          "maker says. No sheet on or near them, no probing; leave the parts to qualified people."),
      say("Battery and high voltage: only qualified people work on a vehicle with a high-voltage "
          "system. Never touch orange cables or what they lead to."),
      say("Window travel: keep clear of glass, regulator, runners, latch, rods and cables. Run the "
          "window all the way down and up after every piece."),
      say("Beam: do not glue across the mastic pads of the side-impact beam, and fill no closed "
          "cavity."),
      say("Sharp foil: foil and hem edges cut. Wear gloves."),
      say("Solvents: they burn and harm. Ventilate, no flame or spark, try the paint first."),
      say("Heat: a dark door in the sun softens some sheets. Use only sheet rated for it."),
      say("Hearing: sweeps and taps in a closed car can be loud enough to harm. Keep level and "
          "time "
          "low and wear ear protection."),
  };
}

}  // namespace calmplate::window::words
