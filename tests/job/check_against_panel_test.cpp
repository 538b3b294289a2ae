// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "job/job.hpp"
#include "job/read_sections.hpp"
#include "support/test_meshes.hpp"

namespace calmplate {
namespace {

/// A flat skin of 1000 x 600 mm with a hole from [400, 200] to [600, 300].
panel::Panel skin() {
  panel::Mesh mesh = testing::flat_plate(1.0, 0.6, 20, 12);
  panel::Triangles kept(mesh.triangles.rows(), 3);
  Eigen::Index n = 0;
  for (Eigen::Index t = 0; t < mesh.triangles.rows(); ++t) {
    Eigen::Vector3d middle = Eigen::Vector3d::Zero();
    for (int c = 0; c < 3; ++c) middle += mesh.nodes.row(mesh.triangles(t, c)).transpose() / 3.0;
    const bool hole = middle.x() > 0.4 && middle.x() < 0.6 && middle.y() > 0.2 && middle.y() < 0.3;
    if (!hole) kept.row(n++) = mesh.triangles.row(t);
  }
  mesh.triangles = kept.topRows(n);
  return panel::make_panel(mesh, {}, "skin.vtp");
}

const char* const kHead = R"([job]
title = "t"
[panel]
mesh = "skin.vtp"
thickness_mm = 0.8
[[panel.edge]]
part = "rim"
hold = "pinned"
[drive]
kind = "pressure"
[[sheet]]
name = "mat"
kind = "mass"
mass_kg_m2 = 2
[[layout]]
name = "a"
[[layout.piece]]
sheet = "mat"
)";

/// The head above ends in an open piece: what is added begins with its shape.
std::string refusal(const std::string& text) {
  const job::Job j = job::read_job_text(text, "door.toml");
  static const panel::Panel panel = skin();
  try {
    job::check_against_panel(j, panel);
  } catch (const base::InputError& e) {
    return e.what();
  }
  return "fits";
}

std::string with_shape(const std::string& shape) { return refusal(kHead + shape); }

const std::string kPiece = "centre_mm = [200, 100]\nsize_mm = [200, 100]\n";

std::string with_more(const std::string& more) { return with_shape(kPiece + more); }

}  // namespace

// Source: [derived] the skin's outline and hole are known: 1000 x 600 mm and [400, 600] x
// [200, 300].
TEST_CASE("positions have to be on the skin", "[job][derived]") {
  CHECK(with_more("") == "fits");
  CHECK(with_more("[[mass]]\nname = 'm'\nat_mm = [350, 250]\nmass_kg = 1\n") == "fits");
  CHECK(with_more("[[mass]]\nname = 'm'\nat_mm = [500, 250]\nmass_kg = 1\n") ==
        "door.toml:21: mass[1].at_mm: is [500, 250] mm, which is off the panel or in a hole; "
        "allowed: a point on the skin; the flat map runs from [0, 0] to [1000, 600] mm");
  CHECK(with_more("[[spring]]\nname = 's'\nat_mm = [1001, 250]\nnormal_N_per_mm = 1\n") ==
        "door.toml:21: spring[1].at_mm: is [1001, 250] mm, which is off the panel or in a hole; "
        "allowed: a point on the skin; the flat map runs from [0, 0] to [1000, 600] mm");
  CHECK(with_more("[[listen_at]]\nname = 'l'\nat_mm = [-5, 20.5]\n") ==
        "door.toml:21: listen_at[1].at_mm: is [-5, 20.5] mm, which is off the panel or in a hole; "
        "allowed: a point on the skin; the flat map runs from [0, 0] to [1000, 600] mm");
}

