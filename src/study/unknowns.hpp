// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <functional>
#include <string>
#include <vector>

#include "study/layout_study.hpp"

namespace calmplate::study {

/// The skin at any mean edge length, for studies that mesh it anew.
using PanelMaker = std::function<panel::Panel(double element_m)>;

/// Points of [0, 1)^d that fill it evenly, the same every time: fractions of multiples of the
/// powers of 1/g, g the positive root of g^(d+1) = g + 1.
/// @return [n x d]
/// @throws std::invalid_argument if n or d is below 1
/// Source: [memory] additive recurrence of the generalised golden ratio; tests hold its evenness.
Eigen::MatrixXd even_points(int n, int d);

/// One draw of what is not known: where in its range each unknown lies.
struct Draw {
  double edge_factor = 1.0, pad_factor = 1.0, crown_factor = 1.0, modulus_factor = 1.0;
  double thickness_m = 0.0;
  double temperature_k = 0.0;
};

/// @param at  [d] in [0, 1), one for each unknown that is given, in the order of the struct.
/// Factors
///            run evenly in their logarithm, but for the crown's.
Draw draw_at(const job::Job& job, const Eigen::VectorXd& at);

/// The job as it would be if the draw were true.
job::Job drawn_job(const job::Job& job, const Draw& draw);

/// The skin with its height over the plane through it times a factor. Nodes and triangles keep
/// their numbers and their places on the flat map, so that what the job places stays where it was.
panel::Panel with_crown(const job::Job& job, const panel::Panel& panel, double factor);

/// Every layout at every draw of [unknowns], each solved in full on a skin with elements 1.5 times
/// as large. Differences there are added to the record's own figures.
/// @throws base::InputError, base::Cancelled
UnknownsResult study_unknowns(const job::Job& job,
                              const Results& record,
                              const PanelMaker& make_panel,
                              double element_m,
                              unsigned threads,
                              const base::Progress& progress);

/// The same job at three element sizes, 1.5, 1.22 and 1 times that of the record, and where the
/// figures go as the size goes to 0: a + b h^2 through the three.
ConvergenceResult study_convergence(const job::Job& job,
                                    const PanelMaker& make_panel,
                                    double element_m,
                                    unsigned threads,
                                    const base::Progress& progress);

}  // namespace calmplate::study
