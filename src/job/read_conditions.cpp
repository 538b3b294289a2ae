// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <string>
#include <vector>

#include "base/units.hpp"
#include "job/read_sections.hpp"

/// What shakes the skin, in which band, how warm, and what is asked of it.
namespace calmplate::job {
namespace {

constexpr Range kForce{1e-6, 1e4};           // N
constexpr Range kPressure{1e-6, 1e5};        // Pa
constexpr Range kImpulse{1e-6, 10.0};        // N s
constexpr Range kContact{0.05, 100.0};       // ms
constexpr Range kFrequency{1.0, 5000.0};     // Hz
constexpr Range kStep{0.01, 100.0};          // Hz
constexpr Range kTrialPiece{20.0, 1000.0};   // mm
constexpr Range kSpacing{10.0, 1000.0};      // mm
constexpr Range kAcceleration{0.01, 1e5};    // m/s2
constexpr Range kHeldMass{0.1, 5000.0};      // g
constexpr Range kPreload{0.001, 1000.0};     // N
constexpr Range kTemperature{-60.0, 150.0};  // degrees C

std::string celsius(double temp_k) { return plain_number(base::to_celsius(temp_k)) + " degrees C"; }

void read_temperatures(TableReader& reader, Job& job) {
  constexpr std::size_t kMost = 50;
  job.temperatures_k = reader.numbers("temperatures_C", kTemperature);
  for (std::size_t i = 1; i < job.temperatures_k.size(); ++i)
    if (job.temperatures_k[i] <= job.temperatures_k[i - 1])
      reader.fail(
          "temperatures_C",
          "has " + celsius(job.temperatures_k[i]) + " after " + celsius(job.temperatures_k[i - 1]),
          "temperatures that rise from one to the next");
  if (job.temperatures_k.size() > kMost)
    reader.fail("temperatures_C",
                "has " + std::to_string(job.temperatures_k.size()) + " temperatures",
                "up to " + std::to_string(kMost));
}

bool can_damp(const sheet::Sheet& sheet) { return sheet.kind != sheet::Kind::mass; }

/// From limit_m_s2, or from preload_N and holds_g; 0 if there is none.
double rattle_limit(TableReader& reader) {
  const double limit = reader.number_or("limit_m_s2", kAcceleration, 0.0);
  const double mass_kg = reader.number_or("holds_g", kHeldMass, 0.0);
  const double preload_n = reader.number_or("preload_N", kPreload, 0.0);
  const bool part = reader.has("holds_g") || reader.has("preload_N");
  if (part && reader.has("limit_m_s2"))
    reader.fail("limit_m_s2", "stands beside holds_g or preload_N", "one way to give the limit");
  if (reader.has("holds_g") != reader.has("preload_N"))
    reader.fail_missing(reader.has("holds_g") ? "preload_N" : "holds_g",
                        "both holds_g and preload_N, or neither");
  return part ? preload_n / mass_kg : limit;
}

/// A woofer reaches the skin through the air behind it or through its frame.
void check_path(const Job& job) {
  if (job.cavity.wanted || job.woofer->mounting == drive::Mounting::skin) return;
  base::Where where = job.cavity_where;
  where.key += ".wanted";
  throw base::InputError(where,
                         "is false, so that a woofer on the inner panel does not reach the skin",
                         "true, or [woofer] mounting = \"skin\", or another kind of [drive]");
}

}  // namespace

void read_drive(TableReader& file, Job& job) {
  drive::DriveInput& drive = job.drive;
  if (job.woofer && !file.has("drive")) {
    drive.kind = drive::Kind::woofer;
    job.drive_where = job.woofer_where;
    check_path(job);
    return;
  }
  TableReader reader = file.required_section("drive", keys::kDrive);
  drive.kind = reader.choice<drive::Kind>("kind",
                                          {{"force", drive::Kind::force},
                                           {"pressure", drive::Kind::pressure},
                                           {"tap", drive::Kind::tap},
                                           {"woofer", drive::Kind::woofer}});
  if (drive.kind == drive::Kind::woofer) {
    if (!job.woofer)
      reader.fail(
          "kind", "is \"woofer\", but there is no [woofer]", "[woofer] too, or another kind");
    check_path(job);
  } else if (drive.kind == drive::Kind::pressure) {
    drive.pressure_pa = reader.number_or("pressure_Pa", kPressure, 1.0);
  } else {
    drive.at = reader.point("at_mm", kPosition);
    if (drive.kind == drive::Kind::force) {
      drive.force_n = reader.number_or("force_N", kForce, 1.0);
    } else {
      drive.impulse_ns = reader.number_or("impulse_Ns", kImpulse, 0.02);
      drive.contact_s = reader.number_or("contact_ms", kContact, 4.0);
    }
  }
  reader.finish("kind = \"" + reader.text("kind") + "\"");
  job.drive_where = reader.where();
}

void read_band(TableReader& file, Job& job) {
  auto reader = file.section("band", keys::kBand);
  if (!reader) return;
  drive::BandInput& band = job.band;
  job.band_given = reader->has("low_Hz") || reader->has("high_Hz");
  band.low_hz = reader->number_or("low_Hz", kFrequency, band.low_hz);
  band.high_hz = reader->number_or("high_Hz", kFrequency, band.high_hz);
  band.step_hz = reader->number_or("step_Hz", kStep, band.step_hz);
  if (band.low_hz >= band.high_hz)
    reader->fail(reader->has("high_Hz") ? "high_Hz" : "low_Hz",
                 "the band from " + plain_number(band.low_hz) + " to " +
                     plain_number(band.high_hz) + " Hz is empty",
                 "low_Hz below high_Hz");
  if (band.step_hz > band.high_hz - band.low_hz)
    reader->fail("step_Hz",
                 "is " + plain_number(band.step_hz) + " Hz, wider than the band",
                 "up to " + plain_number(band.high_hz - band.low_hz) + " Hz here");
  reader->finish();
}

void read_listen_points(TableReader& file, Job& job) {
  Names names;
  for (TableReader& reader : file.sections("listen_at", keys::kListenAt)) {
    ListenPoint point;
    point.name = names.read(reader);
    point.at = reader.point("at_mm", kPosition);
    point.limit_m_s2 = rattle_limit(reader);
    reader.finish();
    point.where = reader.where();
    job.listen_at.push_back(point);
  }
}

void read_benefit_map(TableReader& file, Job& job) {
  BenefitMapInput& map = job.benefit_map;
  const bool sheet_can_damp = std::any_of(job.sheets.begin(), job.sheets.end(), can_damp);
  map.wanted = sheet_can_damp;
  auto reader = file.section("benefit_map", keys::kBenefitMap);
  if (!reader) return;

  map.wanted = reader->flag_or("wanted", sheet_can_damp);
  std::vector<std::string> sheets, layouts{"bare"};
  for (const sheet::Sheet& sheet : job.sheets) sheets.push_back(sheet.name);
  for (const Layout& layout : job.layouts) layouts.push_back(layout.name);
  if (reader->has("sheet")) {
    const sheet::Sheet& sheet = job.sheets[reader->word("sheet", sheets, "sheet")];
    if (!can_damp(sheet))
      reader->fail("sheet",
                   "is " + in_quotes(sheet.name) + ", which adds mass only",
                   "a sheet of kind \"constrained\" or \"free-layer\"");
    map.sheet = sheet.name;
  }
  if (map.wanted && !sheet_can_damp)
    reader->fail("wanted",
                 "is true, but the job has no sheet that damps",
                 "a [[sheet]] of kind \"constrained\" or \"free-layer\"");
  map.piece_m = reader->number_or("piece_mm", kTrialPiece, 150.0);
  map.spacing_m = reader->number_or("spacing_mm", kSpacing, 50.0);
  if (reader->has("layout")) {
    const std::size_t chosen = reader->word("layout", layouts, "layout");
    if (chosen > 0) map.layout = layouts[chosen];
  }
  reader->finish();
}

void read_sheet_comparison(TableReader& file, Job& job) {
  auto reader = file.section("sheet_comparison", keys::kSheetComparison);
  if (!reader) return;
  std::vector<std::string> sheets, layouts;
  for (const sheet::Sheet& sheet : job.sheets) sheets.push_back(sheet.name);
  for (const Layout& layout : job.layouts) layouts.push_back(layout.name);
  job.sheet_comparison.layout = layouts[reader->word("layout", layouts, "layout")];
  if (reader->has("sheets")) {
    for (const std::size_t i : reader->words("sheets", sheets, "sheet", 2, false))
      job.sheet_comparison.sheets.push_back(sheets[i]);
  } else {
    job.sheet_comparison.sheets = sheets;
    if (sheets.size() < 2)
      reader->fail_missing("sheets", "at least two [[sheet]] sections to compare");
  }
  reader->finish();
}

void read_conditions(TableReader& file, Job& job) {
  auto reader = file.section("conditions", keys::kConditions);
  if (!reader) return;
  job.temperature_k = reader->number_or("temperature_C", kTemperature, 20.0);
  if (reader->has("temperatures_C")) read_temperatures(*reader, job);
  reader->finish();
}

}  // namespace calmplate::job