// Source: [derived] as above; the drive of the head has no place, so it needs a head of its own.
TEST_CASE("a force and a tap have to be on the skin", "[job][derived]") {
  const std::string head = kHead;
  const std::string old = "kind = \"pressure\"\n";
  const auto with_drive = [&](const std::string& drive) {
    std::string text = head + kPiece;
    return refusal(text.replace(text.find(old), old.size(), drive));
  };
  CHECK(with_drive("kind = 'tap'\nat_mm = [100, 100]\n") == "fits");
  CHECK(with_drive("kind = 'force'\nat_mm = [100, 700]\n") ==
        "door.toml:9: drive.at_mm: is [100, 700] mm, which is off the panel or in a hole; allowed: "
        "a point on the skin; the flat map runs from [0, 0] to [1000, 600] mm");
}

// Source: [derived] as above; the hole's middle is [500, 250], a ring of 150 mm around [600, 250]
// meets the hole, one of 300 mm around [500, 250] goes round it. A ring's first point lies at its
// right.
TEST_CASE("woofer and leak have to be at the skin", "[job][derived]") {
  const auto with_woofer = [](const std::string& more, const std::string& leak) {
    std::string text = kHead + kPiece;
    const std::string old = "[drive]\nkind = \"pressure\"\n";
    return refusal(
        text.replace(text.find(old), old.size(), "") +
        "[woofer]\nfs_Hz = 65\nQms = 4.5\nQes = 0.62\nRe_ohm = 3.2\nSd_cm2 = 133\n"
        "Mms_g = 15\n" +
        more + "[amplifier]\npower_W = 20\n[cavity]\nvolume_l = 40\nleak_area_cm2 = 20\n" + leak);
  };
  const std::string map = "; the flat map runs from [0, 0] to [1000, 600] mm";
  CHECK(with_woofer("", "") == "fits");
  CHECK(with_woofer("cone_centre_mm = [200, 200]\n", "leak_centre_mm = [700, 300]\n") == "fits");
  CHECK(with_woofer("cone_centre_mm = [500, 250]\n", "leak_centre_mm = [500, 250]\n") == "fits");
  CHECK(with_woofer("cone_centre_mm = [1001, 200]\n", "") ==
        "door.toml:19: woofer.cone_centre_mm: is [1001, 200] mm, which is off the panel or in a "
        "hole; "
        "allowed: a point on the skin" +
            map);
  CHECK(with_woofer("", "leak_centre_mm = [500, 620]\n") == "fits");
  CHECK(with_woofer("", "leak_centre_mm = [500, 640]\n") ==
        "door.toml:28: cavity.leak_centre_mm: is [500, 640] mm, 40 mm off the panel; allowed: a "
        "point "
        "within 30 mm of it" +
            map);
  const auto with_ring = [&](const std::string& centre, const std::string& diameter) {
    return with_woofer("mounting = 'skin'\nring_centre_mm = " + centre +
                           "\nring_diameter_mm = " + diameter + "\nframe_mass_kg = 1\n",
                       "");
  };
  CHECK(with_ring("[200, 200]", "150") == "fits");
  CHECK(with_ring("[500, 250]", "300") == "fits");
  CHECK(with_ring("[930, 200]", "150") ==
        "door.toml:19: woofer.ring_centre_mm: puts a point of the ring at [1005, 200] mm, where "
        "there "
        "is no skin; allowed: a ring of 150 mm that lies on the skin all round" +
            map);
  CHECK_THAT(
      with_ring("[600, 250]", "150"),
      Catch::StartsWith("door.toml:19: woofer.ring_centre_mm: puts a point of the ring at [") &&
          Catch::EndsWith("a ring of 150 mm that lies on the skin all round" + map));
}

