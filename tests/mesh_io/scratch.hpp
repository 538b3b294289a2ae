// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <stdexcept>
#include <string>

/// What the mesh file tests share.
namespace scratch {

/// A folder of its own that is gone after the test.
class Folder {
 public:
  Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "mesh_io_XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) throw std::runtime_error("no scratch folder");
    path_ = name;
  }
  ~Folder() {
    std::error_code fault;
    std::filesystem::remove_all(path_, fault);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  std::filesystem::path operator/(const std::string& name) const { return path_ / name; }
  const std::filesystem::path& path() const { return path_; }

  /// A file of this text in the folder.
  std::filesystem::path file(const std::string& name, const std::string& text) const {
    std::ofstream(path_ / name, std::ios::binary) << text;
    return path_ / name;
  }

 private:
  std::filesystem::path path_;
};

inline std::string bytes_of(const std::filesystem::path& file) {
  std::ifstream stream(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

/// The bytes of a number in memory.
template <typename Number>
std::string raw(Number number) {
  return {reinterpret_cast<const char*>(&number), sizeof(number)};
}

/// A VTU file, ascii. All arguments are lists of numbers with spaces between them.
inline std::string vtu(int points,
                       int cells,
                       const std::string& coordinates,
                       const std::string& connectivity,
                       const std::string& offsets,
                       const std::string& types) {
  const auto array = [](const std::string& type, const std::string& name, const std::string& list) {
    return "<DataArray type=\"" + type + "\" " + name + " format=\"ascii\">" + list +
           "</DataArray>\n";
  };
  return "<?xml version=\"1.0\"?>\n<VTKFile type=\"UnstructuredGrid\" version=\"0.1\" "
         "byte_order=\"LittleEndian\">\n<UnstructuredGrid>\n<Piece NumberOfPoints=\"" +
         std::to_string(points) + "\" NumberOfCells=\"" + std::to_string(cells) +
         "\">\n<Points>\n" +
         array("Float64", "Name=\"Points\" NumberOfComponents=\"3\"", coordinates) +
         "</Points>\n<Cells>\n" + array("Int64", "Name=\"connectivity\"", connectivity) +
         array("Int64", "Name=\"offsets\"", offsets) + array("UInt8", "Name=\"types\"", types) +
         "</Cells>\n</Piece>\n</UnstructuredGrid>\n</VTKFile>\n";
}

/// A VTP file, ascii, with one kind of cells: "Polys", "Lines" or "Strips".
inline std::string vtp(int points,
                       int cells,
                       const std::string& kind,
                       const std::string& coordinates,
                       const std::string& connectivity,
                       const std::string& offsets) {
  return "<?xml version=\"1.0\"?>\n<VTKFile type=\"PolyData\" version=\"0.1\" "
         "byte_order=\"LittleEndian\">\n<PolyData>\n<Piece NumberOfPoints=\"" +
         std::to_string(points) + "\" NumberOf" + kind + "=\"" + std::to_string(cells) +
         "\">\n<Points>\n<DataArray type=\"Float64\" Name=\"Points\" NumberOfComponents=\"3\" "
         "format=\"ascii\">" +
         coordinates + "</DataArray>\n</Points>\n<" + kind +
         ">\n<DataArray type=\"Int64\" Name=\"connectivity\" format=\"ascii\">" + connectivity +
         "</DataArray>\n<DataArray type=\"Int64\" Name=\"offsets\" format=\"ascii\">" + offsets +
         "</DataArray>\n</" + kind + ">\n</Piece>\n</PolyData>\n</VTKFile>\n";
}

}  // namespace scratch
