// SPDX-License-Identifier: GPL-3.0-or-later
#include "drive/woofer.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "base/units.hpp"
#include "drive/woofer_response.hpp"
#include "published/reference_file.hpp"
#include "published/table.hpp"

// The closed forms below are those of Thiele (1961, 1971), Small (1972) and Beranek (1954), named
// from memory; each is worked out here or in docs/theory.md "The woofer", and nothing is quoted.
using namespace calmplate;
using namespace calmplate::published;

namespace {

constexpr double kRounding = 1e-9;

drive::Woofer example(const ReferenceFile& data, const std::string& name) {
  const std::vector<double>& given = data[name + "_given"];
  drive::WooferInput input;
  input.fs_hz = given[0];
  input.qms = given[1];
  input.qes = given[2];
  input.re_ohm = given[3];
  input.mms_kg = given[4];
  input.sd_m2 = given[5];
  return drive::make_woofer(input);
}

drive::WooferResponse play(const drive::Woofer& woofer,
                           const std::vector<double>& freq_hz,
                           const std::optional<drive::Box>& box = std::nullopt,
                           double voltage_v = 2.0) {
  const Eigen::VectorXd f =
      Eigen::Map<const Eigen::VectorXd>(freq_hz.data(), static_cast<Eigen::Index>(freq_hz.size()));
  return drive::woofer_response(woofer, voltage_v, {}, box, f);
}

drive::Box tight(double volume_m3) {
  drive::Box box;
  box.volume_m3 = volume_m3;
  return box;
}

double acceleration(const drive::WooferResponse& r, Eigen::Index i) {
  return base::kTwoPi * r.freq_hz[i] * std::abs(r.velocity_m_s[i]);
}

/// |s^2/(s^2 + s/Q + 1)| at s = i ratio: a high-pass of the second order.
double second_order(double ratio, double q) {
  const double r2 = ratio * ratio;
  return r2 / std::hypot(1.0 - r2, ratio / q);
}

std::string hz(double freq_hz) { return std::to_string(static_cast<int>(freq_hz + 0.5)) + " Hz"; }

}  // namespace

// Source: derived, apart from this program, see the data file.
TEST_CASE("two invented woofers move as worked out apart from the program",
          "[published][derived]") {
  const ReferenceFile data("woofer/example_sets.txt");
  const std::vector<double>& f = data["frequencies"];
  for (const std::string name : {"165", "180"}) {
    const drive::Woofer w = example(data, name);
    Table table("Invented woofer of " + name + " mm on 2 V");
    const std::vector<double>& follows = data[name + "_follows"];
    table.row("Qts", w.qts, follows[0], data.rule());
    table.row("Cms, m/N", w.cms_m_n, follows[1], data.rule());
    table.row("Vas, m3", w.vas_m3, follows[2], data.rule());
    table.row("Bl, T m", w.bl_tm, follows[3], data.rule());
    table.row("Rms, N s/m", w.rms_ns_m, follows[4], data.rule());
    const double air = base::kAirDensity * base::kAirSound;
    table.row("level for 1 W at 1 m, dB",
              base::to_db(drive::reference_efficiency(w) * air / (base::kTwoPi * 4e-10)),
              data[name + "_one_watt"][0],
              data.rule());
    const drive::WooferResponse baffle = play(w, f), box = play(w, f, tight(0.06));
    for (std::size_t k = 0; k < f.size(); ++k) {
      const auto i = static_cast<Eigen::Index>(k);
      table.row("acceleration in a baffle, m/s2, " + hz(f[k]),
                acceleration(baffle, i),
                data[name + "_baffle"][k],
                data.rule());
      table.row("travel in a baffle, m, " + hz(f[k]),
                std::abs(baffle.displacement_m[i]),
                data[name + "_travel"][k],
                data.rule());
      table.row("acceleration in 60 l, m/s2, " + hz(f[k]),
                acceleration(box, i),
                data[name + "_box"][k],
                data.rule());
      table.row("reaction over acceleration, kg, " + hz(f[k]),
                std::abs(box.frame_force_n[i]) / data[name + "_box"][k],
                data[name + "_given"][4],
                data.rule());
    }
    const drive::WooferResponse fast = play(w, {1000.0 * w.fs_hz});
    table.row(
        "acceleration far above fs, m/s2", acceleration(fast, 0), data[name + "_limit"][0], 1e-5);
  }
}

