// settle.h: inside room `part`: how a written value becomes a settled one. One file a subject: metal, rims, holes, hub,
// web, extras, drawing. Each takes what its defaults are measured by, and returns its piece of the part.
//
// What can't be settled is told, and the piece comes back unfinished: only a part without errors leaves the room.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "groovewright/part.h"

namespace groovewright::part {

inline constexpr const char* kFromSpec = "spec";
/// Lengths nearer than this are meant to be one, mm: sums of written values round differently.
inline constexpr double kSame = 1e-9;

/// "12.5 mm", for messages.
[[nodiscard]] std::string mm(double v);
/// The source of a value that the document leaves open.
[[nodiscard]] std::string defaulted(const std::string& why);
[[nodiscard]] Settled from_spec(const spec::Written<double>& written);

[[nodiscard]] inline double or_zero(const spec::Length& written) { return value_or(written, 0.0); }
[[nodiscard]] inline Angle or_zero(const spec::Turn& written) { return value_or(written, Angle{}); }

/// The tables that every subject looks into, and the ear for what is wrong.
class Settler {
 public:
  Settler(const catalog::Catalog& catalog, Diagnostics& diagnostics) : catalog_(catalog), diagnostics_(diagnostics) {}

  [[nodiscard]] const catalog::Catalog& catalog() const { return catalog_; }
  /// The shop rule `id`. Throws Broken where there is none.
  [[nodiscard]] const catalog::Sourced& rule(const char* id) const { return catalog_.rule(id); }
  /// What was written, or the shop rule `id`.
  [[nodiscard]] Settled or_rule(const spec::Length& written, const char* id) const;
  /// ISO 286 limits of the class written, or of `otherwise`, for `nominal` mm. Where there are none, that is told at
  /// the class or else at `place`.
  [[nodiscard]] std::optional<catalog::Fit> fit(const spec::Word& written, const char* otherwise, double nominal,
                                                const Place& place) const;
  /// nullptr where the tables don't have it; then that is told.
  [[nodiscard]] const catalog::Thread* thread(const spec::Written<std::string>& size) const;

  void error(Code code, const Place& place, std::string fragment, std::string message) const;
  /// Tells that the catalogue has no `kind` of the name `id`, and what it has.
  void unknown(const Place& place, const std::string& kind, const std::string& id,
               const std::vector<std::string>& known) const;

 private:
  const catalog::Catalog& catalog_;
  Diagnostics& diagnostics_;
};

/// `read` and the ids of the built-in files in `folder`, sorted: a run reads only the built-in files that its document
/// names, and all of a person's own.
[[nodiscard]] std::vector<std::string> with_built_in(std::vector<std::string> read, const std::string& folder);

template <class Table>
[[nodiscard]] std::vector<std::string> ids_of(const Table& table) {
  std::vector<std::string> ids;
  for (const auto& [id, entry] : table) ids.push_back(id);
  return ids;
}

struct Metal {
  catalog::Material material;
  std::optional<Finish> finish;
  double red = 0, green = 0, blue = 0;
};
[[nodiscard]] Metal settle_metal(const spec::Pulley& pulley, const Settler& settler);

/// From the rear to the front.
[[nodiscard]] std::vector<Rim> settle_rims(const std::vector<spec::Rim>& rims, const Settler& settler);

/// Bolts, jack screws, dowels, magnets, in this order.
[[nodiscard]] std::vector<HolePattern> settle_holes(const spec::Pulley& pulley, const Settler& settler);

/// The hub, and where the rims stand against it.
struct PlacedHub {
  Hub hub;
  double rims_rear = 0;  ///< Z of the rear face of the rearmost rim
};
[[nodiscard]] PlacedHub settle_hub(const spec::Pulley& pulley, const std::vector<Rim>& rims,
                                   const std::vector<HolePattern>& holes, const Settler& settler);

/// None for a solid disc.
[[nodiscard]] std::optional<Web> settle_web(const spec::Body& body, const std::vector<Rim>& rims, const Hub& hub,
                                            const Settler& settler);

/// Angle from 12 o'clock that marks and teeth are measured from.
[[nodiscard]] Angle settle_timing_zero(const spec::Pulley& pulley, const Hub& hub,
                                       const std::vector<HolePattern>& holes, const Settler& settler);
[[nodiscard]] std::vector<Marks> settle_marks(const std::vector<spec::Marks>& marks, const std::vector<Rim>& rims,
                                              Angle zero, const Settler& settler);
[[nodiscard]] std::optional<ToneRing> settle_tone_ring(const std::optional<spec::ToneRing>& ring, Angle zero,
                                                       const Settler& settler);

/// Requires: the holes are settled.
[[nodiscard]] DrawingWish settle_drawing(const std::optional<spec::Drawing>& drawing,
                                         const std::vector<HolePattern>& holes, const Settler& settler);
/// Tells where the stock can't be.
[[nodiscard]] Machining settle_machining(const std::optional<spec::Machining>& written, const Settler& settler);
/// The part's own revision, or the last of the drawing's table; "" where neither is given.
[[nodiscard]] std::string settle_revision(const spec::Word& written, const std::vector<Revision>& table,
                                          const Settler& settler);

}  // namespace groovewright::part
