// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <vtkLogger.h>
#include <vtkNew.h>
#include <vtkStringOutputWindow.h>

namespace calmplate::picture {

/// From its construction on, what VTK has to say is collected here and nothing of it reaches
/// standard error: its words span several lines, and faults come out as exceptions of ours.
class VtkMessages {
 public:
  VtkMessages() {
    vtkLogger::SetStderrVerbosity(vtkLogger::VERBOSITY_OFF);
    vtkOutputWindow::SetInstance(window_);
  }
  bool any() { return !window_->GetOutput().empty(); }

 private:
  vtkNew<vtkStringOutputWindow> window_;
};

}  // namespace calmplate::picture
