// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "job/job.hpp"
#include "mesh_io/mesh_io.hpp"
#include "panel/panel.hpp"
#include "study/results.hpp"

namespace calmplate::report {

/// results.json, schema version 1: docs/results-file.md. The same job gives the same bytes.
std::string results_json(const job::Job& job,
                         const panel::Panel& panel,
                         const panel::PanelReport& mending,
                         const study::Results& results);

/// What `check --json` prints: job and panel as in results.json.
std::string check_json(const job::Job& job,
                       const panel::Panel& panel,
                       const panel::PanelReport& mending);

/// Arrays of panel.vtu, named as docs/results-file.md says.
struct ResultFields {
  std::vector<mesh_io::Field> nodes, triangles;
};
ResultFields result_fields(const job::Job& job,
                           const panel::Panel& panel,
                           const study::Results& results);

/// Name of a layout's working-map array in panel.vtu.
std::string working_field(const job::Job& job, const std::string& layout);

/// How a hold is called in a job file.
std::string hold_word(shell::Hold hold);

}  // namespace calmplate::report
