// peck.h: what a peck is, for those who write it out and those who read it.
#pragma once

namespace groovewright::nc {

/// mm: a drill that comes back feeds from here above the metal. NIST IR 6556, G83: "backed off a bit"; the published
/// interpreter takes 0.010 in.
inline constexpr double kPeckBackOff = 0.254;

}  // namespace groovewright::nc
