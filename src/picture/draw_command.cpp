// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/draw_command.hpp"

#include <filesystem>
#include <ostream>
#include <stdexcept>

#include "base/input_error.hpp"
#include "picture/picture_list.hpp"
#include "picture/png_file.hpp"

namespace calmplate::picture {
namespace {

constexpr const char* kHelp =
    "calmplate-draw FOLDER [--only NAME]...\n"
    "\n"
    "Draws the pictures of a folder that calmplate wrote: reads results.json and panel.vtu in\n"
    "FOLDER (or sheet.json, from calmplate sheet show; or check.json, from calmplate check -o),\n"
    "writes FOLDER/pictures/*.png (A4 landscape, 200 dots per inch) and prints the name of each\n"
    "file. Needs no display.\n"
    "\n"
    "  --only NAME  draw this picture only, such as benefit_map; may be given more than once\n"
    "  --version    print the version\n"
    "  --help       print this\n"
    "\n"
    "Example: calmplate-draw door-results --only response\n"
    "\n"
    "Exit status: 0 done, 2 bad input, 1 failed for another cause.\n";

struct Wanted {
  std::filesystem::path folder;
  std::vector<std::string> only;
  bool help = false;
  bool version = false;
};

[[noreturn]] void refuse(const std::string& argument,
                         const std::string& wrong,
                         const std::string& allowed) {
  throw base::InputError({"", 0, argument}, wrong, allowed);
}

Wanted read_arguments(const std::vector<std::string>& arguments) {
  Wanted wanted;
  for (std::size_t k = 0; k < arguments.size(); ++k) {
    const std::string& word = arguments[k];
    if (word == "--help" || word == "-h") {
      wanted.help = true;
    } else if (word == "--version") {
      wanted.version = true;
    } else if (word == "--only") {
      if (++k == arguments.size()) refuse("--only", "has no name behind it", "a picture's name");
      wanted.only.push_back(arguments[k]);
    } else if (word.rfind("--only=", 0) == 0) {
      wanted.only.push_back(word.substr(7));
    } else if (word.size() > 1 && word[0] == '-') {
      refuse(word, "is not an option", "--only NAME, --version, --help");
    } else if (!wanted.folder.empty()) {
      refuse(word, "is a second folder", "one result folder");
    } else {
      wanted.folder = word;
    }
  }
  if (wanted.folder.empty() && !wanted.help && !wanted.version) {
    refuse("FOLDER", "is missing", "a result folder of calmplate; see --help");
  }
  return wanted;
}

std::vector<Picture> chosen(const std::vector<Picture>& all, const std::vector<std::string>& only) {
  if (only.empty()) return all;
  std::vector<Picture> list;
  for (const std::string& name : only) {
    bool found = false;
    std::string known;
    for (const Picture& picture : all) {
      known += (known.empty() ? "" : ", ") + picture.name;
      if (picture.name != name && picture.name + ".png" != name) continue;
      list.push_back(picture);
      found = true;
    }
    if (!found) refuse("--only", "names no picture of this folder: " + name, known);
  }
  return list;
}

void draw_list(const Wanted& wanted, const std::vector<Picture>& all, std::ostream& out) {
  const std::vector<Picture> list = chosen(all, wanted.only);
  if (list.empty()) return;
  RenderWindow window;
  const std::filesystem::path target = wanted.folder / "pictures";
  std::filesystem::create_directories(target);
  for (const Picture& picture : list) {
    const std::filesystem::path file = target / (picture.name + ".png");
    write_png(file, picture.draw(window));
    out << file.string() << std::endl;
  }
}

void draw(const Wanted& wanted, std::ostream& out) {
  std::error_code ignored;
  if (!std::filesystem::is_directory(wanted.folder, ignored)) {
    throw base::InputError(
        {wanted.folder.string(), 0, ""}, "is not a folder", "a result folder of calmplate");
  }
  // A result folder, one of a single sheet or one of a check; where none is there, results.json is
  // missed.
  const bool results_there = std::filesystem::exists(wanted.folder / "results.json", ignored);
  if (!results_there && std::filesystem::exists(wanted.folder / "check.json", ignored)) {
    const CheckFile check = read_check(wanted.folder / "check.json");
    draw_list(wanted, pictures_of(check), out);
    return;
  }
  if (!results_there && std::filesystem::exists(wanted.folder / "sheet.json", ignored)) {
    const SheetFile sheet = read_sheet_file(wanted.folder / "sheet.json");
    draw_list(wanted, pictures_of(sheet), out);
    return;
  }
  const Results results = read_results(wanted.folder / "results.json");
  const ResultFields fields = read_fields(wanted.folder / "panel.vtu");
  draw_list(wanted, pictures_of(results, fields), out);
}

/// What an exception says, on one line whatever it holds.
std::string one_line(const std::exception& error) {
  std::string words = error.what();
  for (char& c : words) {
    if (c == '\n' || c == '\r') c = ' ';
  }
  return words;
}

}  // namespace

int run_draw(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err) {
  try {
    const Wanted wanted = read_arguments(arguments);
    if (wanted.help) {
      out << kHelp;
    } else if (wanted.version) {
      out << "calmplate-draw " << CALMPLATE_VERSION << "\n";
    } else {
      draw(wanted, out);
    }
    return 0;
  } catch (const base::InputError& error) {
    err << "calmplate-draw: " << one_line(error) << std::endl;
    return 2;
  } catch (const std::exception& error) {
    err << "calmplate-draw: " << one_line(error) << std::endl;
    return 1;
  }
}

}  // namespace calmplate::picture
