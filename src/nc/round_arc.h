// round_arc.h: an arc between points that are rounded to a control's decimals.
#pragma once

namespace groovewright::nc {

/// In the program's plane: first axis u, second v (xy, or z and x).
struct Flat {
  double u = 0, v = 0;
};

/// How far an arc turns, in (0, 2 pi]; a full circle where its ends are the same.
[[nodiscard]] double sweep(Flat from, Flat to, Flat centre, bool ccw);

/// The offset of the centre from `from`, on a lattice of 10^-decimals: near the ideal centre, with both radii as equal
/// as the lattice lets them be.
[[nodiscard]] Flat centre_offset(Flat from, Flat to, Flat ideal_centre, int decimals);

}  // namespace groovewright::nc
