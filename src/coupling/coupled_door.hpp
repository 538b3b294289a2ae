// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <memory>
#include <optional>
#include <vector>

#include "cavity/air_spring.hpp"
#include "drive/woofer.hpp"
#include "reduced/reduced_model.hpp"
#include "response/radiation.hpp"

namespace calmplate::coupling {

/// A woofer on its amplifier in a wall of the door.
struct WooferPart {
  drive::MovingPart part;
  cavity::ConeInput cone;
  bool on_skin = false;        ///< the frame sits on the skin, so its reaction shakes it
  double frame_mass_kg = 0.0;  ///< on the skin only
};

/// What lies behind the skin and in front of it.
struct DoorAir {
  const cavity::Slab* slab = nullptr;  ///< null: no cavity; else it and the modes must outlive this
  const cavity::CavityModes* modes = nullptr;
  std::vector<cavity::LeakInput> leaks;
  std::optional<WooferPart> woofer;
  bool radiation = false;  ///< sound sent out takes power from skin and cone
};

/// Skin, air and woofer as one reduced model. Coordinates, in this order:
///
///   r shapes of the skin | cone | leaks | air
///
/// Cone and leaks count their displacement into the cavity, m. The cone's suspension, coil and
/// motor pull between the cone and its frame, which stands still or goes with the ring on the skin.
struct CoupledDoor {
  reduced::ReducedModel model;
  Eigen::Index n_skin = 0;
  Eigen::Index cone = -1;  ///< number of the cone's coordinate, -1: no woofer
  cavity::AirSpring air;   ///< of size 0 if there is no cavity
  /// Sound power of the skin's outer face and of the cone's front by rms velocities of the model's
  /// coordinates; null without radiation. [n x n] W s2/m2
  std::shared_ptr<const response::Radiator> radiator;

  Eigen::MatrixXd skin_power(double freq_hz) const;  ///< @throws std::logic_error without radiation
  Eigen::MatrixXd cone_power(double freq_hz) const;  ///< zero without a woofer
  double cone_area_m2 = 0.0;
};

/// Adds the air and the woofer to a skin's reduced model. The unit load becomes 1 N between motor
/// and frame if there is a woofer, else stays the skin's own.
///
/// @param skin    what `model` was made of
/// @param model   of the skin with its layout; of its pieces' forms both may be there
/// @param normal  [n_node x r] normal displacement of its shapes
/// @param ring    [r] mean outward displacement of the woofer's ring for each shape; of size 0
///                unless the woofer sits on the skin
/// @param top_hz  highest frequency of interest
/// @throws std::invalid_argument if sizes differ
/// Source: [derived] docs/theory.md "The woofer in the door".
CoupledDoor couple(const shell::Skin& skin,
                   const reduced::ReducedModel& model,
                   const Eigen::MatrixXd& normal,
                   const Eigen::VectorXd& ring,
                   const DoorAir& air,
                   double top_hz);

}  // namespace calmplate::coupling
