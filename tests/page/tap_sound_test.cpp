// SPDX-License-Identifier: GPL-3.0-or-later
#include "page/tap_sound.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "base/units.hpp"
#include "page/ring_fit.hpp"
#include "page/wav.hpp"

namespace calmplate {
namespace {

const std::vector<page::Tone> kBare = {{61.7, 3.1, 0.40, 0.4},
                                       {88.2, 4.4, 0.22, -1.9},
                                       {131.9, 6.0, 0.31, 2.8},
                                       {204.3, 5.2, 0.05, -0.7}};
const std::vector<page::Tone> kTreated = {{57.3, 21.0, 0.25, 0.2}, {126.0, 34.0, 0.12, 2.1}};

/// The sounds as files, read back.
std::vector<testing::Sound> read_back() {
  std::vector<std::vector<double>> pressures = {page::tap_pressure(kBare),
                                                page::tap_pressure(kTreated)};
  const double gain = page::common_gain(pressures);
  std::vector<testing::Sound> out;
  for (auto& pressure : pressures) {
    for (double& p : pressure) p *= gain;
    out.push_back(testing::read_sound(page::wav_bytes(pressure, page::kSampleRate_hz)));
  }
  return out;
}

}  // namespace

// Source: [practice] common practice, no source: what any player reads.
TEST_CASE("a sound is a WAV file of one channel and 16 bits", "[page][practice]") {
  const testing::Sound sound = read_back().front();
  CHECK(sound.rate_hz == page::kSampleRate_hz);
  CHECK(sound.channels == 1);
  CHECK(sound.sixteen_bit);
  CHECK(sound.samples.size() ==
        static_cast<std::size_t>(page::kSoundLength_s * page::kSampleRate_hz));
}

// Source: [derived] tones of known pitch and decay are put in and found again in the file. Ring
// time is ln(1000) / decay, so 10 % of it is 10 % of the decay. The limits are those of the task, 1
// % and 10 %; what is reached is far better.
TEST_CASE("the tones of a tap are in the sound with their pitch and ring time", "[page][derived]") {
  const auto sounds = read_back();
  for (std::size_t k = 0; k < 2; ++k) {
    const auto& tones = k == 0 ? kBare : kTreated;
    const auto rings = testing::rings_of(sounds[k], 0.01, k == 0 ? 1.2 : 0.35, 320.0);
    for (const page::Tone& tone : tones) {
      CAPTURE(k, tone.freq_hz);
      const testing::Ring ring = testing::nearest_ring(rings, tone.freq_hz);
      CHECK(ring.freq_hz == Approx(tone.freq_hz).epsilon(0.01));
      CHECK(ring.decay_per_s == Approx(tone.decay_per_s).epsilon(0.10));
    }
  }
}

// Source: [derived] one gain for all: the ratio of two sounds is that of the pressures.
TEST_CASE("sounds keep their true relative level", "[page][derived]") {
  const auto sounds = read_back();
  const auto bare = page::tap_pressure(kBare), treated = page::tap_pressure(kTreated);
  const auto rms = [](const std::vector<double>& v) {
    double sum = 0.0;
    for (const double x : v) sum += x * x;
    return std::sqrt(sum / static_cast<double>(v.size()));
  };
  CHECK(rms(sounds[1].samples) / rms(sounds[0].samples) ==
        Approx(rms(treated) / rms(bare)).epsilon(1e-3));
  double largest = 0.0;
  for (const auto& sound : sounds)
    for (const double x : sound.samples) largest = std::max(largest, std::abs(x));
  CHECK(largest == Approx(page::kLoudest).margin(1e-4));
}

TEST_CASE("a tap without tones is silent and has no gain", "[page]") {
  CHECK(page::common_gain({page::tap_pressure({})}) == 0.0);
  CHECK(page::common_gain({}) == 0.0);
}

// Source: [derived] tones above half the sample rate would come back at another pitch.
TEST_CASE("a tone too high for the sample rate is left out", "[page][derived]") {
  const auto p = page::tap_pressure({{6000.0, 5.0, 1.0, 0.0}});
  for (const double x : p) REQUIRE(x == 0.0);
}

}  // namespace calmplate
