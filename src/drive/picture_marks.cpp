#include <algorithm>
#include <cmath>
#include <numbers>

#include "groovewright/base/text.h"
#include "groovewright/drive/pictures.h"
#include "groovewright/plane/pieces.h"
#include "picture_page.h"

namespace groovewright::drive {
namespace {

using Kind = PartId::Kind;

/// Positions nearer to each other than this move the idler by less than a line's width.
constexpr double kSame = 1e-3;

bool same(const Tensioner& t, double a, double b) {
  return plane::norm(idler_centre(t, a) - idler_centre(t, b)) < kSame;
}

/// Tight ones that an arrow in the drive's plane can show, the tightest first.
std::vector<Gap> tightest(const std::vector<Gap>& gaps) {
  std::vector<Gap> tight;
  for (const Gap& g : gaps) {
    if (!(g.a == g.b) && g.axial <= 0 && g.gap < kTight * g.limit) tight.push_back(g);
  }
  std::stable_sort(tight.begin(), tight.end(),
                   [](const Gap& g, const Gap& h) { return g.gap - g.limit < h.gap - h.limit; });
  if (tight.size() > kMostMarks) tight.resize(kMostMarks);
  return tight;
}

class Marker {
 public:
  Marker(const Drive& drive, const Course& course, std::optional<double> installed, const PictureStyle& style)
      : drive_(drive), course_(course), pen_(style) {
    if (!drive.tensioner) return;
    now_ = installed.value_or(drive.tensioner->free);
    if (course.size() >= 3) swing_.emplace(drive, course);
  }

  [[nodiscard]] ClearanceMark mark(const Gap& g, char letter) const {
    const std::string sign(1, letter), gap = number(g.gap, 1), least = trimmed(g.limit, 2);
    ClearanceMark m{g.at_a, g.at_b, sign + " " + gap};
    const std::string a = part_name(drive_, course_, g.a), b = part_name(drive_, course_, g.b);
    if (!swing_ || !(moved(g.a) || moved(g.b))) {
      m.says = pen_.filled("drive_gap", {sign, gap, least, a, b});
      return m;
    }
    m.position = g.position;
    m.says = pen_.filled("drive_gap_at", {sign, gap, least, a, b, position_words(drive_, g.position, pen_)});
    if (same(*drive_.tensioner, g.position, now_)) return m;
    for (const auto& [part, end] : {std::pair{g.a, g.at_a}, {g.b, g.at_b}}) {
      if (part.kind == Kind::span && moved(part)) m.with.push_back(face(part.index, g.position, end));
    }
    return m;
  }

 private:
  /// What stands elsewhere when the tensioner does. Its neighbours only change where the belt lies on them.
  [[nodiscard]] bool moved(PartId part) const {
    const std::size_t t = course_.idler;
    if (part.kind == Kind::pulley) return part.index == t;
    if (part.kind == Kind::span) return part.index == t || part.index == course_.before(t);
    return part.kind == Kind::arm;
  }
  /// A span's face through a point, with the tensioner at a position.
  [[nodiscard]] plane::Path face(std::size_t i, double position, Vec2 through) const {
    Spot spot;
    if (!swing_->at(position, spot)) return {};
    const Span& s = i == course_.idler ? spot.out : spot.in;
    const Vec2 aside = through - s.from - plane::dot(through - s.from, s.along) * s.along;
    return {plane::straight(s.from + aside, s.to + aside)};
  }

  const Drive& drive_;
  const Course& course_;
  Pen pen_;
  double now_ = 0;
  std::optional<Swing> swing_;
};

}  // namespace

std::string position_words(const Drive& drive, double position, const Pen& pen) {
  const Tensioner& t = *drive.tensioner;
  if (same(t, position, t.free)) return pen.word("drive_free");
  if (same(t, position, t.far_stop())) return pen.word("drive_far_stop");
  const double way = std::abs(position - t.free);
  const std::string text = t.slides() ? number(way, 1) + " mm" : number(way * 180 / std::numbers::pi, 1) + "°";
  return pen.filled("drive_from_free", {text});
}

std::vector<ClearanceMark> clearance_marks(const Drive& drive, const Course& course, const std::vector<Gap>& gaps,
                                           std::optional<double> installed, const PictureStyle& style) {
  const Marker marker(drive, course, installed, style);
  std::vector<ClearanceMark> marks;
  for (const Gap& g : tightest(gaps)) marks.push_back(marker.mark(g, static_cast<char>('a' + marks.size())));
  return marks;
}

}  // namespace groovewright::drive
