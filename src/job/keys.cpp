// SPDX-License-Identifier: GPL-3.0-or-later
#include "job/keys.hpp"

namespace calmplate::job {
namespace keys {

const Section kFile{
    "the job file",
    {"job",      "panel",      "material", "stiffener", "spring",      "mass",
     "sheet",    "keep_out",   "layout",   "drive",     "woofer",      "amplifier",
     "filter",   "cavity",     "band",     "listen_at", "benefit_map", "sheet_comparison",
     "unknowns", "conditions", "cutting",  "offcut",    "report"}};

const Section kJob{"[job]", {"title", "note", "currency"}};

const Section kPanel{"[panel]",
                     {"mesh",
                      "mesh_unit",
                      "scan_noise_mm",
                      "smallest_hole_mm",
                      "outline_mm",
                      "corner_radius_mm",
                      "bow_mm",
                      "crown_radius_along_m",
                      "crown_radius_up_m",
                      "crown_centre_mm",
                      "crown",
                      "hole",
                      "swage",
                      "recess",
                      "element_mm",
                      "thickness_mm",
                      "material",
                      "loss_factor",
                      "along",
                      "outward",
                      "corner_deg",
                      "air",
                      "free",
                      "edge"}};

const Section kEdge{"[[panel.edge]]",
                    {"part",
                     "hold",
                     "from_mm",
                     "to_mm",
                     "normal_N_per_mm2",
                     "in_plane_N_per_mm2",
                     "rotation_N_per_rad",
                     "loss_factor"}};

const Section kCrown{"[[panel.crown]]", {"at_mm", "height_mm", "from_mm", "to_mm"}};

const Section kHole{"[[panel.hole]]",
                    {"centre_mm",
                     "diameter_mm",
                     "length_mm",
                     "width_mm",
                     "angle_deg",
                     "outline_mm",
                     "corner_radius_mm",
                     "bow_mm"}};

const Section kSwage{"[[panel.swage]]", {"from_mm", "to_mm", "line_mm", "width_mm", "height_mm"}};

const Section kRecess{
    "[[panel.recess]]",
    {"centre_mm", "size_mm", "angle_deg", "depth_mm", "corner_radius_mm", "wall_mm"}};

const Section kMaterial{"[material.NAME]", {"young_GPa", "poisson", "density_kg_m3"}};

const Section kStiffener{"[[stiffener]]",
                         {"name",
                          "from_mm",
                          "to_mm",
                          "area_mm2",
                          "inertia_normal_mm4",
                          "inertia_in_plane_mm4",
                          "torsion_mm4",
                          "offset_mm",
                          "material",
                          "ends",
                          "pads_mm",
                          "pad_stiffness_N_per_mm",
                          "pad_shear_N_per_mm",
                          "pad_loss_factor"}};

const Section kSpring{"[[spring]]", {"name", "at_mm", "normal_N_per_mm", "loss_factor"}};

const Section kMass{"[[mass]]", {"name", "at_mm", "mass_kg"}};

const Section kSheet{"[[sheet]]",
                     {"name",
                      "shelf",
                      "kind",
                      "core_thickness_mm",
                      "core_density_kg_m3",
                      "core_shear_MPa",
                      "core_loss_factor",
                      "foil_thickness_mm",
                      "foil_material",
                      "thickness_mm",
                      "density_kg_m3",
                      "young_MPa",
                      "loss_factor",
                      "poisson",
                      "mass_kg_m2",
                      "modulus",
                      "price_per_sheet",
                      "stock_width_mm",
                      "stock_length_mm",
                      "stock_form",
                      "stock_direction"}};

const Section kModulus{"[sheet.modulus]",
                       {"model",
                        "low_MPa",
                        "high_MPa",
                        "relaxation_time_s",
                        "exponent",
                        "shift",
                        "reference_C",
                        "wlf_c1",
                        "wlf_c2_K",
                        "activation_kJ_mol",
                        "frequency_Hz",
                        "temperature_C",
                        "modulus_MPa",
                        "loss_factor",
                        "outside"}};

const Section kKeepOut{"[[keep_out]]",
                       {"name", "centre_mm", "size_mm", "angle_deg", "diameter_mm", "outline_mm"}};

const Section kLayout{"[[layout]]", {"name", "piece", "place"}};

const Section kPlace{
    "[layout.place]",
    {"sheet",     "sheets",  "face",    "sizes_mm",     "free_sizes", "angles_deg", "share_percent",
     "area_m2",   "mass_kg", "cost",    "sheet_count",  "pieces",     "spacing_mm", "gap_mm",
     "margin_mm", "goals",   "weights", "temperatures", "unknowns",   "layout"}};

const Section kPiece{"[[layout.piece]]",
                     {"sheet",
                      "sheets",
                      "face",
                      "centre_mm",
                      "size_mm",
                      "angle_deg",
                      "outline_mm",
                      "everywhere",
                      "margin_mm",
                      "hole_margin_mm",
                      "foil_edge"}};

const Section kDrive{"[drive]",
                     {"kind", "at_mm", "force_N", "pressure_Pa", "impulse_Ns", "contact_ms"}};

const Section kWoofer{"[woofer]",
                      {"fs_Hz",
                       "Qms",
                       "Qes",
                       "Qts",
                       "Re_ohm",
                       "Sd_cm2",
                       "Mms_g",
                       "Cms_mm_per_N",
                       "Vas_l",
                       "Bl_Tm",
                       "Rms_kg_s",
                       "Xmax_mm",
                       "nominal_ohm",
                       "count",
                       "mounting",
                       "cone_centre_mm",
                       "ring_centre_mm",
                       "ring_diameter_mm",
                       "frame_mass_kg"}};

const Section kAmplifier{"[amplifier]", {"voltage_V", "power_W"}};

const Section kFilter{"[filter]",
                      {"high_pass_Hz",
                       "high_pass_order",
                       "high_pass_type",
                       "low_pass_Hz",
                       "low_pass_order",
                       "low_pass_type"}};

const Section kCavity{"[cavity]",
                      {"wanted",
                       "volume_l",
                       "depth_mm",
                       "depth_bottom_mm",
                       "depth_top_mm",
                       "leak_centre_mm",
                       "leak_area_cm2",
                       "leak_length_mm",
                       "lining_loss_factor"}};

const Section kBand{"[band]", {"low_Hz", "high_Hz", "step_Hz"}};

const Section kListenAt{"[[listen_at]]", {"name", "at_mm", "limit_m_s2", "holds_g", "preload_N"}};

const Section kCutting{"[cutting]", {"gap_mm", "smallest_offcut_mm", "split"}};

const Section kOffcut{"[[offcut]]", {"sheet", "size_mm", "count"}};

const Section kReport{"[report]",
                      {"fitter", "contact", "logo", "car", "customer", "question", "proposal"}};

const Section kBenefitMap{"[benefit_map]", {"wanted", "sheet", "piece_mm", "spacing_mm", "layout"}};

const Section kSheetComparison{"[sheet_comparison]", {"layout", "sheets"}};

const Section kUnknowns{"[unknowns]",
                        {"edge_factor",
                         "pad_factor",
                         "crown_factor",
                         "modulus_factor",
                         "thickness_mm",
                         "temperature_C",
                         "samples"}};

const Section kConditions{"[conditions]", {"temperature_C", "temperatures_C"}};

}  // namespace keys

std::vector<const Section*> all_sections() {
  using namespace keys;
  return {&kJob,        &kPanel,           &kEdge,      &kCrown,      &kHole,    &kSwage,
          &kRecess,     &kMaterial,        &kStiffener, &kSpring,     &kMass,    &kSheet,
          &kModulus,    &kKeepOut,         &kLayout,    &kPiece,      &kPlace,   &kDrive,
          &kWoofer,     &kAmplifier,       &kFilter,    &kCavity,     &kBand,    &kListenAt,
          &kBenefitMap, &kSheetComparison, &kUnknowns,  &kConditions, &kCutting, &kOffcut,
          &kReport};
}

}  // namespace calmplate::job
