// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vtkSmartPointer.h>

#include <memory>
#include <mutex>

class vtkOutputWindow;

namespace calmplate::mesh_io {

/// While it lives, nothing that VTK has to say reaches the terminal; errors and warnings are
/// counted instead. One at a time: a second one waits. Afterwards VTK speaks as before.
class QuietVtk {
 public:
  QuietVtk();
  ~QuietVtk();
  QuietVtk(const QuietVtk&) = delete;
  QuietVtk& operator=(const QuietVtk&) = delete;

  /// True if VTK reported an error or a warning.
  bool complained() const;

 private:
  std::unique_lock<std::mutex> lock_;
  vtkSmartPointer<vtkOutputWindow> ours_;
  vtkSmartPointer<vtkOutputWindow> before_;
  int verbosity_before_ = 0;
};

}  // namespace calmplate::mesh_io