// Source: [derived] a rectangle has the sides bottom, right, top, left, and there is one hole.
TEST_CASE("a rim part has to be one of the panel's", "[job][derived]") {
  const auto with_edge = [](const std::string& edge) {
    std::string text = kHead + kPiece;
    const std::string old = "part = \"rim\"\n";
    return refusal(text.replace(text.find(old), old.size(), edge));
  };
  CHECK(with_edge("part = 'hole-1'\n") == "fits");
  CHECK(with_edge("part = 'holes'\n") == "fits");
  CHECK(with_edge("part = 'top'\nfrom_mm = [900, 620]\nto_mm = [100, 600]\n") == "fits");
  CHECK(with_edge("part = 'botom'\n") ==
        "door.toml:6: panel.edge[1].part: is \"botom\", and the panel has no rim part of that name "
        "(did you mean \"bottom\"?); allowed: \"bottom\", \"right\", \"top\", \"left\", "
        "\"hole-1\", \"rim\", \"holes\", \"all\"");
  CHECK(with_edge("part = 'top'\nfrom_mm = [900, 650]\nto_mm = [100, 600]\n") ==
        "door.toml:6: panel.edge[1].from_mm: is [900, 650] mm, 50 mm off the panel; allowed: a "
        "point within 30 mm of it; the flat map runs from [0, 0] to [1000, 600] mm");
}

// Source: [derived] the beam is 800 mm long and passes over the hole from 300 to 500 mm.
TEST_CASE("a beam's ends and pads have to be on the skin", "[job][derived]") {
  const auto with_beam = [](const std::string& to, const std::string& pads) {
    return with_more("[[stiffener]]\nname = 'b'\nfrom_mm = [100, 250]\nto_mm = " + to +
                     "\narea_mm2 = 100\ninertia_normal_mm4 = 1000\n" + pads);
  };
  const auto pads = [](const std::string& places) {
    return "pad_stiffness_N_per_mm = 10\npads_mm = " + places + "\n";
  };
  CHECK(with_beam("[900, 250]", "") == "fits");
  CHECK(with_beam("[900, 250]", pads("[0, 200, 800]")) == "fits");
  CHECK(with_beam("[1100, 250]", "") ==
        "door.toml:21: stiffener[1].to_mm: is [1100, 250] mm, which is off the panel or in a hole; "
        "allowed: a point on the skin; the flat map runs from [0, 0] to [1000, 600] mm");
  CHECK(with_beam("[900, 250]", pads("[200, 810]")) ==
        "door.toml:21: stiffener[1].pads_mm[2]: is 810 mm, beyond the end of the beam; allowed: 0 "
        "to 800 mm");
  CHECK(with_beam("[900, 250]", pads("[400]")) ==
        "door.toml:21: stiffener[1].pads_mm[1]: puts a pad at [500, 250] mm, where there is no "
        "skin; allowed: distances at which the beam runs over the skin");
}

// Source: [derived] shares of rectangles: 20 of 200 mm is 10 %; 0.1 of 200 mm is 0.05 %.
TEST_CASE("a piece has to lie on the skin", "[job][derived]") {
  const auto piece = [](const std::string& centre, const std::string& size) {
    return with_shape("centre_mm = " + centre + "\nsize_mm = " + size + "\n");
  };
  CHECK(piece("[100, 100]", "[200, 200]") == "fits");
  CHECK(piece("[99.9, 100]", "[200, 200]") == "fits");
  CHECK(piece("[80, 100]", "[200, 200]") ==
        "door.toml:17: layout[1].piece[1]: hangs over the panel's edge or a hole by 10 % of its "
        "area; allowed: at most 0.1 %; the flat map runs from [0, 0] to [1000, 600] mm");
  CHECK(piece("[99, 100]", "[200, 200]") ==
        "door.toml:17: layout[1].piece[1]: hangs over the panel's edge or a hole by 0.5 % of its "
        "area; allowed: at most 0.1 %; the flat map runs from [0, 0] to [1000, 600] mm");
  CHECK(piece("[500, 250]", "[400, 200]") ==
        "door.toml:17: layout[1].piece[1]: hangs over the panel's edge or a hole by 25 % of its "
        "area; allowed: at most 0.1 %; the flat map runs from [0, 0] to [1000, 600] mm");
  CHECK(piece("[3000, 100]", "[200, 200]") ==
        "door.toml:17: layout[1].piece[1]: lies off the panel; allowed: at most 0.1 %; the flat "
        "map runs from [0, 0] to [1000, 600] mm");
  CHECK(with_shape("everywhere = true\nmargin_mm = 290\n") == "fits");
  CHECK(with_shape("everywhere = true\nmargin_mm = 310\n") ==
        "door.toml:17: layout[1].piece[1]: covers nothing: its margins and the keep-outs leave no "
        "skin; allowed: smaller margins");
}

