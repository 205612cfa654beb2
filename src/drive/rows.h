// rows.h: what the files of rows share.
#pragma once

#include <string>
#include <vector>

#include "groovewright/base/rows.h"
#include "groovewright/drive/analysis.h"

namespace groovewright::drive {

/// One drive as its rows are written: names and ids at hand.
class Sheet {
 public:
  Sheet(const Drive& drive, const Analysis& analysis);
  const Drive& drive;
  const Analysis& a;
  Rows rows;

  [[nodiscard]] std::size_t size() const { return a.course.size(); }
  [[nodiscard]] const Pulley& pulley(std::size_t i) const { return pulley_at(drive, a.course, i); }
  [[nodiscard]] const std::string& name(std::size_t i) const { return pulley(i).name; }
  [[nodiscard]] const std::string& id(std::size_t i) const { return ids_[i]; }
  [[nodiscard]] std::string span_id(std::size_t i) const { return id(i) + "_" + id(a.course.next(i)); }
  [[nodiscard]] std::string span_name(std::size_t i) const { return drive::span_name(drive, a.course, i); }
  void size_row(Dimension d) { rows.dimensions.push_back(std::move(d)); }
  void judge(Check c) { rows.checks.push_back(judged(std::move(c))); }
  /// A row without limits.
  void note(std::string id, std::string label, double value, std::string unit, std::string source, std::string says);

 private:
  std::vector<std::string> ids_;
};

inline constexpr const char* kGeometry = "own recomputation: tangents";
inline constexpr const char* kMechanics = "own recomputation: statics";

void geometry_rows(Sheet& sheet);
/// Whether the tensioner holds the belt. Nothing where there is none.
void belt_fits_row(Sheet& sheet);
void tensioner_rows(Sheet& sheet);
void clearance_rows(Sheet& sheet);
void load_rows(Sheet& sheet);

}  // namespace groovewright::drive
