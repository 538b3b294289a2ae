// SPDX-License-Identifier: GPL-3.0-or-later
#include "panel/scan_points.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "changed_meshes.hpp"

using namespace calmplate;
using Eigen::Vector3d;
using panel::Mesh;
using panel::ScanPoints;

namespace {

constexpr double kNoise = 0.0003;
constexpr double kEnough = 1.5e-5;

/// A plate 0.5 x 0.4 m with points 2 mm apart and noise across it, its heights given by a function.
template <typename Height>
Mesh noisy(const Height& height, unsigned seed) {
  const Mesh shape = testing::grid(250, 200, [&](double u, double v) {
    return Vector3d(0.5 * u, 0.4 * v, height(0.5 * u, 0.4 * v));
  });
  return testing::with_noise(shape, 0.0, kNoise, seed);
}

/// Root mean square and mean of what the feet of a grid of places lie above the surface.
template <typename Height>
std::pair<double, double> left_over(const Height& height, double margin) {
  const ScanPoints points(noisy(height, 41).nodes, 0.2);
  double square = 0.0, sum = 0.0;
  int count = 0;
  for (double x = margin; x <= 0.5 - margin + 1e-9; x += 0.017)
    for (double y = margin; y <= 0.4 - margin + 1e-9; y += 0.019) {
      const Vector3d foot = points.foot({x, y, height(x, y) + 0.0005}, kNoise, kEnough);
      const double off = foot.z() - height(foot.x(), foot.y());
      square += off * off;
      sum += off;
      ++count;
    }
  return {std::sqrt(square / count), sum / count};
}

}  // namespace

// Source: derived. The noise is put in, so its size is known.
TEST_CASE("a scan's noise is measured", "[panel][derived]") {
  const double sigma = GENERATE(0.0001, 0.0003, 0.001);
  const Mesh plate = testing::flat_plate(0.5, 0.4, 100, 80);
  CAPTURE(sigma);
  CHECK(std::abs(ScanPoints(testing::with_noise(plate, 0.0, sigma, 17).nodes, 0.2).noise() / sigma -
                 1.0) < 0.05);
  CHECK(ScanPoints(plate.nodes, 0.2).noise() < 1e-12);
}

// Source: derived. A quadric over a circle leaves a noise of 2 sigma / sqrt(n) at its centre: with
// 0.3 mm and 1600 points 0.015 mm, which is where the widening ends. A sphere and a cylinder of
// 2 m depart from a quadric by r^4 / 8 R^3, nothing at 60 mm. Nearer to the rim than the circle is
// wide, fits are one-sided and leave some more.
TEST_CASE("feet lie on a crowned skin, not on its noise, and keep the crown", "[panel][derived]") {
  const auto sphere = [](double x, double y) {
    return std::sqrt(4.0 - std::pow(x - 0.25, 2) - std::pow(y - 0.2, 2)) - 2.0;
  };
  const auto cylinder = [](double, double y) {
    return std::sqrt(4.0 - std::pow(y - 0.2, 2)) - 2.0;
  };
  for (const auto& [rms, mean] : {left_over(sphere, 0.05), left_over(cylinder, 0.05)}) {
    CHECK(rms < 3.5e-5);
    CHECK(std::abs(mean) < 5e-6);
  }
  const auto [rms, mean] = left_over(sphere, 0.0);
  CHECK(rms < 5e-5);
  CHECK(std::abs(mean) < 8e-6);
}

// Source: derived. A ridge 5.5 mm high that falls off within 17 mm. One circle for all would have
// to choose: 10 mm leaves 0.07 mm of noise everywhere, 40 mm flattens the ridge by millimetres.
TEST_CASE("a ridge stays while the field beside it is smoothed", "[panel][derived]") {
  const auto ridge = [](double, double y) {
    const double c = std::cosh((y - 0.2) / 0.017);
    return 0.0055 / (c * c);
  };
  const ScanPoints points(noisy(ridge, 43).nodes, 0.2);
  double on_ridge = 0.0, beside = 0.0;
  int count = 0;
  for (double x = 0.05; x < 0.45; x += 0.011, ++count) {
    on_ridge += std::pow(points.foot({x, 0.2, 0.0055}, kNoise, kEnough).z() - 0.0055, 2);
    beside += std::pow(points.foot({x, 0.31, 0.0}, kNoise, kEnough).z() - ridge(x, 0.31), 2);
  }
  CHECK(std::sqrt(on_ridge / count) < 2e-4);
  CHECK(std::sqrt(beside / count) < 4e-5);
}

TEST_CASE("where there are too few points a place stays where it is", "[panel]") {
  panel::Nodes few(5, 3);
  few << 0, 0, 0, 0.01, 0, 0, 0, 0.01, 0, 0.01, 0.01, 0, 0.02, 0, 0;
  const ScanPoints points(few, 1e-4);
  CHECK(points.noise() == 0.0);
  CHECK(points.foot({0.005, 0.005, 0.001}, kNoise, kEnough) == Vector3d(0.005, 0.005, 0.001));
}
