// SPDX-License-Identifier: GPL-3.0-or-later
#include <QCoreApplication>

#include "window/words.hpp"

/// Menus and actions with their keys. Single letters work while the view has the focus.
namespace calmplate::window::words {
namespace {

QString say(const char* text) { return QCoreApplication::translate("window", text); }

ActWord of_piece(Act which) {
  switch (which) {
    case Act::lay_best:
      return {say("&Lay one where it helps most"), "L"};
    case Act::remove:
      return {say("&Delete"), "Del; Backspace"};
    case Act::turn:
      return {say("&Turn 15 degrees"), "R"};
    case Act::turn_little:
      return {say("Turn 1 degree"), "Shift+R"};
    case Act::turn_back:
      return {say("Turn &back 15 degrees"), "T"};
    case Act::turn_back_little:
      return {say("Turn back 1 degree"), "Shift+T"};
    case Act::cut_tool:
      return {say("&Cut along a dragged line"), "C"};
    case Act::cut_across:
      return {say("Cut in the middle, &across"), "X"};
    case Act::cut_along:
      return {say("Cut in the middle, al&ong"), "Shift+X"};
    case Act::other_face:
      return {say("To the other &face"), "F"};
    case Act::use_sheet:
      return {say("Give it the &sheet of the list"), "S"};
    case Act::snap:
      return {say("S&nap to 5 mm"), "G"};
    case Act::inner_outer:
      return {say("Next piece on the out&er face"), "Shift+F"};
    case Act::sheet_next:
      return {say("Ne&xt sheet of the list"), "Ctrl+Down"};
    case Act::sheet_before:
      return {say("Sheet before"), "Ctrl+Up"};
    default:
      return {};
  }
}

ActWord of_view(Act which) {
  switch (which) {
    case Act::look_outside:
      return {say("From &outside, straight on"), "1"};
    case Act::look_inside:
      return {say("From &inside, straight on"), "2"};
    case Act::look_outside_aslant:
      return {say("From outside, &aslant"), "3"};
    case Act::look_inside_aslant:
      return {say("From inside, a&slant"), "4"};
    case Act::zoom_in:
      return {say("&Nearer"), "+; ="};
    case Act::zoom_out:
      return {say("&Farther"), "-"};
    case Act::colour_plain:
      return {say("&Plain skin"), "5"};
    case Act::colour_benefit:
      return {say("&Benefit map"), "6"};
    case Act::colour_working:
      return {say("How hard the sheet &works"), "7"};
    case Act::colour_mode:
      return {say("&Mode shape"), "8"};
    case Act::on_layout:
      return {say("Benefit on &top of this layout"), "B"};
    case Act::keep_outs:
      return {say("&Keep-outs"), "K"};
    case Act::mode_next:
      return {say("&Next mode"), "PgDown"};
    case Act::mode_before:
      return {say("Mode &before"), "PgUp"};
    case Act::animate:
      return {say("&Move the skin"), "M"};
    case Act::warmer:
      return {say("5 C &warmer"), "Ctrl+PgUp"};
    case Act::colder:
      return {say("5 C &colder"), "Ctrl+PgDown"};
    default:
      return of_piece(which);
  }
}

}  // namespace

ActWord act(Act which) {
  switch (which) {
    case Act::save:
      return {say("&Save"), "Ctrl+S"};
    case Act::save_as:
      return {say("Save &as..."), "Ctrl+Shift+S"};
    case Act::close:
      return {say("&Close"), "Ctrl+Q"};
    case Act::undo:
      return {say("&Undo"), "Ctrl+Z"};
    case Act::redo:
      return {say("&Redo"), "Ctrl+Y; Ctrl+Shift+Z"};
    case Act::layout_new:
      return {say("&New"), "Ctrl+N"};
    case Act::layout_copy:
      return {say("&Duplicate"), "Ctrl+D"};
    case Act::layout_rename:
      return {say("&Rename..."), "F2"};
    case Act::layout_remove:
      return {say("&Delete"), "Ctrl+Del"};
    case Act::layout_next:
      return {say("Ne&xt"), "Ctrl+Right"};
    case Act::layout_before:
      return {say("&Before"), "Ctrl+Left"};
    case Act::help:
      return {say("&Mouse and keys"), "F1"};
    case Act::cautions:
      return {say("&Cautions"), "Shift+F1"};
    default:
      return of_view(which);
  }
}

QString tool(Act which) {
  switch (which) {
    case Act::lay_best:
      return say("Lay best");
    case Act::cut_tool:
      return say("Cut");
    case Act::turn:
      return say("Turn");
    case Act::colour_plain:
      return say("Plain");
    case Act::colour_benefit:
      return say("Benefit");
    case Act::colour_working:
      return say("Working");
    case Act::colour_mode:
      return say("Mode");
    case Act::look_outside:
      return say("Outside");
    case Act::look_inside:
      return say("Inside");
    case Act::help:
      return say("Help");
    default:
      return act(which).word.remove('&');
  }
}

QString menu(Menu which) {
  switch (which) {
    case Menu::file:
      return say("&File");
    case Menu::edit:
      return say("&Edit");
    case Menu::piece:
      return say("&Piece");
    case Menu::layout:
      return say("&Layout");
    case Menu::view:
      return say("&View");
    case Menu::modes:
      return say("&Modes");
    default:
      return say("&Help");
  }
}

}  // namespace calmplate::window::words
