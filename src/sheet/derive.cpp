// SPDX-License-Identifier: GPL-3.0-or-later
#include "sheet/derive.hpp"

#include <ceres/ceres.h>

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <memory>
#include <stdexcept>
#include <utility>

#include "base/units.hpp"
#include "sheet/shelf.hpp"

namespace calmplate::sheet {
namespace {

// What is fitted: logarithms, so that every point of the space is a material.
enum Unknown { kLow, kSpan, kTime, kExponent, kShift, kUnknowns };
using Point = Eigen::Matrix<double, kUnknowns, 1>;
using Square = Eigen::Matrix<double, kUnknowns, kUnknowns, Eigen::RowMajor>;

constexpr double kNaN = std::numeric_limits<double>::quiet_NaN();
constexpr double kGasConstant = 8.314462618;  // J/(mol K). Source: [memory] SI of 2019

/// What is held where the rows say nothing.
struct Assumption {
  Point middle, deviation;
  TemperatureShift shift;
  std::string sheet;
};

/// The shelf's first generic sheet of a kind. Source: as the shelf says; widths [practice].
Assumption generic(const BarTest& test, TemperatureShift::Kind shift) {
  const Kind kind = test.shear() ? Kind::constrained : Kind::free_layer;
  for (const ShelfEntry& entry : shelf()) {
    const auto* zener = dynamic_cast<const FractionalZener*>(entry.sheet.core_modulus.get());
    if (entry.sheet.kind != kind || zener == nullptr) continue;
    const FractionalZenerParameters& p = zener->parameters();
    Assumption a;
    a.sheet = entry.sheet.name;
    a.shift = p.shift;
    double slope = p.shift.c1;
    if (shift == TemperatureShift::Kind::arrhenius) {
      // As steep at the reference temperature as the shelf's material.
      const double tr = p.shift.reference_k;
      slope = std::log(10.0) * kGasConstant * tr * tr * p.shift.c1 / p.shift.c2_k;
      a.shift = {shift, tr, 0.0, 0.0, slope};
    }
    a.middle << std::log(p.low_pa), std::log(p.high_pa / p.low_pa - 1.0), std::log(p.time_s),
        std::log(p.exponent / (1.0 - p.exponent)), std::log(slope);
    a.deviation << std::log(10.0), std::log(5.0), std::log(100.0), 0.4,
        shift == TemperatureShift::Kind::wlf ? 0.25 : 0.35;
    return a;
  }
  throw std::logic_error("derive: no generic material on the shelf");
}

FractionalZenerParameters material(const double* u, const TemperatureShift& shift) {
  FractionalZenerParameters p;
  p.low_pa = std::exp(u[kLow]);
  p.high_pa = p.low_pa * (1.0 + std::exp(u[kSpan]));
  p.time_s = std::exp(u[kTime]);
  p.exponent = 1.0 / (1.0 + std::exp(-u[kExponent]));
  p.shift = shift;
  (shift.kind == TemperatureShift::Kind::wlf ? p.shift.c1 : p.shift.activation_j_mol) =
      std::exp(u[kShift]);
  return p;
}

struct Problem {
  const BarTest& test;
  const std::vector<BarTestRow>& rows;
  const std::vector<std::size_t> used;
  const Assumption assumption;
  double loss_error, ratio_error;

  std::size_t readings() const {
    std::size_t n = used.size();
    for (const std::size_t i : used) n += rows[i].freq_ratio > 0.0 ? 1 : 0;
    return n;
  }

  /// Readings first, then the assumption. @return false where there is no such bar
  bool residuals(const double* u, double* out) const {
    try {
      const FractionalZener zener(material(u, assumption.shift));
      for (const std::size_t i : used) {
        const BarTestRow& row = rows[i];
        const BarAnswer a = bar_answer(test, row, zener.modulus(row.freq_hz, row.temp_k));
        *out++ = std::log(a.loss_factor / row.loss_factor) / loss_error;
        if (row.freq_ratio > 0.0) *out++ = std::log(a.freq_ratio / row.freq_ratio) / ratio_error;
        if (!std::isfinite(out[-1]) || !std::isfinite(a.loss_factor)) return false;
      }
    } catch (const std::invalid_argument&) {
      return false;  // a step far out: the solver takes a shorter one
    }
    for (int j = 0; j < kUnknowns; ++j)
      *out++ = (u[j] - assumption.middle[j]) / assumption.deviation[j];
    return true;
  }