// Source: derived. s^2/(s^2 + s wc/Qtc + wc^2) with fc = fs sqrt(1 + Vas/V), Qtc = Qts fc/fs, times
// Bl e/(Re Mms). Pass rule: rounding; the model is the same.
TEST_CASE("a woofer in a baffle or a box is a high-pass of the second order",
          "[published][derived]") {
  const ReferenceFile data("woofer/example_sets.txt");
  const drive::Woofer w = example(data, "165");
  const double limit = w.bl_tm * 2.0 / (w.re_ohm * w.mms_kg);
  const std::vector<double> f = {15.0, 30.0, 50.0, 65.0, 80.0, 125.0, 250.0, 500.0};
  const double stiffness = base::kAirDensity * base::kAirSound * base::kAirSound;
  Table table("Second-order closed form, acceleration over its limit");
  for (const double volume_m3 : {0.0, 0.1, 0.03, 0.01}) {
    const bool baffle = volume_m3 == 0.0;
    const double vas = stiffness * w.sd_m2 * w.sd_m2 * w.cms_m_n;
    const double rise = baffle ? 1.0 : std::sqrt(1.0 + vas / volume_m3);
    const drive::WooferResponse r =
        play(w, f, baffle ? std::nullopt : std::optional<drive::Box>(tight(volume_m3)));
    for (Eigen::Index i = 0; i < r.freq_hz.size(); ++i)
      table.row(
          (baffle ? std::string("baffle, ") : std::to_string(int(1e3 * volume_m3 + 0.5)) + " l, ") +
              hz(r.freq_hz[i]),
          acceleration(r, i) / limit,
          second_order(r.freq_hz[i] / (w.fs_hz * rise), w.qts * rise),
          kRounding);
  }
}

// Source: derived. Zeros of the derivative of r^4/((1 - r^2)^2 + r^2/Q^2): the peak is
// Q^2/sqrt(Q^2 - 1/4) at r = 1/sqrt(1 - 1/(2 Q^2)), in amplitude. It is 1/2 where
// r^4 + (2 - 1/Q^2) r^2 - 1 = 0.
TEST_CASE("resonance, Q, peak and corner in a box follow from Vas over volume",
          "[published][derived]") {
  const ReferenceFile data("woofer/example_sets.txt");
  const drive::Woofer w = example(data, "165");
  Table table("Tight box: fc, Qtc, peak and corner");
  // Vas over V of 3 and 8: fs times 2 and 3, Q likewise.
  for (const double over : {3.0, 8.0}) {
    const double times = std::sqrt(1.0 + over), volume_m3 = w.vas_m3 / over;
    const drive::BoxResonance c = drive::box_resonance(w, volume_m3);
    const std::string name = "Vas/V " + std::to_string(int(over)) + ": ";
    const double q = times * data["165_follows"][0];
    table.row(name + "fc, Hz", c.fc_hz, times * 65.0, 1e-6);
    table.row(name + "Qtc", c.qtc, q, 1e-6);
    const double limit = w.bl_tm * 2.0 / (w.re_ohm * w.mms_kg);
    const double peak_hz = times * 65.0 / std::sqrt(1.0 - 0.5 / (q * q));
    const double b = 1.0 / (q * q) - 2.0;
    const double corner_hz = times * 65.0 * std::sqrt(0.5 * (b + std::sqrt(b * b + 4.0)));
    const drive::WooferResponse r = play(
        w, {peak_hz, times * 65.0, corner_hz, 1.002 * peak_hz, 0.998 * peak_hz}, tight(volume_m3));
    table.row(name + "peak", acceleration(r, 0) / limit, q * q / std::sqrt(q * q - 0.25), 1e-6);
    table.row(name + "at fc", acceleration(r, 1) / limit, q, 1e-6);
    table.row(name + "corner", acceleration(r, 2) / limit, std::sqrt(0.5), 1e-6);
    CHECK(acceleration(r, 3) < acceleration(r, 0));
    CHECK(acceleration(r, 4) < acceleration(r, 0));
  }
}

// Source: derived. At resonance the motion is real: Z = Re + Bl^2/Rms = Re (1 + Qms/Qes), and all
// but the part Re/Z of the voltage is the coil's own; far below and above, the coil stands still.
TEST_CASE("impedance at resonance is Re (1 + Qms/Qes)", "[published][derived]") {
  const ReferenceFile data("woofer/example_sets.txt");
  Table table("Impedance, ohm");
  for (const std::string name : {"165", "180"}) {
    const std::vector<double>& given = data[name + "_given"];
    const drive::Woofer w = example(data, name);
    const double peak = given[3] * (1.0 + given[1] / given[2]);
    const drive::WooferResponse r = play(w, {given[0], 0.01, 1e5});
    table.row(name + " mm at fs", std::abs(r.impedance_ohm[0]), peak, 1e-6);
    CHECK(std::abs(r.impedance_ohm[0].imag()) < 1e-9);
    table.row(name + " mm far below", std::abs(r.impedance_ohm[1]), given[3], 1e-5);
    table.row(name + " mm far above", std::abs(r.impedance_ohm[2]), given[3], 1e-4);
    // In a tight box the stiffness alone changes, so the height stays and moves to fc.
    const drive::WooferResponse box = play(w, {given[0] * std::sqrt(2.0)}, tight(w.vas_m3));
    table.row(name + " mm at fc", std::abs(box.impedance_ohm[0]), peak, 1e-6);
    table.row(name + " mm power in at fs, W", r.power_in_w[0], 4.0 / peak, 1e-6);
  }
}

