// SPDX-License-Identifier: GPL-3.0-or-later
#include "reduced/full_reduction.hpp"

#include <catch2/catch.hpp>
#include <cstring>

#include "reduced/complex_modes.hpp"
#include "shell/small_panels.hpp"

using namespace calmplate;
using namespace calmplate::testing;
using shell::Hold;
using shell::LaidPiece;

namespace {

const Eigen::Vector2d kA(0.07, 0.21), kB(0.29, 0.11);

/// A crowned panel on an elastic hem with a piece on a part of it.
struct Treated {
  panel::Panel panel = panel_of(sphere_panel(0.4, 0.3, 3.0, 10, 8));
  sheet::Sheet soft = constrained(1e6, 1.0);
  shell::Skin skin;
  shell::PanelModel model;

  Treated() {
    shell::EdgeInput hem = edge("rim", Hold::springs);
    hem.normal_stiffness = hem.in_plane_stiffness = 3e6;
    hem.rotation_stiffness = 50.0;
    hem.loss_factor = 0.1;
    skin = skin_of(panel, {hem}, 0.8e-3, 0.002);
    model = shell::build_model(
        skin, {}, {{rectangle_on(panel, {0.21, 0.13}, {0.17, 0.12}), {&soft}, false, false}});
  }
  Eigen::VectorXd row(const Eigen::Vector2d& at) const {
    return shell::normal_at(skin, *panel.flat.to_skin(at));
  }
  reduced::Ports ports(const Eigen::Vector2d& load_at) const {
    reduced::Ports p{row(load_at), Eigen::MatrixXd(2, skin.n_dof)};
    p.listen.row(0) = row(kA).transpose();
    p.listen.row(1) = row(kB).transpose();
    return p;
  }
  reduced::FullReduction reduce(const reduced::Ports& p, int air_faces = 2) const {
    reduced::ReductionOptions o;
    o.top_hz = 400.0;
    o.air_faces = air_faces;
    return reduced::reduce_full(skin, model, p, o, {});
  }
};

const std::vector<double> kFrequencies = {20.0, 75.5, 110.0, 140.0, 203.0, 250.0, 333.0};

}  // namespace

// Source: derived. Over a period the load does as much work as the losses take.
TEST_CASE("the power into a treated panel is the power that its sheet and hem take",
          "[reduced][derived]") {
  const Treated t;
  const reduced::ReducedModel m = t.reduce(t.ports(kA)).model;
  for (const double f : kFrequencies) {
    const double w = base::kTwoPi * f;
    const Eigen::VectorXcd q = m.solve(f);
    const std::complex<double> v = std::complex<double>(0.0, w) *
                                   (m.load.cast<std::complex<double>>().transpose() * q).value();
    const double lost = 0.5 * w * q.dot(m.stiffness(f).imag() * q).real();
    CHECK(lost > 0.0);
    CHECK(0.5 * v.real() == Approx(lost).epsilon(1e-9).margin(0.0));
  }
}

// Source: derived. Symmetric equations: what a force at A moves at B, a force at B moves at A.
TEST_CASE("the mobility from one point to another is that of the way back", "[reduced][derived]") {
  const Treated t;
  const reduced::ReducedModel a = t.reduce(t.ports(kA)).model, b = t.reduce(t.ports(kB)).model;
  for (const double f : kFrequencies) {
    const std::complex<double> there =
        (a.listen.row(1).cast<std::complex<double>>() * a.solve(f)).value();
    const std::complex<double> back =
        (b.listen.row(0).cast<std::complex<double>>() * b.solve(f)).value();
    CAPTURE(f);
    CHECK(std::abs(there - back) < 1e-8 * std::abs(there));
    // The load's own point is heard as it is driven.
    const std::complex<double> own =
        (a.listen.row(0).cast<std::complex<double>>() * a.solve(f)).value();
    const std::complex<double> driven =
        (a.load.transpose().cast<std::complex<double>>() * a.solve(f)).value();
    CHECK(std::abs(own - driven) < 1e-10 * std::abs(own));
  }
}

