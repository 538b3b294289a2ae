// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <array>

namespace calmplate::picture {

/// A colour of the screen and of print: sRGB with its transfer curve applied, each part 0 to 1.
struct Colour {
  double r = 0.0;
  double g = 0.0;
  double b = 0.0;
};

constexpr Colour kBlack{0.0, 0.0, 0.0};
constexpr Colour kWhite{1.0, 1.0, 1.0};
constexpr Colour grey(double share) { return {share, share, share}; }

/// The colour with CIE lightness `lightness` (0 black, 100 white), chroma and hue angle. A chroma
/// that the screen cannot show is lowered until it can; lightness and hue are kept.
/// Source: [memory] CIE 1976 L*a*b* with D65 white and IEC 61966-2-1 (sRGB) primaries and curve.
Colour from_lch(double lightness, double chroma, double hue_deg);

/// CIE lightness of a colour, 0 to 100: what is left of it in a grey print.
double lightness(const Colour& colour);

/// A colour for every number between two ends.
///
/// `sequential`: from dark blue over teal and green to pale yellow. With t from 0 to 1
///   lightness = 24 + 70 t,  hue = 282 - 182 t degrees,
///   chroma = 26 + 34 exp(-((t - 0.76) / 0.2)^2)
/// Lightness, the one thing that grey print and every kind of colour vision share, rises evenly
/// with the value. Chroma stays below what the screen can show at every step, so that nothing is
/// clipped and no false edge appears.
///
/// `diverging`: white in the middle; with s the distance from it, 0 to 1,
///   blue arm    lightness = 98 - 70 s,  hue = 275,  chroma = 70 s (1 - s / 2)
///   orange arm  lightness = 98 - 40 s,  hue = 58,   chroma = 66 s
/// The two ends differ in lightness, so a grey print tells the signs apart.
///
/// Source: derived here; the paths are our own choice.
class ColourScale {
 public:
  static const ColourScale& sequential();
  static const ColourScale& diverging();

  /// @param t  0 to 1; values beyond are taken as the nearer end, NaN as 0
  Colour at(double t) const;

 private:
  static constexpr int kSteps = 256;
  using Path = Colour (*)(double);
  explicit ColourScale(Path path);
  std::array<Colour, kSteps + 1> table_;
};

}  // namespace calmplate::picture
