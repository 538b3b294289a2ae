// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh_io/vtk_quiet.hpp"

#include <vtkLogger.h>
#include <vtkOutputWindow.h>

namespace calmplate::mesh_io {
namespace {

class CountingWindow : public vtkOutputWindow {
 public:
  static CountingWindow* New() {
    auto* window = new CountingWindow;
    window->InitializeObjectBase();
    return window;
  }
  void DisplayText(const char*) override {}
  void DisplayErrorText(const char*) override { ++complaints; }
  void DisplayWarningText(const char*) override { ++complaints; }
  void DisplayGenericWarningText(const char*) override { ++complaints; }
  void DisplayDebugText(const char*) override {}
  int complaints = 0;
};

std::mutex& one_at_a_time() {
  static std::mutex mutex;
  return mutex;
}

}  // namespace

QuietVtk::QuietVtk()
    : lock_(one_at_a_time()),
      ours_(vtkSmartPointer<CountingWindow>::New()),
      before_(vtkOutputWindow::GetInstance()),
      verbosity_before_(vtkLogger::GetCurrentVerbosityCutoff()) {
  vtkOutputWindow::SetInstance(ours_);
  // The log writes errors to the terminal by itself.
  vtkLogger::SetStderrVerbosity(vtkLogger::VERBOSITY_OFF);
}

QuietVtk::~QuietVtk() {
  vtkOutputWindow::SetInstance(before_);
  vtkLogger::SetStderrVerbosity(vtkLogger::ConvertToVerbosity(verbosity_before_));
}

bool QuietVtk::complained() const {
  return static_cast<const CountingWindow*>(ours_.Get())->complaints > 0;
}

}  // namespace calmplate::mesh_io