  /// Half the sum of squares, infinite where there is no such bar.
  double cost(const Point& u) const {
    Eigen::VectorXd r(static_cast<Eigen::Index>(readings()) + kUnknowns);
    return residuals(u.data(), r.data()) ? 0.5 * r.squaredNorm()
                                         : std::numeric_limits<double>::infinity();
  }
};

struct Residuals {
  const Problem* problem;
  bool operator()(double const* const* u, double* out) const {
    return problem->residuals(u[0], out);
  }
};

void add_residuals(const Problem& problem, Point& u, ceres::Problem& solver) {
  using Cost = ceres::DynamicNumericDiffCostFunction<Residuals, ceres::CENTRAL>;
  auto cost = std::make_unique<Cost>(new Residuals{&problem});
  cost->AddParameterBlock(kUnknowns);
  cost->SetNumResiduals(static_cast<int>(problem.readings()) + kUnknowns);
  solver.AddResidualBlock(cost.release(), nullptr, u.data());
}

struct Solution {
  Point u;
  double cost;
};

/// @return the least from a start, or a cost of infinity if the solver did not settle
Solution solve_from(const Problem& problem, Point u) {
  ceres::Problem solver;
  add_residuals(problem, u, solver);
  ceres::Solver::Options options;
  options.linear_solver_type = ceres::DENSE_QR;
  options.num_threads = 1;
  options.max_num_iterations = 300;
  options.function_tolerance = 1e-12;
  options.parameter_tolerance = 1e-10;
  options.gradient_tolerance = 1e-10;
  options.logging_type = ceres::SILENT;
  ceres::Solver::Summary summary;
  ceres::Solve(options, &solver, &summary);
  return {u,
          summary.termination_type == ceres::CONVERGENCE ? problem.cost(u)
                                                         : std::numeric_limits<double>::infinity()};
}

/// Least squares from the best of a grid of starts, best first.
std::vector<Solution> solve(const Problem& problem) {
  constexpr std::size_t kTried = 6;
  std::vector<Solution> starts;
  for (const double time : {0.0, -3.0, 3.0, -6.0, 6.0, -9.0, 9.0})
    for (const double low : {0.0, -2.3, 2.3}) {
      Point u = problem.assumption.middle;
      u[kTime] += time;
      u[kLow] += low;
      starts.push_back({u, problem.cost(u)});
    }
  const auto cheaper = [](const Solution& a, const Solution& b) { return a.cost < b.cost; };
  std::stable_sort(starts.begin(), starts.end(), cheaper);
  std::vector<Solution> found;
  for (std::size_t i = 0; i < kTried && std::isfinite(starts[i].cost); ++i)
    found.push_back(solve_from(problem, starts[i].u));
  std::stable_sort(found.begin(), found.end(), cheaper);
  if (found.empty() || !std::isfinite(found[0].cost))
    throw std::runtime_error("the fit of the sheet's material does not settle");
  return found;
}

Square covariance(const Problem& problem, Point u) {
  ceres::Problem solver;
  add_residuals(problem, u, solver);
  ceres::Covariance::Options options;
  options.algorithm_type = ceres::DENSE_SVD;
  options.num_threads = 1;
  options.min_reciprocal_condition_number = 1e-16;
  ceres::Covariance result(options);
  Square c;
  const double* block = u.data();
  const std::vector<std::pair<const double*, const double*>> wanted = {{block, block}};
  if (!result.Compute(wanted, &solver) || !result.GetCovarianceBlock(block, block, c.data()))
    throw std::runtime_error("the fit of the sheet's material gives no standard deviations");
  return c;
}

using Quantity = std::function<double(const Point&)>;

Point slopes(const Quantity& quantity, const Point& u) {
  constexpr double kStep = 1e-5;
  Point slope;
  for (int j = 0; j < kUnknowns; ++j) {
    Point up = u, down = u;
    up[j] += kStep;
    down[j] -= kStep;
    slope[j] = (quantity(up) - quantity(down)) / (2.0 * kStep);
  }
  return slope;
}

/// Deviation of a quantity over the unknowns, by its slopes.
double deviation(const Quantity& quantity, const Point& u, const Square& c) {
  const Point slope = slopes(quantity, u);
  return std::sqrt(slope.dot(c * slope));
}

Prediction predict(
    const Point& u, const Square& c, const TemperatureShift& shift, double freq_hz, double temp_k) {
  const auto modulus = [&](const Point& at) {
    return FractionalZener(material(at.data(), shift)).modulus(freq_hz, temp_k);
  };
  const auto loss = [&](const Point& at) { return modulus(at).imag() / modulus(at).real(); };
  Prediction p{freq_hz, temp_k, modulus(u).real(), 1.0, loss(u), 0.0};
  p.modulus_factor =
      std::exp(deviation([&](const Point& at) { return std::log(modulus(at).real()); }, u, c));
  p.loss_deviation = deviation(loss, u, c);
  return p;
}

/// Whether rows or assumption decide a quantity whose assumption has the deviation `width`.
Knowledge knowledge_of(
    const Quantity& scale, double width, const Point& u, const Square& c, const Assumption& a) {
  constexpr double kLoosened = 10.0, kFitted = 0.5, kNarrowed = 0.9;
  const Point slope = slopes(scale, u);
  const Square assumed = a.deviation.cwiseAbs2().cwiseInverse().asDiagonal();
  const Square rows = c.inverse() - assumed;
  const Square loosened = rows + assumed / (kLoosened * kLoosened) +
                          slope * slope.transpose() / (slope.squaredNorm() * width * width);
  const double alone = std::sqrt(slope.dot(loosened.inverse() * slope));
  if (alone < kFitted * width) return Knowledge::fitted;
  return std::sqrt(slope.dot(c * slope)) < kNarrowed * width ? Knowledge::weak : Knowledge::assumed;
}

/// A parameter whose scale is the logarithm, or that of the exponent.
FitParameter described(const std::string& key,
                       const Quantity& scale,
                       const std::function<double(double)>& value,
                       const Point& u,
                       const Square& c,
                       const Assumption& a) {
  const Square before = a.deviation.cwiseAbs2().asDiagonal();
  const double at = scale(u), now = deviation(scale, u, c);
  const double middle = scale(a.middle), width = deviation(scale, a.middle, before);
  return {key,
          value(at),
          value(at - now),
          value(at + now),
          value(middle),
          value(middle - width),
          value(middle + width),
          knowledge_of(scale, width, u, c, a)};
}

FitParameter fixed(const std::string& key, double value) {
  return {key, value, value, value, value, value, value, Knowledge::assumed};
}

std::vector<FitParameter> describe(const Point& u, const Square& c, const Assumption& a) {
  const auto exponential = [](double x) { return std::exp(x); };
  const auto unknown = [](int j) { return [j](const Point& at) { return at[j]; }; };
  const auto high = [](const Point& at) { return at[kLow] + std::log(1.0 + std::exp(at[kSpan])); };
  const auto logistic = [](double x) { return 1.0 / (1.0 + std::exp(-x)); };
  std::vector<FitParameter> list = {
      described("low_Pa", unknown(kLow), exponential, u, c, a),
      described("high_Pa", high, exponential, u, c, a),
      described("relaxation_time_s", unknown(kTime), exponential, u, c, a),
      described("exponent", unknown(kExponent), logistic, u, c, a),
      fixed("reference_K", a.shift.reference_k)};
  const bool wlf = a.shift.kind == TemperatureShift::Kind::wlf;
  list.push_back(
      described(wlf ? "wlf_c1" : "activation_J_mol", unknown(kShift), exponential, u, c, a));
  if (wlf) list.push_back(fixed("wlf_c2_K", a.shift.c2_k));
  return list;
}

/// How much more the readings scatter than their errors say, at least 1. Readings that went into
/// narrowing the assumption do not count.
double scatter(const Problem& problem, const Point& u, const Square& c) {
  Eigen::VectorXd r(static_cast<Eigen::Index>(problem.readings()) + kUnknowns);
  problem.residuals(u.data(), r.data());
  const auto n = static_cast<Eigen::Index>(problem.readings());
  double free = static_cast<double>(n);
  for (int j = 0; j < kUnknowns; ++j)
    free -= 1.0 - c(j, j) / (problem.assumption.deviation[j] * problem.assumption.deviation[j]);
  return free < 0.5 ? 1.0 : std::max(1.0, std::sqrt(r.head(n).squaredNorm() / free));
}

void add_other(const Problem& problem, const std::vector<Solution>& found, Fit& fit) {
  constexpr double kNearlyAsGood = 2.0, kOtherModulus = 0.25;
  const BarTestRow& row = problem.rows[problem.used[0]];
  const auto modulus = [&](const Point& u) {
    return FractionalZener(material(u.data(), problem.assumption.shift))
        .modulus(row.freq_hz, row.temp_k);
  };
  const double best = modulus(found[0].u).real();
  for (const Solution& s : found) {
    if (!(s.cost < found[0].cost + kNearlyAsGood)) break;
    const std::complex<double> m = modulus(s.u);
    if (std::abs(m.real() / best - 1.0) < kOtherModulus) continue;
    fit.other = material(s.u.data(), problem.assumption.shift);
    fit.other_at = {row.freq_hz, row.temp_k, m.real(), 1.0, m.imag() / m.real(), 0.0};
    return;
  }
}

Fit fit_rows(Problem problem, const std::vector<RowResult>& results) {
  std::vector<Solution> found = solve(problem);
  Square c = covariance(problem, found[0].u);
  Fit fit;
  fit.scatter = scatter(problem, found[0].u, c);
  if (fit.scatter > 1.0) {
    problem.loss_error *= fit.scatter;
    problem.ratio_error *= fit.scatter;
    found = solve(problem);
    c = covariance(problem, found[0].u);
  }
  const Point& u = found[0].u;
  const Assumption& a = problem.assumption;
  fit.parameters = material(u.data(), a.shift);
  fit.list = describe(u, c, a);
  fit.used = static_cast<int>(problem.used.size());
  fit.assumption = a.sheet;
  fit.one_temperature = std::all_of(problem.used.begin(), problem.used.end(), [&](std::size_t i) {
    return std::abs(problem.rows[i].temp_k - problem.rows[problem.used[0]].temp_k) < 1.0;
  });
  const FractionalZener zener(fit.parameters);
  for (std::size_t i = 0; i < problem.rows.size(); ++i) {
    const BarTestRow& row = problem.rows[i];
    FitRow r;
    r.used = std::find(problem.used.begin(), problem.used.end(), i) != problem.used.end();
    r.answer = bar_answer(problem.test, row, zener.modulus(row.freq_hz, row.temp_k));
    r.loss_residual = r.answer.loss_factor / row.loss_factor - 1.0;
    r.ratio_residual =
        results[i].freq_ratio > 0.0 ? r.answer.freq_ratio / results[i].freq_ratio - 1.0 : kNaN;
    r.material = predict(u, c, a.shift, row.freq_hz, row.temp_k);
    fit.rows.push_back(r);
  }
  for (const double celsius : {0.0, 20.0, 40.0})
    fit.door.push_back(predict(u, c, a.shift, 100.0, base::from_celsius(celsius)));
  add_other(problem, found, fit);
  return fit;
}

}  // namespace

Derivation derive(const BarTest& test,
                  const std::vector<BarTestRow>& rows,
                  const FitOptions& options) {
  if (rows.empty()) throw std::invalid_argument("derive: at least one row");
  if (!(options.loss_error > 0.0) || !(options.ratio_error > 0.0))
    throw std::invalid_argument("derive: errors of reading must be above 0");
  if (options.shift == TemperatureShift::Kind::none)
    throw std::invalid_argument("derive: shift must be wlf or arrhenius");
  Derivation out;
  std::vector<BarTestRow> with_ratio = rows;
  std::vector<std::size_t> used;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    out.rows.push_back(invert_row(test, rows[i]));
    // A ratio from the bare bar's computed frequency is a reading as well.
    with_ratio[i].freq_ratio = out.rows[i].freq_ratio;
    if (!out.rows[i].has(RowFlag::first_mode)) used.push_back(i);
  }
  if (used.empty()) return out;
  out.fit = fit_rows({test,
                      with_ratio,
                      used,
                      generic(test, options.shift),
                      options.loss_error,
                      options.ratio_error},
                     out.rows);
  return out;
}

}  // namespace calmplate::sheet
