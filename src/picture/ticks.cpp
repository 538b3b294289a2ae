// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/ticks.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <stdexcept>

namespace calmplate::picture {

Ticks round_ticks(double low, double high, int most) {
  if (!std::isfinite(low) || !std::isfinite(high) || low > high || most < 1) {
    throw std::invalid_argument("round_ticks: bad range");
  }
  if (high - low < 1e-9 * (std::abs(low) + std::abs(high)) || high == low) {
    const double widen = low == 0.0 ? 1.0 : 0.1 * std::abs(low);
    low -= widen;
    high += widen;
  }
  const double rough = (high - low) / most;
  const double power = std::pow(10.0, std::floor(std::log10(rough)));
  Ticks ticks;
  ticks.step = 10.0 * power;
  for (const double factor : {1.0, 2.0, 5.0}) {
    if (factor * power >= rough * (1.0 - 1e-9)) {
      ticks.step = factor * power;
      break;
    }
  }
  const auto first = std::lround(std::floor(low / ticks.step + 1e-9));
  const auto last = std::lround(std::ceil(high / ticks.step - 1e-9));
  for (long k = first; k <= last; ++k) ticks.at.push_back(double(k) * ticks.step);
  return ticks;
}

std::vector<double> log_ticks(double low, double high) {
  if (!std::isfinite(low) || !std::isfinite(high) || low <= 0.0 || low > high) {
    throw std::invalid_argument("log_ticks: bad range");
  }
  constexpr double kSlack = 1e-9;
  const bool wide = std::log10(high / low) > 2.5;
  std::vector<double> all;
  const int first = int(std::floor(std::log10(low) + kSlack));
  const int last = int(std::ceil(std::log10(high) - kSlack)) + 1;
  for (int n = first; n <= last; ++n) {
    for (const double factor : {1.0, 2.0, 5.0}) {
      if (wide && factor != 1.0) continue;
      all.push_back(factor * std::pow(10.0, n));
    }
  }
  auto from = std::upper_bound(all.begin(), all.end(), low * (1.0 + kSlack)) - 1;
  auto to = std::lower_bound(all.begin(), all.end(), high * (1.0 - kSlack));
  if (from == to) ++to;
  return {from, to + 1};
}

std::vector<double> spread(const std::vector<double>& wanted, double gap, double low, double high) {
  // With k gaps taken off, "at least a gap apart" is "not falling": neighbours that fall share
  // their mean (pooling of adjacent violators).
  struct Pool {
    double sum = 0.0;
    std::size_t count = 0;
    double mean() const { return sum / double(count); }
  };
  std::vector<Pool> pools;
  for (std::size_t k = 0; k < wanted.size(); ++k) {
    pools.push_back({wanted[k] - double(k) * gap, 1});
    while (pools.size() > 1 && pools.back().mean() < pools[pools.size() - 2].mean()) {
      const Pool last = pools.back();
      pools.pop_back();
      pools.back().sum += last.sum;
      pools.back().count += last.count;
    }
  }
  std::vector<double> out;
  const double room = std::max(low, high - double(wanted.size() - 1) * gap);
  for (const Pool& pool : pools) {
    for (std::size_t k = 0; k < pool.count; ++k) {
      out.push_back(std::clamp(pool.mean(), low, room) + double(out.size()) * gap);
    }
  }
  return out;
}

std::string number(double value, int decimals) {
  if (!std::isfinite(value)) return "-";
  char text[64];
  std::snprintf(text, sizeof text, "%.*f", decimals, value);
  std::string out = text;
  if (out[0] == '-' && out.find_first_not_of("-0.") == std::string::npos) out.erase(0, 1);
  return out;
}

std::string tick_label(double value, double step) {
  const int decimals = step >= 1.0 ? 0 : int(std::ceil(-std::log10(step) - 1e-9));
  return number(value, decimals);
}

std::string three_digits(double value) {
  if (value == 0.0 || !std::isfinite(value)) return number(value, 0);
  char text[64];
  const double size = std::abs(value);
  if (size < 0.001 || size >= 1e5) {
    std::snprintf(text, sizeof text, "%.2e", value);
    return text;
  }
  const int decimals = 2 - int(std::floor(std::log10(size)));
  return number(value, decimals > 0 ? decimals : 0);
}

std::string plain_number(double value) {
  char text[64];
  std::snprintf(text, sizeof text, "%.4g", value);
  return text;
}

std::string third_octave_name(double centre_hz) {
  static const double kMantissa[10] = {1.0, 1.25, 1.6, 2.0, 2.5, 3.15, 4.0, 5.0, 6.3, 8.0};
  const auto n = std::lround(10.0 * std::log10(centre_hz));
  const auto place = ((n % 10) + 10) % 10;
  const double nominal = kMantissa[place] * std::pow(10.0, double((n - place) / 10));
  char text[32];
  std::snprintf(text, sizeof text, nominal < 99.0 ? "%.4g" : "%.0f", nominal);
  return text;
}

std::vector<double> third_octave_centres(double low_hz, double high_hz) {
  std::vector<double> centres;
  const auto first = long(std::ceil(10.0 * std::log10(low_hz) - 1e-9));
  const auto last = long(std::floor(10.0 * std::log10(high_hz) + 1e-9));
  for (long n = first; n <= last; ++n) centres.push_back(std::pow(10.0, double(n) / 10.0));
  return centres;
}

}  // namespace calmplate::picture