// Source: [derived] overlaps of rectangles: 10 x 100 mm is 1000 mm2.
TEST_CASE("pieces on one face of one layout must not overlap", "[job][derived]") {
  const std::string next = "[[layout.piece]]\nsheet = 'mat'\n";
  CHECK(with_more(next + "centre_mm = [400, 100]\nsize_mm = [200, 100]\n") == "fits");
  CHECK(with_more(next + "centre_mm = [390, 100]\nsize_mm = [200, 100]\n") ==
        "door.toml:21: layout[1].piece[2]: overlaps layout[1].piece[1] on line 17 on the same face "
        "by 1000 mm2; allowed: at most 1 mm2");
  CHECK(with_more(next + "face = 'outer'\ncentre_mm = [390, 100]\nsize_mm = [200, 100]\n") ==
        "fits");
  CHECK(with_more("[[layout]]\nname = 'b'\n" + next +
                  "centre_mm = [390, 100]\nsize_mm = [200, 100]\n") == "fits");
  // Clockwise, and the one inside the other.
  CHECK(with_more(next + "outline_mm = [[150, 80], [150, 120], [250, 120], [250, 80]]\n") ==
        "door.toml:21: layout[1].piece[2]: overlaps layout[1].piece[1] on line 17 on the same face "
        "by 4000 mm2; allowed: at most 1 mm2");
  CHECK(with_more(next + "everywhere = true\n") ==
        "door.toml:21: layout[1].piece[2]: overlaps layout[1].piece[1] on line 17 on the same face "
        "by 20000 mm2; allowed: at most 1 mm2");
  // The margin moves the everywhere piece off the strip along the rim: 0 to 60 mm.
  CHECK(with_shape("centre_mm = [500, 30]\nsize_mm = [800, 60]\n" + next +
                   "everywhere = true\nmargin_mm = 60\n") == "fits");
  // A keep-out leaves room in it for another piece.
  const std::string keep_out = "[[keep_out]]\nname = 'k'\ncentre_mm = [";
  CHECK(with_shape("everywhere = true\n" + next + "face = 'outer'\neverywhere = true\n" + keep_out +
                   "200, 100]\nsize_mm = [200, 100]\n") == "fits");
  CHECK(with_shape("everywhere = true\n" + next + "everywhere = true\n") ==
        "door.toml:20: layout[1].piece[2]: overlaps layout[1].piece[1] on line 17 on the same face "
        "by 580000 mm2; allowed: at most 1 mm2");
}

// Source: [derived] overlaps of rectangles, as above.
TEST_CASE("a piece must not enter a keep-out", "[job][derived]") {
  const auto keep_out = [](const std::string& centre) {
    return "[[keep_out]]\nname = 'drain'\ncentre_mm = " + centre + "\nsize_mm = [20, 20]\n";
  };
  CHECK(with_more(keep_out("[310, 100]")) == "fits");
  CHECK(with_more(keep_out("[305, 100]")) ==
        "door.toml:17: layout[1].piece[1]: enters the keep-out \"drain\" (keep_out[1]) by 100 mm2; "
        "allowed: at most 1 mm2");
  CHECK(with_shape("everywhere = true\n" + keep_out("[305, 100]")) == "fits");
  CHECK(with_more(keep_out("[1005, 100]")) == "fits");
  CHECK(with_more(keep_out("[1100, 100]")) ==
        "door.toml:21: keep_out[1]: lies off the panel; allowed: at least partly within [0, 0] to "
        "[1000, 600] mm");
}

}  // namespace calmplate
