// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <optional>
#include <vector>

#include "coupling/coupled_door.hpp"
#include "job/job.hpp"
#include "reduced/full_reduction.hpp"

namespace calmplate::study {

/// What the job says of the air behind the skin and of the woofer in it, made ready to be coupled.
struct Door {
  std::optional<cavity::Slab> slab;
  cavity::CavityModes modes;
  std::vector<cavity::LeakInput> leaks;
  std::optional<coupling::WooferPart> woofer;  ///< only if it is what drives the skin
  Eigen::VectorXd ring;  ///< [n_skin_dof] mean outward displacement of its ring; empty: none

  bool coupled() const { return slab.has_value() || woofer.has_value(); }
  /// Refers to this object.
  coupling::DoorAir air() const;
};

/// @param skin  must outlive the result
/// @throws base::InputError if the woofer's ring lies off the skin
/// @throws base::Cancelled
Door door_of(const job::Job& job, const shell::Skin& skin, const base::Progress& progress);

/// Forces that air and woofer put on the skin, to which a reduction has to be open: each cavity
/// mode's pressure, then the ring. [n x n_skin_dof]
Eigen::MatrixXd door_ports(const Door& door, const shell::Skin& skin);

/// The skin's reduced model with door and woofer, or as it is if there are none. The mass of free
/// air on the inner face is taken off: the cavity's own air is there.
/// @param model  made of reduction's basis
coupling::CoupledDoor couple_door(const job::Job& job,
                                  const shell::Skin& skin,
                                  const Door& door,
                                  const reduced::FullReduction& reduction,
                                  const reduced::ReducedModel& model);

}  // namespace calmplate::study
