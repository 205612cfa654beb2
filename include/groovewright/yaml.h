// yaml.h: text to a tree of our own nodes, each with its place. Plain YAML only: one document, no anchors, aliases or
// tags.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "groovewright/base/artifact.h"
#include "groovewright/base/diagnostics.h"

namespace groovewright::yaml {

/// Limits that keep memory bounded whatever is fed in.
inline constexpr std::size_t kMaxBytes = 1 << 20;
inline constexpr std::size_t kMaxNodes = 20000;
inline constexpr int kMaxDepth = 64;

struct Entry;

struct Node {
  enum class Kind { scalar, list, map };
  Kind kind = Kind::scalar;
  Place place;
  std::string scalar;  ///< scalars only; "" with `quoted` false means null
  bool quoted = false;
  std::vector<Node> items;     ///< lists only
  std::vector<Entry> entries;  ///< maps only, in the order written

  /// The value under `key`, or nullptr.
  [[nodiscard]] const Node* find(std::string_view key) const;
};

struct Entry {
  std::string key;
  Place key_place;
  Node value;
};

/// The document's tree, or nullopt with at least one error added. Refused with place and remedy: more than the limits
/// above, NUL and control characters, bytes that are not UTF-8, a byte-order mark, tabs as indentation, aliases,
/// anchors, tags, duplicate keys, unclosed quotes, a second document, a key that is not a scalar.
[[nodiscard]] std::optional<Node> read(const TextFile& file, Diagnostics& diagnostics);

/// A piece of the person's text for a message: quoted, and cut between characters where it is long.
[[nodiscard]] std::string shown(std::string_view text);

}  // namespace groovewright::yaml
