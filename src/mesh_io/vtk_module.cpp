// SPDX-License-Identifier: GPL-3.0-or-later
#include "mesh_io/vtk_module.hpp"

#include <dlfcn.h>

#include <array>
#include <filesystem>
#include <stdexcept>
#include <system_error>

namespace calmplate::mesh_io {
namespace fs = std::filesystem;
namespace {

constexpr const char* kModule = "calmplate_vtk_io.so";

/// Beside the program, then where an installed program has it, then where it was built.
std::array<fs::path, 3> places() {
  std::error_code fault;
  const fs::path program = fs::read_symlink("/proc/self/exe", fault).parent_path();
  return {program / kModule,
          program.parent_path() / "lib" / "calmplate" / kModule,
          fs::path(CALMPLATE_MODULE_BUILD_FOLDER) / kModule};
}

template <typename Function>
Function function(void* module, const char* name) {
  void* address = ::dlsym(module, name);
  if (address == nullptr)
    throw std::runtime_error(std::string(kModule) + ": has no function " + name);
  return reinterpret_cast<Function>(address);
}

VtkModule load() {
  for (const fs::path& place : places()) {
    std::error_code fault;
    if (!place.is_absolute() || !fs::exists(place, fault)) continue;
    void* module = ::dlopen(place.c_str(), RTLD_NOW | RTLD_LOCAL);
    if (module == nullptr) {
      const char* why = ::dlerror();
      throw std::runtime_error(place.string() + ": cannot be loaded: " + (why ? why : "no reason"));
    }
    const char* version = function<const char* (*)()>(module, "calmplate_vtk_io_version")();
    if (std::string(version) != CALMPLATE_VERSION)
      throw std::runtime_error(place.string() + ": is of version " + version +
                               ", the program of version " + CALMPLATE_VERSION);
    return {function<decltype(VtkModule::read)>(module, "calmplate_vtk_io_read"),
            function<decltype(VtkModule::write)>(module, "calmplate_vtk_io_write")};
  }
  throw std::runtime_error(std::string(kModule) +
                           ": not found beside the program nor in ../lib/calmplate; it reads and "
                           "writes .vtp and .vtu files");
}

}  // namespace

const VtkModule& vtk_module() {
  static const VtkModule module = load();
  return module;
}

}  // namespace calmplate::mesh_io
