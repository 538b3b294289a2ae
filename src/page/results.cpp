// SPDX-License-Identifier: GPL-3.0-or-later
#include "page/results.hpp"

#include <cmath>

#include "page/json_node.hpp"

namespace calmplate::page {
namespace {

std::vector<Piece> read_pieces(const JsonNode& layout) {
  std::vector<Piece> out;
  for (const JsonNode& p : layout.at("pieces").list()) {
    Piece piece;
    piece.number = static_cast<int>(p.at("number").number());
    piece.sheet = p.at("sheet").text();
    piece.face = p.at("face").text();
    piece.area_m2 = p.at("area_m2").number();
    piece.mass_kg = p.at("mass_kg").number();
    piece.width_mm = piece.height_mm = NAN;
    if (const auto size = p.find("size_mm")) {
      const std::vector<double> sides = size->levels();
      if (sides.size() != 2) size->fail("has " + std::to_string(sides.size()) + " numbers", "two");
      piece.width_mm = sides[0];
      piece.height_mm = sides[1];
    }
    out.push_back(piece);
  }
  return out;
}

/// The parts of a layout that are lists of figures.
void read_lists(const JsonNode& from, Layout& layout) {
  for (const JsonNode& b : from.at("third_octaves").list())
    layout.third_octaves.push_back(
        {b.at("nominal_hz").number(), b.at("level_db").level(), b.at("reduction_db").level()});
  for (const JsonNode& m : from.at("modes").list())
    layout.modes.push_back(
        {m.at("freq_hz").number(), m.at("loss_factor").number(), m.at("ring_time_s").level()});
  if (const auto points = from.find("listen_at"))
    for (const JsonNode& p : points->list())
      layout.listen_at.push_back({p.at("name").text(), p.at("reduction_db").level()});
  if (const auto sweep = from.find("temperature"))
    for (const JsonNode& t : sweep->list())
      layout.temperature.push_back({t.at("temperature_C").number(), t.at("reduction_dB").level()});
  if (const auto sound = from.find("sound"))
    for (const JsonNode& s : sound->list())
      layout.sound.push_back({s.at("nominal_hz").number(),
                              s.at("skin_level_dB").level(),
                              s.at("woofer_level_dB").level(),
                              s.at("skin_under_woofer_dB").level()});
  if (const auto rattles = from.find("rattles"))
    for (const JsonNode& r : rattles->list())
      layout.rattles.push_back({r.at("name").text(),
                                r.at("limit_m_s2").number(),
                                r.at("sweep_peak_m_s2").level(),
                                r.at("sweep_hz").level(),
                                r.at("sweep_margin_dB").level(),
                                r.at("pink_noise_margin_dB").level()});
  if (const auto tap = from.find("tap"))
    for (const JsonNode& t : tap->list()) {
      const Tone tone{t.at("freq_Hz").number(),
                      t.at("decay_per_s").number(),
                      t.at("amplitude_Pa").number(),
                      t.at("phase_rad").number()};
      if (!(tone.freq_hz >= 0.0) || !(tone.decay_per_s > 0.0))
        t.fail("does not die away", "a frequency from 0 up and a decay above 0");
      layout.tap.push_back(tone);
    }
}

Layout read_layout(const JsonNode& from, const JsonNode& curves, std::size_t frequencies) {
  Layout layout;
  layout.name = from.at("name").text();
  layout.pieces = read_pieces(from);
  layout.area_m2 = from.at("area_m2").number();
  layout.share = from.at("share").number();
  layout.mass_kg = from.at("mass_kg").number();
  layout.cost = from.at("cost").number();
  layout.stock_sheets = from.level_or_nan("stock_sheets");
  layout.band_level_db = from.at("band_level_db").level();
  layout.band_reduction_db = from.at("band_reduction_db").level();
  read_lists(from, layout);
  const JsonNode curve = curves.at("level_db").at(layout.name);
  layout.level_db = curve.levels();
  if (layout.level_db.size() != frequencies)
    curve.fail("has " + std::to_string(layout.level_db.size()) + " levels",
               std::to_string(frequencies) + ", one a frequency");
  return layout;
}

void read_panel(const JsonNode& panel, Results& out) {
  out.panel_area_m2 = panel.at("area_m2").number();
  out.panel_thickness_mm = panel.at("thickness_mm").number();
  out.panel_loss_factor = panel.at("loss_factor").number();
  out.panel_mass_kg = panel.at("mass_kg").number();
  out.panel_material = panel.at("material").text();
  out.element_size_mm = panel.at("element_size_mm").number();
  for (const JsonNode& r : panel.at("rim").list())
    out.rim.push_back({r.at("name").text(), r.at("hold").text(), r.at("length_mm").number()});
  for (const JsonNode& k : panel.at("keep_outs").list())
    out.keep_outs.push_back(k.at("name").text());
}

void read_sheets(const JsonNode& root, Results& out) {
  const auto sheets = root.find("sheets");
  if (!sheets) return;
  for (const JsonNode& s : sheets->list()) {
    SheetOnShelf sheet{s.at("name").text(),
                       s.at("kind").text(),
                       s.at("mass_kg_m2").number(),
                       NAN,
                       NAN,
                       s.level_or_nan("price_per_sheet")};
    if (const auto stock = s.find("stock_mm")) {
      const std::vector<double> sides = stock->levels();
      if (sides.size() != 2) stock->fail("has " + std::to_string(sides.size()) + " numbers", "two");
      sheet.stock_width_mm = sides[0];
      sheet.stock_length_mm = sides[1];
    }
    out.sheets.push_back(sheet);
  }
}

Range read_range(const JsonNode& range) {
  return {range.at("low").level(), range.at("high").level()};
}

/// What not every result has.
void read_extras(const JsonNode& root, Results& out) {
  if (const auto tap = root.find("tap"))
    out.tap = Tap{tap->at("impulse_N_s").number(),
                  tap->at("distance_m").number(),
                  tap->at("up_to_Hz").number()};
  if (const auto woofer = root.find("woofer")) {
    out.woofer_sentence = woofer->at("sentence").text();
    out.woofer_travel_mm = woofer->at("travel_mm").level();
    out.woofer_travel_hz = woofer->at("travel_hz").level();
    out.woofer_xmax_mm = woofer->level_or_nan("xmax_mm");
  }
  if (const auto c = root.find("sheet_comparison")) {
    SheetComparison comparison{
        c->at("layout").text(), c->at("sentence").text(), c->at("temperatures_C").levels(), {}};
    for (const JsonNode& s : c->at("sheets").list())
      comparison.sheets.push_back({s.at("name").text(),
                                   s.at("mass_kg").number(),
                                   s.at("cost").number(),
                                   s.at("reduction_dB").levels()});
    out.comparison = comparison;
  }
  if (const auto c = root.find("coverage_curve")) {
    Coverage coverage{
        c->at("layout").text(), c->at("sentence").text(), int(c->at("knee").number()), {}};
    for (const JsonNode& p : c->at("points").list())
      coverage.points.push_back({int(p.at("pieces").number()),
                                 p.at("share").number(),
                                 p.at("mass_kg").number(),
                                 p.at("cost").number(),
                                 p.at("reduction_dB").level()});
    out.coverage = coverage;
  }
  if (const auto u = root.find("unknowns")) {
    Unknowns unknowns{
        u->at("ranges").texts(), int(u->at("samples").number()), u->at("sentence").text(), {}};
    for (const JsonNode& l : u->at("layouts").list())
      unknowns.layouts.push_back({l.at("name").text(),
                                  read_range(l.at("reduction_dB")),
                                  read_range(l.at("first_hz")),
                                  read_range(l.at("first_loss_factor"))});
    out.unknowns = unknowns;
  }
  if (const auto c = root.find("convergence"))
    out.convergence = Convergence{c->at("worst_hz_error").level(), c->at("worst_dB_error").level()};
}

HandOver read_hand_over(const JsonNode& root) {
  const auto report = root.find("report");
  if (!report) return {};
  return {report->text_or_empty("fitter"),
          report->text_or_empty("contact"),
          report->text_or_empty("logo"),
          report->text_or_empty("car"),
          report->text_or_empty("customer"),
          report->text_or_empty("question"),
          report->text_or_empty("proposal")};
}

Results read_root(const JsonNode& root) {
  const JsonNode schema = root.at("schema"), version = root.at("schema_version");
  if (schema.text() != "calmplate-results")
    schema.fail("is \"" + schema.text() + "\"", "\"calmplate-results\"");
  if (version.number() != 1.0) version.fail("is another version", "1");
  Results out;
  out.program_version = root.text_or_empty("program_version");
  const JsonNode job = root.at("job"), curves = root.at("curves"), drive = root.at("drive");
  out.title = job.at("title").text();
  out.note = job.text_or_empty("note");
  out.job_file = job.text_or_empty("file");
  out.currency = job.text_or_empty("currency");
  out.temperature_c = job.level_or_nan("temperature_C");
  out.hand_over = read_hand_over(root);
  out.answer = root.at("answer").text();
  out.notes = root.at("notes").texts();
  if (const auto cautions = root.find("cautions")) out.cautions = cautions->texts();
  read_panel(root.at("panel"), out);
  read_sheets(root, out);
  out.band_low_hz = root.at("band").at("low_hz").number();
  out.band_high_hz = root.at("band").at("high_hz").number();
  out.drive_kind = drive.at("kind").text();
  out.drive_text = drive.at("text").text();
  out.level_unit = curves.at("unit").text();
  out.freq_hz = curves.at("freq_hz").levels();
  for (std::size_t i = 0; i < out.freq_hz.size(); ++i)
    if (!(out.freq_hz[i] > (i == 0 ? 0.0 : out.freq_hz[i - 1])))
      curves.at("freq_hz").fail("does not rise", "frequencies above 0, ascending");
  for (const JsonNode& l : root.at("layouts").list())
    out.layouts.push_back(read_layout(l, curves, out.freq_hz.size()));
  if (out.layouts.empty()) root.at("layouts").fail("is empty", "the bare panel at least");
  read_extras(root, out);
  return out;
}

}  // namespace

const Layout* Results::proposal() const {
  const Layout* best = nullptr;
  for (const Layout& l : layouts) {
    if (l.pieces.empty()) continue;
    if (l.name == hand_over.proposal) return &l;
    if (best == nullptr || l.band_reduction_db > best->band_reduction_db) best = &l;
  }
  return best;
}

Results read_results(const std::filesystem::path& file) {
  const nlohmann::json root = parsed_file(file, "results.json in a folder of calmplate run");
  return read_root(JsonNode(root, file.string(), ""));
}

}  // namespace calmplate::page
