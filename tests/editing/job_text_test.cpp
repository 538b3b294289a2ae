// SPDX-License-Identifier: GPL-3.0-or-later
#include "editing/job_text.hpp"

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>

#include "editing/edit_job.hpp"

using namespace calmplate;
using namespace calmplate::testing;
using editing::Document;
using editing::JobText;

namespace {

std::string file_bytes(const std::filesystem::path& file) {
  std::ifstream stream(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

/// Layouts and pieces but for their ids.
std::string contents(const std::vector<editing::Layout>& layouts) {
  std::string out;
  for (const editing::Layout& layout : layouts) {
    out += "layout " + layout.name + (layout.to_place ? " to place" : "") + "\n";
    for (const auto& piece : layout.pieces) {
      for (const auto& [key, value] : job::keys_of(piece->written)) out += " " + key + value;
      out += "\n";
    }
  }
  return out;
}

/// Lines from the first that holds `from` on.
std::string tail_from(const std::string& text, const std::string& from) {
  return text.substr(text.find(from));
}

/// A layout without pieces cannot be written: it goes, or gets one.
void fill_or_remove(Document& d) {
  for (std::size_t l = d.layouts().size(); l-- > 0;)
    if (d.layout(l).pieces.empty() && !d.layout(l).to_place)
      REQUIRE((d.remove_layout(l).done() || d.lay(l, {0.1, 0.1}, {0.2, 0.2}, {"butyl"}).done()));
}

struct TemporaryFile {
  std::filesystem::path path;
  explicit TemporaryFile(const std::string& name, const std::string& text)
      : path(std::filesystem::temp_directory_path() / ("calmplate_editing_" + name)) {
    std::ofstream(path, std::ios::binary) << text;
  }
  ~TemporaryFile() { std::filesystem::remove(path); }
};

}  // namespace

// Source: [derived] nothing changed, nothing to write; undone changes are none.
TEST_CASE("A text without edits keeps every byte, so do edits that were undone",
          "[editing][derived]") {
  EditJob p;
  const JobText text(p.text, "door.toml");
  CHECK(text.with(p.document) == p.text);
  std::mt19937 random(11);
  for (int i = 0; i < 60; ++i) random_command(p.document, random);
  while (p.document.can_undo()) p.document.undo();
  CHECK(text.with(p.document) == p.text);
}

// Source: [derived] the edit made by hand.
TEST_CASE("A moved piece changes its own numbers and nothing else", "[editing][derived]") {
  EditJob p;
  Document& d = p.document;
  REQUIRE(d.move(0, d.layout(0).pieces[0]->id, {0.0051, 0.0}).done());
  const JobText text(p.text, "door.toml");
  CHECK(text.with(d) ==
        replaced(p.text, "[ 2.00e2, 150.5 ]   # by tape", "[ 205.1, 150.5 ]   # by tape"));
  REQUIRE(d.move(0, d.layout(0).pieces[0]->id, {-0.0051, 0.001}).done());
  CHECK(text.with(d) == replaced(p.text, "[ 2.00e2, 150.5 ]", "[ 2.00e2, 151.5 ]"));
  d.undo();
  REQUIRE(d.move(1, d.layout(1).pieces[0]->id, {0.0, 0.001}).done());
  CHECK(text.with(d) ==
        replaced(replaced(p.text, "2.00e2", "205.1"),
                 "[[100, 100], [260, 110], [240, 250],\n                [90, 240]]",
                 "[[100, 101], [260, 111], [240, 251],\n                [90, 241]]"));
}

// Source: [derived] the edits made by hand.
TEST_CASE("Keys come and go on their own lines, in the style of the piece", "[editing][derived]") {
  EditJob p;
  Document& d = p.document;
  const JobText text(p.text, "door.toml");
  std::string expected = p.text;
  REQUIRE(d.turn(0, d.layout(0).pieces[0]->id, -7.5).done());
  expected =
      replaced(expected, "size_mm = [180, 120]\n", "size_mm = [180, 120]\nangle_deg = -7.5\n");
  REQUIRE(d.turn(0, d.layout(0).pieces[1]->id, -10).done());
  expected = replaced(expected, "angle_deg = 10\n", "angle_deg = 0\n");
  REQUIRE(d.change_sheets(0, d.layout(0).pieces[1]->id, {"butyl"}).done());
  expected = replaced(expected, "sheets = [\"bitumen\", \"butyl\"]", "sheets = [\"butyl\"]");
  REQUIRE(d.change_face(1, d.layout(1).pieces[0]->id, job::Face::inner).done());
  expected = replaced(expected, "face      = \"outer\"", "face      = \"inner\"");
  REQUIRE(d.change_sheets(1, d.layout(1).pieces[1]->id, {"bitumen", "butyl"}).done());
  REQUIRE(d.change_face(1, d.layout(1).pieces[1]->id, job::Face::outer).done());
  expected = replaced(expected,
                      "  sheet     = \"heavy\"\n",
                      "  sheets    = [\"bitumen\", \"butyl\"]\n  face      = \"outer\"\n");
  CHECK(text.with(d) == expected);
}

// Source: [derived] the edits made by hand.
TEST_CASE("A new piece stands behind its layout's last, a deleted one takes its comments along",
          "[editing][derived]") {
  EditJob p;
  Document& d = p.document;
  const JobText text(p.text, "door.toml");
  REQUIRE(d.lay(1, {0.3, 0.26}, {0.4, 0.36}, {"butyl"}).done());
  std::string expected = replaced(p.text,
                                  "  size_mm   = [100, 100]\n",
                                  "  size_mm   = [100, 100]\n\n  [[layout.piece]]\n"
                                  "  sheet     = \"butyl\"\n  centre_mm = [350, 310]\n"
                                  "  size_mm   = [100, 100]\n");
  CHECK(text.with(d) == expected);
  REQUIRE(d.remove(0, d.layout(0).pieces[0]->id).done());
  expected = replaced(expected,
                      "\n# near the middle\n[[layout.piece]]\nsheet = \"butyl\"\n"
                      "centre_mm = [ 2.00e2, 150.5 ]   # by tape\nsize_mm = [180, 120]\n"
                      "# the tape slipped here once\n",
                      "");
  CHECK(text.with(d) == expected);
  // The other one's comment stands between blank lines, so it stays.
  REQUIRE(d.lay(0, {0.1, 0.1}, {0.2, 0.2}, {"heavy"}).done());
  REQUIRE(d.remove(0, d.layout(0).pieces[0]->id).done());
  CHECK(text.with(d).find("# A plain rest of a line.") != std::string::npos);
}

// Source: [derived] the edits made by hand.
TEST_CASE("Layouts are renamed, copied, added and removed in the text", "[editing][derived]") {
  EditJob p;
  Document& d = p.document;
  const JobText text(p.text, "door.toml");
  REQUIRE(d.rename_layout(0, "zwei \"Stück\"").done());
  CHECK(text.with(d) == replaced(p.text, "\"two pieces\"", "\"zwei \\\"Stück\\\"\""));
  d.undo();
  REQUIRE(d.remove_layout(2).done());
  CHECK(text.with(d) == replaced(p.text,
                                 "\n[[layout]]\nname = \"full\"\n[[layout.piece]]\nsheet = "
                                 "\"bitumen\"\neverywhere = true\nmargin_mm = 20\n",
                                 ""));
  d.undo();
  REQUIRE(d.duplicate_layout(2, "more").done());
  const std::string more = text.with(d);
  CHECK(tail_from(more, "# What shakes it.") == tail_from(p.text, "# What shakes it."));
  CHECK(more.find("area_m2 = 0.05\n\n[[layout]]\nname = \"more\"\n") != std::string::npos);
}

// Source: [derived] what is written is what the document holds, whatever was done to it; what is
// not a layout keeps every byte.
TEST_CASE("The text of any session, read again, is the document", "[editing][derived]") {
  const std::string plain = edit_text();
  std::string crlf;
  for (const char c : plain) crlf += c == '\n' ? std::string("\r\n") : std::string(1, c);
  for (const std::string& written : {plain, crlf}) {
    EditJob p(written);
    Document& d = p.document;
    JobText text(p.text, "door.toml");
    std::mt19937 random(23);
    int done = 0, written_ones = 0;
    for (int i = 0; i < 300; ++i) {
      if (random() % 12 == 0)
        random() % 3 == 0 ? d.redo() : d.undo();
      else
        done += random_command(d, random).done() ? 1 : 0;
      if (i % 10 != 9) continue;
      fill_or_remove(d);
      const std::string now = text.with(d);
      ++written_ones;
      const Document again(p.job, p.panel, now);
      REQUIRE(contents(again.layouts()) == contents(d.layouts()));
      CHECK(now.substr(0, now.find("# --- what")) == written.substr(0, written.find("# --- what")));
      CHECK(tail_from(now, "# What shakes it.") == tail_from(written, "# What shakes it."));
      CHECK((now.find("\r\n") == std::string::npos) == (&written != &crlf && written == plain));
      // What calmplate run reads: the same regions, to the bit.
      const job::Job read = job::read_job_text(now, "door.toml");
      for (std::size_t l = 0; l < read.layouts.size(); ++l)
        for (std::size_t k = 0; k < read.layouts[l].pieces.size(); ++k)
          CHECK(read.layouts[l].pieces[k].region.outline ==
                d.layout(l).pieces[k]->piece.region.outline);
    }
    CHECK(done > 60);
    CHECK(written_ones > 5);
  }
}

// Source: [derived] a file on disk, saved twice, with edits undone past the first saving.
TEST_CASE("Saving goes on from what was saved, also where it was undone", "[editing][derived]") {
  const TemporaryFile file("saved.toml", edit_text());
  EditJob p(edit_text(), file.path);
  Document& d = p.document;
  JobText text = JobText::open(file.path);
  std::mt19937 random(7);
  for (int round = 0; round < 8; ++round) {
    for (int i = 0; i < 15; ++i) random_command(d, random);
    for (unsigned long i = random() % 10; i > 0; --i) d.undo();
    fill_or_remove(d);
    text.save(d);
    CHECK_FALSE(d.changed());
    CHECK(file_bytes(file.path) == text.text());
    REQUIRE(contents(Document(p.job, p.panel, text.text()).layouts()) == contents(d.layouts()));
  }
  while (d.can_undo()) d.undo();
  CHECK(d.changed());
  text.save(d);
  CHECK(contents(Document(p.job, p.panel, text.text()).layouts()) ==
        contents(EditJob().document.layouts()));
}

// Source: [derived] a file that is not the one that was read is somebody else's work.
TEST_CASE("A file that changed on disk is not overwritten", "[editing][derived]") {
  const TemporaryFile file("raced.toml", edit_text());
  EditJob p(edit_text(), file.path);
  JobText text = JobText::open(file.path);
  REQUIRE(p.document.remove(0, p.document.layout(0).pieces[0]->id).done());
  std::ofstream(file.path, std::ios::app) << "# hello\n";
  CHECK_THROWS_WITH(text.save(p.document), Catch::Contains("was changed by another program"));
  CHECK(file_bytes(file.path) == edit_text() + "# hello\n");
  CHECK(p.document.changed());
  const std::filesystem::path other = file.path.parent_path() / "calmplate_editing_other.toml";
  text.save_as(p.document, other);
  CHECK(file_bytes(other) == text.text());
  CHECK(text.file() == other);
  std::filesystem::remove(other);
  CHECK_THROWS_WITH(text.save_as(p.document, "/calmplate_elsewhere.toml"),
                    Catch::Contains("another folder"));
}

// Source: [derived] an inline list has no lines of its own.
TEST_CASE("Layouts written as lists move in place and refuse to gain or lose pieces",
          "[editing][derived]") {
  const std::string listed = replaced(
      edit_text(),
      "[[layout]]\nname = \"full\"\n[[layout.piece]]\nsheet = \"bitumen\"\neverywhere = true\n"
      "margin_mm = 20\n",
      "[[layout]]\nname = \"full\"\npiece = [{sheet = 'bitumen', centre_mm = [200, 200], size_mm = "
      "[90, 80]}, # one\n {sheet = 'butyl', centre_mm = [400, 200], size_mm = [90, 80]}]\n");
  EditJob p(listed);
  Document& d = p.document;
  const JobText text(listed, "door.toml");
  REQUIRE(d.move(2, d.layout(2).pieces[1]->id, {0.0105, 0.0}).done());
  CHECK(text.with(d) ==
        replaced(listed, "[400, 200], size_mm = [90", "[410.5, 200], size_mm = [90"));
  REQUIRE(d.lay(2, {0.1, 0.3}, {0.2, 0.35}, {"butyl"}).done());
  CHECK_THROWS_WITH(text.with(d),
                    Catch::Contains("layout \"full\"") && Catch::Contains("[[layout.piece]]"));
  d.undo();
  REQUIRE(d.turn(2, d.layout(2).pieces[1]->id, 5).done());
  CHECK_THROWS_AS(text.with(d), base::InputError);
}

// Source: [derived] docs/job-file.md: a layout has at least one piece.
TEST_CASE("A layout without a piece is not written", "[editing][derived]") {
  EditJob p;
  REQUIRE(p.document.add_layout("empty yet").done());
  CHECK_THROWS_WITH(JobText(p.text, "door.toml").with(p.document),
                    Catch::Contains("door.toml: layout \"empty yet\": has no piece"));
}

// Source: [derived] the end of a file without a line end.
TEST_CASE("A layout at the very end of a file grows there", "[editing][derived]") {
  std::string text = edit_text();
  const std::size_t from = text.find("# --- what"), to = text.find("# What shakes it.");
  const std::string layouts =
      "\n[[layout]]\nname = \"mixed\"\n[[layout.piece]]\nsheet = \"butyl\"\n"
      "centre_mm = [200, 200]\nsize_mm = [90, 80]";
  text = text.substr(0, from) + text.substr(to) + layouts;
  EditJob p(text);
  const JobText held(text, "door.toml");
  REQUIRE(p.document.lay(0, {0.3, 0.2}, {0.4, 0.25}, {"butyl"}).done());
  CHECK(held.with(p.document) ==
        text +
            "\n[[layout.piece]]\nsheet = \"butyl\"\ncentre_mm = [350, 225]\nsize_mm = [100, 50]");
  REQUIRE(p.document.turn(0, p.document.layout(0).pieces[0]->id, 3).done());
  CHECK(held.with(p.document).find("[90, 80]\nangle_deg = 3\n[[layout.piece]]") !=
        std::string::npos);
}
