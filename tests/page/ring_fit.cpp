// SPDX-License-Identifier: GPL-3.0-or-later
#include "page/ring_fit.hpp"

#include <sndfile.h>

#include <Eigen/Dense>
#include <cmath>
#include <complex>
#include <cstdio>
#include <filesystem>
#include <fstream>

#include "base/units.hpp"

namespace calmplate::testing {

Sound read_sound(const std::string& bytes) {
  // By way of a file: reading from memory is what the code under test uses for writing.
  const std::filesystem::path file =
      std::filesystem::temp_directory_path() /
      ("calmplate-sound-" + std::to_string(std::hash<std::string>()(bytes)) + ".wav");
  std::ofstream(file, std::ios::binary) << bytes;
  SF_INFO info{};
  Sound out;
  if (SNDFILE* sound = sf_open(file.c_str(), SFM_READ, &info)) {
    out.rate_hz = info.samplerate;
    out.channels = info.channels;
    out.sixteen_bit = (info.format & SF_FORMAT_SUBMASK) == SF_FORMAT_PCM_16;
    out.samples.resize(static_cast<std::size_t>(info.frames * info.channels));
    const sf_count_t read =
        sf_read_double(sound, out.samples.data(), static_cast<sf_count_t>(out.samples.size()));
    if (read != static_cast<sf_count_t>(out.samples.size())) out.samples.clear();
    sf_close(sound);
  }
  std::filesystem::remove(file);
  return out;
}

std::vector<Ring> rings_of(const Sound& sound, double from_s, double to_s, double top_hz) {
  const int step = std::max(1, static_cast<int>(sound.rate_hz / (3.0 * top_hz)));
  const double dt = static_cast<double>(step) / sound.rate_hz;
  std::vector<double> y;
  for (auto i = static_cast<std::size_t>(from_s * sound.rate_hz);
       i < std::min(sound.samples.size(), static_cast<std::size_t>(to_s * sound.rate_hz));
       i += static_cast<std::size_t>(step))
    y.push_back(sound.samples[i]);
  const auto n = static_cast<Eigen::Index>(y.size()), columns = n / 3;
  if (columns < 4) return {};
  Eigen::MatrixXd hankel(n - columns, columns + 1);
  for (Eigen::Index r = 0; r < hankel.rows(); ++r)
    for (Eigen::Index c = 0; c <= columns; ++c) hankel(r, c) = y[static_cast<std::size_t>(r + c)];
  const Eigen::BDCSVD<Eigen::MatrixXd> svd(hankel, Eigen::ComputeThinV);
  constexpr double kNoise = 2.0 / (32768.0 * 3.46);  // of 16 bits, twice its rms
  const double floor = kNoise * std::sqrt(static_cast<double>(n));
  Eigen::Index order = 0;
  while (order < svd.singularValues().size() && svd.singularValues()(order) > floor) ++order;
  const Eigen::MatrixXd v = svd.matrixV().leftCols(order);
  const Eigen::MatrixXd shift =
      v.topRows(columns).completeOrthogonalDecomposition().solve(v.bottomRows(columns));
  std::vector<Ring> out;
  for (const std::complex<double> z : shift.eigenvalues()) {
    const std::complex<double> pole = std::log(z) / dt;
    if (pole.imag() > 0.0) out.push_back({pole.imag() / base::kTwoPi, -pole.real()});
  }
  return out;
}

Ring nearest_ring(const std::vector<Ring>& rings, double freq_hz) {
  Ring best;
  for (const Ring& ring : rings)
    if (std::abs(ring.freq_hz - freq_hz) < std::abs(best.freq_hz - freq_hz)) best = ring;
  return best;
}

std::string from_base64(const std::string& text) {
  std::string out;
  unsigned word = 0;
  int bits = 0;
  for (const char c : text) {
    const unsigned value = c >= 'A' && c <= 'Z'   ? unsigned(c - 'A')
                           : c >= 'a' && c <= 'z' ? unsigned(c - 'a') + 26U
                           : c >= '0' && c <= '9' ? unsigned(c - '0') + 52U
                           : c == '+'             ? 62U
                           : c == '/'             ? 63U
                                                  : 64U;
    if (value > 63U) continue;
    word = (word << 6U) | value;
    bits += 6;
    if (bits < 8) continue;
    bits -= 8;
    out += static_cast<char>((word >> unsigned(bits)) & 0xFFU);
  }
  return out;
}

}  // namespace calmplate::testing
