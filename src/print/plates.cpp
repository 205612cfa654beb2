#include "plates.h"

#include <algorithm>
#include <numeric>

namespace groovewright::print {
namespace {

bool fits_unturned(const Footprint& f, const catalog::Printer& printer) {
  return f.height <= printer.height && f.width + 2 * printer.margin <= printer.bed_width &&
         f.depth + 2 * printer.margin <= printer.bed_depth;
}

Footprint turned(const Footprint& f) { return {f.depth, f.width, f.height}; }

/// Objects in a row from left to right.
struct Shelf {
  double y, depth, filled;
};
struct Bed {
  std::vector<Shelf> shelves;
  double filled = 0;
};

class Shelves {
 public:
  explicit Shelves(const catalog::Printer& printer) : printer_(printer) {}

  /// Requires: an empty bed holds it.
  Spot place(const Footprint& f) {
    for (std::size_t i = 0; i < beds_.size(); ++i) {
      for (Shelf& shelf : beds_[i].shelves) {
        if (f.depth <= shelf.depth && fits_beside(shelf, f)) return put(i, shelf, f);
      }
      if (fits_above(beds_[i], f)) return put(i, add_shelf(beds_[i], f), f);
    }
    beds_.emplace_back();
    return put(beds_.size() - 1, add_shelf(beds_.back(), f), f);
  }

 private:
  [[nodiscard]] bool fits_beside(const Shelf& shelf, const Footprint& f) const {
    return shelf.filled + f.width + 2 * printer_.margin <= printer_.bed_width;
  }
  [[nodiscard]] bool fits_above(const Bed& bed, const Footprint& f) const {
    return bed.filled + f.depth + 2 * printer_.margin <= printer_.bed_depth;
  }
  Shelf& add_shelf(Bed& bed, const Footprint& f) {
    bed.shelves.push_back({bed.filled + printer_.margin, f.depth, 0});
    bed.filled += f.depth + printer_.margin;
    return bed.shelves.back();
  }
  Spot put(std::size_t bed, Shelf& shelf, const Footprint& f) {
    const Spot spot{bed, shelf.filled + printer_.margin, shelf.y, false};
    shelf.filled += f.width + printer_.margin;
    return spot;
  }

  const catalog::Printer& printer_;
  std::vector<Bed> beds_;
};

}  // namespace

bool fits(const Footprint& object, const catalog::Printer& printer) {
  return fits_unturned(object, printer) || fits_unturned(turned(object), printer);
}

std::vector<Spot> laid_out(const std::vector<Footprint>& objects, const catalog::Printer& printer) {
  // Deep ones first, so that shelves fill.
  std::vector<std::size_t> order(objects.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return objects[a].depth > objects[b].depth; });
  Shelves shelves(printer);
  std::vector<Spot> spots(objects.size());
  for (const std::size_t i : order) {
    const bool quarter_turn = !fits_unturned(objects[i], printer);
    spots[i] = shelves.place(quarter_turn ? turned(objects[i]) : objects[i]);
    spots[i].quarter_turn = quarter_turn;
  }
  return spots;
}

}  // namespace groovewright::print
