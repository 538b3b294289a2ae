// SPDX-License-Identifier: GPL-3.0-or-later
#include "picture/png_file.hpp"

#include <vtkImageData.h>
#include <vtkNew.h>
#include <vtkPNGWriter.h>
#include <vtkUnsignedCharArray.h>

#include <cmath>
#include <cstdint>
#include <stdexcept>
#include <string>

#include "base/safe_output.hpp"
#include "picture/canvas.hpp"

namespace calmplate::picture {
namespace {

void append_number(std::string& bytes, std::uint32_t number) {
  for (int shift = 24; shift >= 0; shift -= 8) bytes.push_back(char((number >> shift) & 0xFFU));
}

/// Check sum of a PNG chunk: CRC-32, reflected, polynomial 0xEDB88320, start and end inverted.
/// Source: [memory] PNG specification, annex on the cyclic redundancy code.
std::uint32_t check_sum(const std::string& bytes) {
  std::uint32_t sum = 0xFFFFFFFFU;
  for (const char byte : bytes) {
    sum ^= static_cast<unsigned char>(byte);
    for (int bit = 0; bit < 8; ++bit) sum = (sum & 1U) != 0U ? (sum >> 1) ^ 0xEDB88320U : sum >> 1;
  }
  return ~sum;
}

/// The chunk that says how many pixels a metre of paper holds, so that the page prints as A4.
std::string resolution_chunk() {
  const auto per_metre = static_cast<std::uint32_t>(std::lround(kPxPerMm * 1000.0));
  std::string body = "pHYs";
  append_number(body, per_metre);
  append_number(body, per_metre);
  body.push_back(1);  // unit: metre
  std::string chunk;
  append_number(chunk, 9);
  chunk += body;
  append_number(chunk, check_sum(body));
  return chunk;
}

}  // namespace

void write_png(const std::filesystem::path& path, const RgbaImage& image) {
  vtkNew<vtkImageData> pixels;
  pixels->SetDimensions(image.width, image.height, 1);
  pixels->AllocateScalars(VTK_UNSIGNED_CHAR, 3);
  auto* to = static_cast<unsigned char*>(pixels->GetScalarPointer());
  const std::size_t count = std::size_t(image.width) * std::size_t(image.height);
  for (std::size_t k = 0; k < count; ++k) {
    for (std::size_t c = 0; c < 3; ++c) to[3 * k + c] = image.bytes[4 * k + c];
  }
  vtkNew<vtkPNGWriter> writer;
  writer->SetInputData(pixels);
  writer->WriteToMemoryOn();
  writer->Write();
  vtkUnsignedCharArray* packed = writer->GetResult();
  // 8 bytes of signature, then the header chunk of 25 bytes: the new chunk follows it.
  constexpr std::size_t kAfterHeader = 33;
  if (packed == nullptr || packed->GetNumberOfValues() < vtkIdType(kAfterHeader)) {
    throw std::runtime_error(path.string() + ": the picture cannot be packed");
  }
  const std::string bytes(reinterpret_cast<const char*>(packed->GetPointer(0)),
                          std::size_t(packed->GetNumberOfValues()));
  base::write_file_whole(
      path, bytes.substr(0, kAfterHeader) + resolution_chunk() + bytes.substr(kAfterHeader));
}

}  // namespace calmplate::picture
