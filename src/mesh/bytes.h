// bytes.h: little-endian bytes, as STL, ZIP and GLB want them.
#pragma once

#include <bit>
#include <cstdint>
#include <string>

namespace groovewright::mesh {

/// Writes at `at` and returns what follows: the compiler makes one store of each.
inline char* write_u16(char* at, std::uint32_t v) {
  at[0] = static_cast<char>(v & 0xFF);
  at[1] = static_cast<char>(v >> 8 & 0xFF);
  return at + 2;
}
inline char* write_u32(char* at, std::uint32_t v) { return write_u16(write_u16(at, v & 0xFFFF), v >> 16); }
inline char* write_f32(char* at, float v) { return write_u32(at, std::bit_cast<std::uint32_t>(v)); }

inline void put_u16(std::string& out, std::uint32_t v) {
  char bytes[2];
  out.append(bytes, write_u16(bytes, v));
}
inline void put_u32(std::string& out, std::uint32_t v) {
  char bytes[4];
  out.append(bytes, write_u32(bytes, v));
}

}  // namespace groovewright::mesh
