// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "job/read_sections.hpp"

/// [unknowns]: ranges of what the person does not know well.
namespace calmplate::job {
namespace {

constexpr Range kFactor{0.01, 100.0};        // no unit
constexpr Range kCrown{0.0, 5.0};            // no unit
constexpr Range kThickness{0.2, 5.0};        // mm
constexpr Range kTemperature{-60.0, 150.0};  // degrees C
constexpr Range kSamples{2.0, 500.0};        // no unit

std::optional<Spread> spread(TableReader& reader, const std::string& key, Range allowed) {
  if (!reader.has(key)) return std::nullopt;
  const std::vector<double> ends = reader.numbers(key, allowed);
  if (ends.size() != 2 || !(ends[0] < ends[1]))
    reader.fail(key,
                ends.size() != 2 ? "has " + std::to_string(ends.size()) +
                                       (ends.size() == 1 ? " number" : " numbers")
                                 : "does not rise",
                "[low, high] with low below high");
  return Spread{ends[0], ends[1]};
}

}  // namespace

void read_unknowns(TableReader& file, Job& job) {
  auto reader = file.section("unknowns", keys::kUnknowns);
  if (!reader) return;
  UnknownsInput& u = job.unknowns;
  u.edge_factor = spread(*reader, "edge_factor", kFactor);
  const bool springs = std::any_of(job.edges.begin(), job.edges.end(), [](const auto& e) {
    return e.hold == shell::Hold::springs;
  });
  if (u.edge_factor && !springs)
    reader->fail("edge_factor",
                 "has nothing to work on: no rim part is held by springs",
                 "a [[panel.edge]] with hold = \"springs\"");
  u.pad_factor = spread(*reader, "pad_factor", kFactor);
  const bool pads =
      !job.springs.empty() || std::any_of(job.beams.begin(), job.beams.end(), [](const auto& b) {
        return !b.pads_m.empty();
      });
  if (u.pad_factor && !pads)
    reader->fail("pad_factor",
                 "has nothing to work on: no pad and no spring",
                 "a [[stiffener]] with pads_mm, or a [[spring]]");
  u.crown_factor = spread(*reader, "crown_factor", kCrown);
  u.modulus_factor = spread(*reader, "modulus_factor", kFactor);
  u.thickness_m = spread(*reader, "thickness_mm", kThickness);
  u.temperature_k = spread(*reader, "temperature_C", kTemperature);
  const double samples = reader->number_or("samples", kSamples, 16.0);
  if (samples != std::floor(samples))
    reader->fail("samples", "is " + plain_number(samples), "a whole number from 2 to 500");
  u.samples = static_cast<int>(samples);
  if (!u.any())
    throw base::InputError(reader->where(),
                           "names nothing that is unknown",
                           "a range such as thickness_mm = [0.7, 0.8]");
  reader->finish();
}

}  // namespace calmplate::job