// Source: derived. The basis is open to the load: at a crawl the response is the static answer of
// the whole mesh, here K^-1 of the lossless part.
TEST_CASE("the answer to a load far below all modes is the static one of the full mesh",
          "[reduced][derived]") {
  Treated t;
  const reduced::FullReduction r = t.reduce(t.ports(kA), 0);
  const Eigen::SparseMatrix<double> k = t.model.real_stiffness(100.0, 293.15);
  const modes::CholeskyFactor factor(k);
  Eigen::VectorXd load = Eigen::VectorXd::Zero(t.model.n_dof);
  load.head(t.skin.n_dof) = t.row(kA);
  const double exact = factor.solve(load).col(0).dot(load);
  const Eigen::MatrixXd small = r.model.stiffness(100.0).real();
  CHECK(r.model.load.dot(small.ldlt().solve(r.model.load)) == Approx(exact).epsilon(1e-6));
}

TEST_CASE("a reduced model is symmetric and its parts are projections of the full ones",
          "[reduced][derived]") {
  const Treated t;
  const reduced::FullReduction r = t.reduce(t.ports(kA), 0);
  const Eigen::MatrixXd mass = r.basis.transpose() * (t.model.mass * r.basis);
  CHECK((r.model.mass - mass).norm() < 1e-10 * mass.norm());
  REQUIRE(r.model.terms.size() == t.model.terms.size());
  for (std::size_t i = 0; i < r.model.terms.size(); ++i) {
    const Eigen::MatrixXd& k = r.model.terms[i].matrix;
    CHECK(k == k.transpose());
    const Eigen::MatrixXd exact = r.basis.transpose() * (t.model.terms[i].matrix * r.basis);
    CHECK((k - exact).norm() < 1e-10 * exact.norm());
  }
  // Both mean and read-out are those of the normal displacement on the nodes.
  const Eigen::VectorXd q = Dice().matrix(r.model.size(), 1);
  const Eigen::VectorXd w = r.normal * q;
  const double mean = w.cwiseAbs2().dot(t.skin.node_area) / t.skin.node_area.sum();
  CHECK(q.dot(r.model.surface * q) == Approx(mean).epsilon(1e-10));
  const Eigen::VectorXd u = (r.basis * q).head(t.skin.n_dof);
  CHECK(r.model.listen.row(1).dot(q) == Approx(t.row(kB).dot(u)).epsilon(1e-9));
}

TEST_CASE("air on the faces lowers every mode and leaves its loss", "[reduced][derived]") {
  const Treated t;
  const reduced::ComplexModes none = reduced::complex_modes(t.reduce(t.ports(kA), 0).model, 300.0);
  const reduced::ComplexModes two = reduced::complex_modes(t.reduce(t.ports(kA), 2).model, 300.0);
  REQUIRE(two.freq_hz.size() >= none.freq_hz.size());
  for (Eigen::Index j = 0; j < 3; ++j) {
    CHECK(two.freq_hz(j) < none.freq_hz(j));
    CHECK(two.freq_hz(j) > 0.9 * none.freq_hz(j));
    CHECK(two.loss_factor(j) == Approx(none.loss_factor(j)).epsilon(0.1));
  }
}

TEST_CASE("the same reduction gives the same bytes", "[reduced]") {
  const Treated t;
  const reduced::FullReduction a = t.reduce(t.ports(kA)), b = t.reduce(t.ports(kA));
  REQUIRE(a.basis.size() == b.basis.size());
  const auto bytes = [](const Eigen::MatrixXd& m) {
    return static_cast<std::size_t>(m.size()) * sizeof(double);
  };
  CHECK(std::memcmp(a.basis.data(), b.basis.data(), bytes(a.basis)) == 0);
  CHECK(std::memcmp(a.model.mass.data(), b.model.mass.data(), bytes(a.model.mass)) == 0);
}

TEST_CASE("a reduction stops when it is asked to", "[reduced]") {
  const Treated t;
  base::Progress stop;
  stop.cancelled = [] { return true; };
  CHECK_THROWS_AS(reduced::reduce_full(t.skin, t.model, t.ports(kA), {}, stop), base::Cancelled);
}