// Source: derived. Far above resonance W/(e^2/Re) = rho Bl^2 Sd^2/(2 pi c Re Mms^2), which is also
// 4 pi^2/c^3 fs^3 Vas/Qes once Bl, Mms and Sd are put in terms of fs, Vas and Qes.
TEST_CASE("efficiency is 4 pi^2 fs^3 Vas / (c^3 Qes)", "[published][derived]") {
  const ReferenceFile data("woofer/example_sets.txt");
  Table table("Half-space efficiency and level of 1 W");
  for (const std::string name : {"165", "180"}) {
    const std::vector<double>& given = data[name + "_given"];
    const drive::Woofer w = example(data, name);
    const double fs = given[0], c = base::kAirSound;
    const double eta = 4.0 * base::kPi * base::kPi * fs * fs * fs * data[name + "_follows"][2] /
                       (c * c * c * given[2]);
    table.row(name + " mm formula", drive::reference_efficiency(w), eta, 1e-6);
    const drive::WooferResponse r = play(w, {1000.0 * fs}, std::nullopt, std::sqrt(given[3]));
    table.row(name + " mm radiated of 1 W", r.radiated_w[0], eta, 1e-5);
    table.row(
        name + " mm level of 1 W, dB", r.level_db[0], data[name + "_one_watt"][0], data.rule());
  }
}

// Source: derived. At f_H = (c/2 pi) sqrt(A/(V l)) the box takes no air, so the cone stands still
// and the pressure holds the coil's push; below, pressure is 1/((f_H/f)^2 - 1) of a tight box's for
// the same motion, above 1/(1 - (f_H/f)^2).
TEST_CASE("a leak short-circuits the box below its Helmholtz resonance", "[published][derived]") {
  const ReferenceFile data("woofer/example_sets.txt");
  const drive::Woofer w = example(data, "165");
  drive::Box box = tight(0.06);
  box.leak_area_m2 = 0.012;
  box.leak_length_m = 0.05;
  const double stiffness = base::kAirDensity * base::kAirSound * base::kAirSound;
  const double fh = base::kAirSound / base::kTwoPi * std::sqrt(0.012 / (0.06 * 0.05));
  const std::vector<double> f = {0.1 * fh, 0.5 * fh, 0.9 * fh, 1.1 * fh, 2.0 * fh, 5.0 * fh, fh};
  const drive::WooferResponse r = play(w, f, box);
  Table table("Leak of 120 cm2 x 50 mm on 60 l, f_H " + std::to_string(fh) + " Hz");
  for (Eigen::Index i = 0; i < 6; ++i) {
    const double ratio = f[static_cast<std::size_t>(i)] / fh;
    table.row(
        "pressure over that of a tight box, " + hz(r.freq_hz[i]),
        std::abs(r.pressure_pa[i]) / (stiffness * w.sd_m2 * std::abs(r.displacement_m[i]) / 0.06),
        1.0 / std::abs(1.0 - 1.0 / (ratio * ratio)),
        1e-6);
  }
  table.row("push on the still cone at f_H, N",
            std::abs(r.pressure_pa[6]) * w.sd_m2,
            w.bl_tm * 2.0 / w.re_ohm,
            1e-6);
  CHECK(std::abs(r.velocity_m_s[6]) < 1e-9 * std::abs(r.velocity_m_s[0]));
}

// Source: derived. K_box (1 + i eta) brakes as a resistance eta K_box/w, so at fc
// 1/Q = 1/Qtc + eta K_box/(K_box + K_suspension).
TEST_CASE("a lining lowers the box's Q by its share of the stiffness", "[published][derived]") {
  const ReferenceFile data("woofer/example_sets.txt");
  const drive::Woofer w = example(data, "165");
  drive::Box box = tight(w.vas_m3 / 8.0);
  const drive::BoxResonance c = drive::box_resonance(w, box.volume_m3);
  const double limit = w.bl_tm * 2.0 / (w.re_ohm * w.mms_kg);
  Table table("Q at fc with a lining, Vas/V 8");
  for (const double eta : {0.02, 0.1, 0.3}) {
    box.loss_factor = eta;
    const drive::WooferResponse r = play(w, {c.fc_hz}, box);
    table.row("loss factor " + std::to_string(eta).substr(0, 4),
              acceleration(r, 0) / limit,
              1.0 / (1.0 / c.qtc + eta * 8.0 / 9.0),
              1e-6);
    const double heat = r.power_in_w[0] - r.coil_loss_w[0] - r.suspension_loss_w[0];
    table.row("  heat in it, W", r.box_loss_w[0], heat, 1e-9);
  }
}
