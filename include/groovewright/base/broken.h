// broken.h: a promise of our own code that did not hold. Never the person's mistake (that is a Diagnostic).
#pragma once

#include <stdexcept>
#include <string>

namespace groovewright {

/// Thrown where a `Requires:` line or an invariant fails; `cli` turns it into exit status 3.
class Broken : public std::logic_error {
 public:
  using std::logic_error::logic_error;
};

/// Throws `Broken(what)` unless `holds`.
inline void require(bool holds, const char* what) {
  if (!holds) throw Broken(what);
}

}  // namespace groovewright
