// SPDX-License-Identifier: GPL-3.0-or-later
#include <cstddef>
#include <string>

#include "base/units.hpp"
#include "job/read_sections.hpp"

namespace calmplate::job {
namespace {

constexpr Range kArea{0.1, 1e5};           // mm2
constexpr Range kInertia{0.001, 1e9};      // mm4
constexpr Range kOffset{-300.0, 300.0};    // mm
constexpr Range kPadPlace{0.0, 10000.0};   // mm
constexpr Range kMassOfPoint{1e-4, 50.0};  // kg

void read_pads(TableReader& reader, shell::BeamInput& beam) {
  beam.pads_m = reader.numbers("pads_mm", kPadPlace);
  for (std::size_t i = 1; i < beam.pads_m.size(); ++i)
    if (beam.pads_m[i] <= beam.pads_m[i - 1])
      reader.fail("pads_mm",
                  "has " + plain_number(base::to_mm(beam.pads_m[i])) + " mm after " +
                      plain_number(base::to_mm(beam.pads_m[i - 1])) + " mm",
                  "distances from from_mm, each larger than the one before");
  beam.pad_stiffness = reader.number("pad_stiffness_N_per_mm", kStiffness);
  beam.pad_shear_stiffness = reader.number_or("pad_shear_N_per_mm", {0.0, kStiffness.high}, 0.0);
  beam.pad_loss_factor = reader.number_or("pad_loss_factor", kLoss, 0.0);
  beam.ends_held = reader.choice_or<bool>("ends", {{"held", true}, {"free", false}}, true);
}

shell::BeamInput read_stiffener(TableReader& reader, Names& names, const Materials& materials) {
  shell::BeamInput beam;
  beam.name = names.read(reader);
  beam.from = reader.point("from_mm", kPosition);
  beam.to = reader.point("to_mm", kPosition);
  if ((beam.to - beam.from).norm() < base::from_mm(10.0))
    reader.fail("to_mm", "is less than 10 mm from from_mm", "a beam of at least 10 mm");
  beam.area_m2 = reader.number("area_mm2", kArea);
  beam.inertia_normal_m4 = reader.number("inertia_normal_mm4", kInertia);
  // A round tube bends alike both ways, and its torsion constant is the sum of both.
  const double normal_mm4 = beam.inertia_normal_m4 * 1e12;
  beam.inertia_in_plane_m4 = reader.number_or("inertia_in_plane_mm4", kInertia, normal_mm4);
  const double in_plane_mm4 = beam.inertia_in_plane_m4 * 1e12;
  beam.torsion_m4 =
      reader.number_or("torsion_mm4", {0.0, kInertia.high}, normal_mm4 + in_plane_mm4);
  beam.offset_m = reader.number_or("offset_mm", kOffset, 0.0);
  beam.material = material_named(reader, "material", "steel", materials);
  if (reader.has("pads_mm")) read_pads(reader, beam);
  reader.finish("a stiffener without pads_mm, which is bonded along its whole length");
  return beam;
}

}  // namespace

void read_stiffeners(TableReader& file, const Materials& materials, Job& job) {
  Names names;
  for (TableReader& reader : file.sections("stiffener", keys::kStiffener)) {
    job.beams.push_back(read_stiffener(reader, names, materials));
    job.beam_where.push_back(reader.where());
  }
}

void read_springs(TableReader& file, Job& job) {
  Names names;
  for (TableReader& reader : file.sections("spring", keys::kSpring)) {
    shell::SpringInput spring;
    spring.name = names.read(reader);
    spring.at = reader.point("at_mm", kPosition);
    spring.normal_stiffness = reader.number("normal_N_per_mm", kStiffness);
    spring.loss_factor = reader.number_or("loss_factor", kLoss, 0.0);
    reader.finish();
    job.springs.push_back(spring);
    job.spring_where.push_back(reader.where());
  }
}

void read_masses(TableReader& file, Job& job) {
  Names names;
  for (TableReader& reader : file.sections("mass", keys::kMass)) {
    shell::MassInput mass;
    mass.name = names.read(reader);
    mass.at = reader.point("at_mm", kPosition);
    mass.mass_kg = reader.number("mass_kg", kMassOfPoint);
    reader.finish();
    job.masses.push_back(mass);
    job.mass_where.push_back(reader.where());
  }
}

}  // namespace calmplate::job
