// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

#include "mesh_io/polygon_soup.hpp"
#include "panel/mesh.hpp"

/// What passes between the program and the module with VTK in it, calmplate_vtk_io.so. Both are of
/// one build: the module states the program's version and is refused if it is another one's.
namespace calmplate::mesh_io {

struct Field;

/// What the module found in a file.
enum class VtkOutcome {
  kRead,          ///< the soup is filled
  kDamaged,       ///< not a whole file of the format
  kVolumeCells,   ///< it holds cells with a volume
  kUnknownCells,  ///< it holds cells other than straight-sided ones
  kNoProcess,     ///< the system let no process start to read it
};

struct VtkReading {
  VtkOutcome outcome = VtkOutcome::kDamaged;
  std::size_t cells = 0;  ///< number of cells that made it refuse
  PolygonSoup soup;
};

/// What the module is to write.
struct VtkWriting {
  const panel::Mesh* mesh = nullptr;
  const std::vector<Field>* node_fields = nullptr;      ///< rows as the mesh has nodes
  const std::vector<Field>* triangle_fields = nullptr;  ///< rows as the mesh has triangles
  bool unstructured = true;                             ///< VTU, otherwise VTP
  std::string text;                                     ///< out: the file's bytes
};

/// The module's functions. None of them throws.
struct VtkModule {
  void (*read)(const char* file, bool unstructured, VtkReading* reading) = nullptr;
  bool (*write)(VtkWriting* writing) = nullptr;
};

/// The module, loaded at the first call and kept.
/// @throws std::runtime_error if it is not found or is another version's: the installation is
///         damaged
const VtkModule& vtk_module();

}  // namespace calmplate::mesh_io
