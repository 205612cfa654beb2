// bitmap.h: a page as a grey picture, from the files that renderers write.
#pragma once

#include <gtest/gtest.h>
#include <zlib.h>

#include <cstdint>
#include <cstdlib>
#include <sstream>
#include <string>
#include <vector>

namespace groovewright::readers {

/// Row 0 is the top; 255 is white.
struct Bitmap {
  int width = 0, height = 0;
  std::vector<std::uint8_t> grey;
  [[nodiscard]] std::uint8_t at(int x, int y) const {
    const bool inside = x >= 0 && y >= 0 && x < width && y < height;
    return inside ? grey[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)]
                  : 255;
  }
};

/// A binary PGM.
inline Bitmap read_pgm(const std::string& bytes) {
  Bitmap map;
  std::istringstream in(bytes);
  std::string magic;
  int most = 0;
  in >> magic >> map.width >> map.height >> most;
  if (!in || magic != "P5" || most != 255) return {};
  in.get();
  map.grey.assign(bytes.begin() + in.tellg(), bytes.end());
  return map;
}

inline std::uint32_t big_endian(const std::string& bytes, std::size_t at) {
  std::uint32_t value = 0;
  for (std::size_t i = 0; i < 4; ++i) value = value << 8 | static_cast<std::uint8_t>(bytes[at + i]);
  return value;
}

/// Undoes a PNG row's filter in place; `above` is the row before it, or zeros.
inline void unfilter(int filter, std::uint8_t* row, const std::uint8_t* above, std::size_t size, std::size_t step) {
  for (std::size_t i = 0; i < size; ++i) {
    const int left = i < step ? 0 : row[i - step], up = above[i], corner = i < step ? 0 : above[i - step];
    const int guess = left + up - corner;
    const int by_left = std::abs(guess - left), by_up = std::abs(guess - up), by_corner = std::abs(guess - corner);
    const int paeth = by_left <= by_up && by_left <= by_corner ? left : by_up <= by_corner ? up : corner;
    const int add[] = {0, left, up, (left + up) / 2, paeth};
    row[i] = static_cast<std::uint8_t>(row[i] + add[filter]);
  }
}

/// A PNG of 8 bits a colour, RGB or RGBA, not interlaced, as renderers of pages write it.
inline Bitmap read_png(const std::string& bytes) {
  if (bytes.size() < 33 || bytes.compare(1, 3, "PNG") != 0) return {};
  const std::size_t width = big_endian(bytes, 16), height = big_endian(bytes, 20);
  const std::size_t step = bytes[25] == 6 ? 4 : 3, stride = width * step;
  if (bytes[24] != 8 || (bytes[25] != 6 && bytes[25] != 2) || bytes[28] != 0) return {};
  std::string packed;
  for (std::size_t at = 8; at + 12 <= bytes.size(); at += 12 + big_endian(bytes, at)) {
    if (bytes.compare(at + 4, 4, "IDAT") == 0) packed += bytes.substr(at + 8, big_endian(bytes, at));
  }
  std::vector<std::uint8_t> raw((stride + 1) * height);
  uLongf size = raw.size();
  if (uncompress(raw.data(), &size, reinterpret_cast<const Bytef*>(packed.data()), packed.size()) != Z_OK) return {};
  Bitmap map{static_cast<int>(width), static_cast<int>(height), {}};
  std::vector<std::uint8_t> above(stride, 0);
  for (std::size_t y = 0; y < height; ++y) {
    std::uint8_t* row = raw.data() + y * (stride + 1) + 1;
    if (row[-1] > 4) return {};
    unfilter(row[-1], row, above.data(), stride, step);
    above.assign(row, row + stride);
    for (std::size_t x = 0; x < width; ++x) map.grey.push_back(row[x * step + 1]);  // green is near enough
  }
  return map;
}

}  // namespace groovewright::readers
