// SPDX-License-Identifier: GPL-3.0-or-later
#include "page/wav.hpp"

#include <sndfile.h>

#include <algorithm>
#include <cstdio>
#include <cstring>
#include <stdexcept>

namespace calmplate::page {
namespace {

/// A file in memory, as the sound library wants it.
struct Memory {
  std::string bytes;
  std::size_t at = 0;
};

sf_count_t length_of(void* data) {
  return static_cast<sf_count_t>(static_cast<Memory*>(data)->bytes.size());
}

sf_count_t seek_in(sf_count_t offset, int whence, void* data) {
  auto* memory = static_cast<Memory*>(data);
  sf_count_t from = 0;
  if (whence == SEEK_CUR) from = static_cast<sf_count_t>(memory->at);
  if (whence == SEEK_END) from = static_cast<sf_count_t>(memory->bytes.size());
  memory->at = static_cast<std::size_t>(std::max<sf_count_t>(0, from + offset));
  return static_cast<sf_count_t>(memory->at);
}

sf_count_t read_from(void* to, sf_count_t count, void* data) {
  auto* memory = static_cast<Memory*>(data);
  if (memory->at >= memory->bytes.size()) return 0;
  const std::size_t n =
      std::min(static_cast<std::size_t>(count), memory->bytes.size() - memory->at);
  std::memcpy(to, memory->bytes.data() + memory->at, n);
  memory->at += n;
  return static_cast<sf_count_t>(n);
}

sf_count_t write_to(const void* from, sf_count_t count, void* data) {
  auto* memory = static_cast<Memory*>(data);
  const auto n = static_cast<std::size_t>(count);
  if (memory->bytes.size() < memory->at + n) memory->bytes.resize(memory->at + n);
  std::memcpy(memory->bytes.data() + memory->at, from, n);
  memory->at += n;
  return count;
}

sf_count_t tell_in(void* data) { return static_cast<sf_count_t>(static_cast<Memory*>(data)->at); }

}  // namespace

std::string wav_bytes(const std::vector<double>& samples, int sample_rate_hz) {
  SF_VIRTUAL_IO io{length_of, seek_in, read_from, write_to, tell_in};
  SF_INFO info{};
  info.samplerate = sample_rate_hz;
  info.channels = 1;
  info.format = SF_FORMAT_WAV | SF_FORMAT_PCM_16;
  Memory memory;
  SNDFILE* file = sf_open_virtual(&io, SFM_WRITE, &info, &memory);
  if (file == nullptr)
    throw std::runtime_error(std::string("no WAV file can be made: ") + sf_strerror(nullptr));
  sf_command(file, SFC_SET_CLIPPING, nullptr, SF_TRUE);
  const auto count = static_cast<sf_count_t>(samples.size());
  const sf_count_t written = sf_write_double(file, samples.data(), count);
  const bool whole = sf_close(file) == 0 && written == count;
  if (!whole) throw std::runtime_error("a WAV file was not written to its end");
  return memory.bytes;
}

}  // namespace calmplate::page
