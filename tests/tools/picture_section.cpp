#include <algorithm>
#include <cmath>
#include <numbers>
#include <tuple>
#include <utility>
#include <vector>

#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "groovewright/gauge.h"
#include "groovewright/plane.h"
#include "picture.h"

namespace groovewright::picture {
namespace {

using plane::Edge;
using plane::Path;
using plane::Vec2;

// The sheet, in units of the SVG.
constexpr double kWidth = 900, kHeight = 640;
constexpr double kPartLeft = 178, kPartTop = 34, kPartHeight = 540, kPartWidth = 230;  ///< room of the full section
constexpr double kDimensionGap = 34;                                                   ///< between dimension lines
constexpr double kDetailTop = 118, kDetailWidth = 400, kDetailHeight = 290;
constexpr double kRight = kWidth - 36;  ///< where the detail ends
constexpr double kText = 14, kArrow = 9, kOvershoot = 3, kOffset = 3;
constexpr double kFine = 0.005;  ///< mm: chord error where a line on the sheet is all that depends on it
constexpr double kHatch = 7;     ///< between hatch lines
/// ISO 128: wide and narrow lines, two to one.
constexpr const char* kWide = "stroke=\"#1b2430\" stroke-width=\"1.6\" fill=\"none\" stroke-linejoin=\"round\"";
constexpr const char* kNarrow = "stroke=\"#1b2430\" stroke-width=\"0.7\" fill=\"none\"";
constexpr const char* kHatchLine = "stroke=\"#7d8794\" stroke-width=\"0.7\" fill=\"none\"";
constexpr const char* kChain = "stroke=\"#a33327\" stroke-width=\"0.8\" fill=\"none\" stroke-dasharray=\"14 3 2 3\"";
constexpr const char* kMetal = "#eef1f5";
constexpr const char* kBall = "stroke=\"#1f6fb5\" stroke-width=\"1.3\" fill=\"#cfe3f5\"";

const std::string kDiameter = "\u00d8";

std::string at(Vec2 p) { return number(p.x, 2) + " " + number(p.y, 2); }

/// From the plane of the section (x = Z, y up from the axis) to the sheet; `half` is +1 above the axis and -1 below it.
struct Frame {
  Vec2 origin;  ///< of the plane, on the sheet
  double scale = 1;
  [[nodiscard]] Vec2 operator()(Vec2 p, int half = 1) const {
    return {origin.x + scale * p.x, origin.y - half * scale * p.y};
  }
};

std::string line(Vec2 a, Vec2 b) { return "M" + at(a) + "L" + at(b); }

/// The closed path as path data, arcs as arcs.
std::string outline(const Path& path, const Frame& frame, int half) {
  std::string d = "M" + at(frame(path.front().a, half));
  for (const Edge& e : path) {
    if (!e.is_arc()) {
      d += "L" + at(frame(e.b, half));
      continue;
    }
    const bool large = std::abs(e.sweep()) > std::numbers::pi;
    // The sheet's y runs down, so above the axis ccw becomes the arc of flag 0.
    const bool flag = (e.turn == Edge::Turn::cw) == (half > 0);
    const double r = frame.scale * e.radius();
    d += "A" + at({r, r});
    d += large ? " 0 1 " : " 0 0 ";
    d += flag ? "1 " : "0 ";
    d += at(frame(e.b, half));
  }
  return d + "Z";
}

class Svg {
 public:
  void path(const std::string& d, const std::string& style, const std::string& more = "") {
    body_ += "<path d=\"" + d + "\" " + style + more + "/>\n";
  }
  void circle(Vec2 c, double r, const std::string& style) {
    body_ += "<circle cx=\"" + number(c.x, 2) + "\" cy=\"" + number(c.y, 2) + "\" r=\"" + number(r, 2) + "\" " + style +
             "/>\n";
  }
  enum class Anchor { start, middle, end };
  void text(Vec2 p, const std::string& words, Anchor anchor = Anchor::middle, bool upright = true,
            bool strong = false) {
    const char* names[] = {"start", "middle", "end"};
    body_ += "<text x=\"" + number(p.x, 2) + "\" y=\"" + number(p.y, 2) + "\" text-anchor=\"" +
             names[static_cast<int>(anchor)] + "\"";
    if (!upright) body_ += " transform=\"rotate(-90 " + at(p) + ")\"";
    if (strong) body_ += " font-weight=\"bold\"";
    body_ += ">" + escaped(words) + "</text>\n";
  }
  /// Everything that `draw` adds is cut to the path `d`.
  template <class Draw>
  void clipped(const std::string& d, Draw draw) {
    const std::string id = "c" + std::to_string(++clips_);
    body_ += "<clipPath id=\"" + id + "\"><path d=\"" + d + "\"/></clipPath>\n<g clip-path=\"url(#" + id + ")\">\n";
    draw();
    body_ += "</g>\n";
  }

  void arrow(Vec2 tip, Vec2 towards) {
    const Vec2 u = plane::unit(towards), n{-u.y, u.x};
    const Vec2 back = tip - kArrow * u;
    path(line(tip, back + kArrow / 6 * n) + "L" + at(back - kArrow / 6 * n) + "Z", "fill=\"#1b2430\"");
  }
  /// A line from a to b with an arrow at each end.
  void span(Vec2 a, Vec2 b) {
    path(line(a, b), kNarrow);
    arrow(a, a - b);
    arrow(b, b - a);
  }
  /// An arrow at `tip`, and words at the end of a short shelf to the right (`side` +1) or left (-1) of `knee`.
  void leader(Vec2 tip, Vec2 knee, const std::string& words, int side) {
    const Vec2 end = knee + Vec2{side * 8.0, 0};
    path(line(tip, knee) + "L" + at(end), kNarrow);
    arrow(tip, tip - knee);
    text(end + Vec2{side * 4.0, 0.35 * kText}, words, side > 0 ? Anchor::start : Anchor::end);
  }
  /// A dimension line at sheet x between two heights; `a` and `b` are the points measured.
  void upright_dimension(Vec2 a, Vec2 b, double x, const std::string& words) {
    const double side = x < a.x ? -1 : 1;
    for (const Vec2 p : {a, b}) path(line({p.x + side * kOffset, p.y}, {x + side * kOvershoot, p.y}), kNarrow);
    const Vec2 top{x, std::min(a.y, b.y)}, bottom{x, std::max(a.y, b.y)};
    span(top, bottom);
    text({x - 5, 0.5 * (top.y + bottom.y)}, words, Anchor::middle, false);
  }
  void level_dimension(Vec2 a, Vec2 b, double y, const std::string& words) {
    const double side = y < a.y ? -1 : 1;
    for (const Vec2 p : {a, b}) path(line({p.x, p.y + side * kOffset}, {p.x, y + side * kOvershoot}), kNarrow);
    const Vec2 left{std::min(a.x, b.x), y}, right{std::max(a.x, b.x), y};
    span(left, right);
    text({0.5 * (left.x + right.x), y - 5}, words);
  }

  [[nodiscard]] std::string file(const std::string& title) const {
    return "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 " + number(kWidth, 0) + " " + number(kHeight, 0) +
           "\" width=\"" + number(kWidth, 0) + "\" height=\"" + number(kHeight, 0) +
           "\" font-family=\"Helvetica, Arial, sans-serif\" font-size=\"" + number(kText, 0) +
           "\" fill=\"#1b2430\">\n<title>" + escaped(title) +
           "</title>\n<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n" + body_ + "</svg>\n";
  }

 private:
  static std::string escaped(const std::string& words) {
    std::string out;
    for (const char c : words) out += c == '&' ? "&amp;" : c == '<' ? "&lt;" : c == '>' ? "&gt;" : std::string(1, c);
    return out;
  }

  std::string body_;
  int clips_ = 0;
};

/// Lines at 45 degrees over the box; they hang on the sheet, so both halves match.
std::string hatching(Vec2 low, Vec2 high) {
  std::string d;
  const double step = kHatch * std::numbers::sqrt2, height = high.y - low.y;
  const int first = static_cast<int>(std::ceil((low.x + low.y) / step)),
            end = static_cast<int>(std::ceil((high.x + high.y) / step));
  for (int k = first; k < end; ++k) {
    const double c = k * step;
    d += line({c - low.y, low.y}, {c - low.y - height, high.y});
  }
  return d;
}

/// An opening that the cutting plane meets, as a closed polygon in the plane, and the lines seen across it.
struct Cut {
  int half = 1;  ///< +1 above the axis
  std::vector<Vec2> border;
  std::vector<std::pair<Vec2, Vec2>> across;
};

/// One with two borders along Z: pairs of low and high, mouth first.
Cut band(int half, const std::vector<double>& z, const std::vector<double>& low, const std::vector<double>& high) {
  Cut cut{half, {}, {}};
  for (std::size_t i = 0; i < z.size(); ++i) {
    cut.border.push_back({z[i], low[i]});
    if (high[i] > low[i]) cut.across.push_back({{z[i], low[i]}, {z[i], high[i]}});
  }
  for (std::size_t i = z.size(); i-- > 0;) cut.border.push_back({z[i], high[i]});
  return cut;
}

void cut_holes(const plane::TurnedBody& body, std::vector<Cut>& cuts) {
  for (const plane::RoundHole& h : body.holes) {
    if (std::abs(h.at.x) > plane::kCoincident) continue;
    std::vector<double> z, low, high;
    for (const Vec2& p : h.profile) {
      z.push_back(p.x);
      low.push_back(std::abs(h.at.y) - p.y);
      high.push_back(std::abs(h.at.y) + p.y);
    }
    cuts.push_back(band(h.at.y > 0 ? 1 : -1, z, low, high));
  }
}

/// Least and greatest height of the loop over the plane x = 0 on one half; false where it does not reach there.
bool span_at_plane(const Path& loop, int half, double& low, double& high) {
  const std::vector<Vec2> points = plane::polyline(loop, kFine);
  std::vector<double> met;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Vec2 a = points[i], b = points[(i + 1) % points.size()];
    if ((a.x < 0) == (b.x < 0)) continue;
    const double y = half * (a.y + (b.y - a.y) * a.x / (a.x - b.x));
    if (y > 0) met.push_back(y);
  }
  if (met.size() < 2) return false;
  std::tie(low, high) = std::minmax(met.front(), met.back());
  return true;
}

void cut_pockets(const plane::TurnedBody& body, std::vector<Cut>& cuts) {
  for (const plane::Pocket& p : body.pockets) {
    for (const int half : {1, -1}) {
      std::vector<double> z, low, high;
      for (const plane::Level& l : p.levels) {
        double least = 0, most = 0;
        if (!span_at_plane(l.loop, half, least, most)) continue;
        z.push_back(l.z);
        low.push_back(least);
        high.push_back(most);
      }
      if (z.size() == p.levels.size()) cuts.push_back(band(half, z, low, high));
    }
  }
}

/// Keyways. The bore's edge is seen beyond the cut where the keyway's side leaves it.
void cut_slots(const plane::TurnedBody& body, double rear, double front, double bore_radius, std::vector<Cut>& cuts) {
  for (const plane::Slot& s : body.slots) {
    if (!s.inward || std::abs(cos_of(s.angle)) > 1e-9) continue;
    const double z0 = std::max(s.z0, rear), z1 = std::min(s.z1, front);
    const double side = std::sqrt(bore_radius * bore_radius - s.width * s.width / 4);
    Cut cut = band(sin_of(s.angle) > 0 ? 1 : -1, {z0, z1}, {0, 0}, {s.floor, s.floor});
    cut.across.push_back({{z0, side}, {z1, side}});
    cuts.push_back(std::move(cut));
  }
}

/// Greatest radius below `under` at which the outline has metal in the column z, or 0.
double metal_below(const std::vector<Vec2>& outline_points, double z, double under) {
  double found = 0;
  for (std::size_t i = 0; i < outline_points.size(); ++i) {
    const Vec2 a = outline_points[i], b = outline_points[(i + 1) % outline_points.size()];
    if ((a.x < z) == (b.x < z)) continue;
    const double y = a.y + (b.y - a.y) * (z - a.x) / (b.x - a.x);
    if (y < under + 1e-6) found = std::max(found, y);
  }
  return found;
}

/// Edges of the far half that show beside the metal of the cut: each sharp corner of the outline is a circle, seen edge
/// on as an upright line over the radii below it that are free.
std::vector<std::pair<Vec2, Vec2>> seen_beyond(const Path& path) {
  const std::vector<Vec2> points = plane::polyline(path, kFine);
  std::vector<std::pair<Vec2, Vec2>> lines;
  for (std::size_t i = 0; i < path.size(); ++i) {
    const Edge &e = path[i], &next = path[(i + 1) % path.size()];
    if (plane::dot(e.tangent_at(1), next.tangent_at(0)) > 0.999) continue;
    const double below =
        std::max(metal_below(points, e.b.x - 1e-4, e.b.y - 1e-3), metal_below(points, e.b.x + 1e-4, e.b.y - 1e-3));
    if (below < e.b.y - 0.01) lines.push_back({{e.b.x, below}, e.b});
  }
  return lines;
}

class Drawing {
 public:
  explicit Drawing(const job::Prepared& prepared) : part_(prepared.part), section_(prepared.section) {
    const Path& path = section_.body.section;
    rear_ = front_ = path.front().a.x;
    for (const Edge& e : path) {
      rear_ = std::min(rear_, e.a.x);
      front_ = std::max(front_, e.a.x);
      top_ = std::max(top_, e.a.y);
    }
    for (const gauge::LaidBall& b : gauge::lay_balls(gauge::flanks(section_), ball_diameter(part_.rims.front()))) {
      if (first_.over_balls == 0 || b.z < first_.z) first_ = b;
    }
    cut_holes(section_.body, cuts_);
    cut_pockets(section_.body, cuts_);
    cut_slots(section_.body, rear_, front_, 0.5 * part_.hub.bore.diameter.value, cuts_);
  }

  std::string draw() {
    const double scale = std::min(kPartHeight / (2 * top_), kPartWidth / (front_ - rear_));
    const Frame frame{{kPartLeft - scale * rear_, kPartTop + 0.5 * kPartHeight}, scale};
    draw_section(frame);
    draw_main_dimensions(frame);
    draw_detail(frame);
    draw_words();
    return svg_.file(part_.name + ", section through the axis");
  }

 private:
  static double ball_diameter(const part::Rim& rim) { return rim.groove.ball_diameter.value; }

  void draw_section(const Frame& frame) {
    const Path& path = section_.body.section;
    for (const auto& [a, b] : seen_beyond(path)) {
      for (const int half : {1, -1}) svg_.path(line(frame(a, half), frame(b, half)), kWide);
    }
    for (const int half : {1, -1}) {
      const std::string d = outline(path, frame, half);
      svg_.path(d, "fill=\"" + std::string(kMetal) + "\"");
      svg_.clipped(d, [&] {
        svg_.path(hatching(frame({rear_, top_}), frame({front_, -top_})), kHatchLine);
        for (const Cut& c : cuts_) {
          if (c.half == half) draw_cut(c, frame);
        }
      });
      svg_.path(d, kWide);
    }
    const double beyond = 16;
    svg_.path(line(frame({rear_, 0}) - Vec2{beyond, 0}, frame({front_, 0}) + Vec2{beyond, 0}), kChain);
    for (const plane::RoundHole& h : section_.body.holes) {
      if (std::abs(h.at.x) > plane::kCoincident) continue;
      const auto [z0, z1] = std::minmax(h.profile.front().x, h.profile.back().x);
      svg_.path(line(frame({z0, h.at.y}) - Vec2{8, 0}, frame({z1, h.at.y}) + Vec2{8, 0}), kChain);
    }
    for (const int half : {1, -1})
      draw_ball(frame, first_.z, first_.over_balls, ball_diameter(part_.rims.front()), half);
  }

  void draw_cut(const Cut& c, const Frame& frame) {
    std::string d;
    for (const Vec2& p : c.border) d += (d.empty() ? "M" : "L") + at(frame(p, c.half));
    svg_.path(d + "Z", kWide, " style=\"fill:#fff\"");
    for (const auto& [a, b] : c.across) svg_.path(line(frame(a, c.half), frame(b, c.half)), kWide);
  }

  void draw_ball(const Frame& frame, double z, double over_balls, double diameter, int half) {
    svg_.circle(frame({z, 0.5 * (over_balls - diameter)}, half), 0.5 * frame.scale * diameter, kBall);
  }

  /// Both ends of a diameter at depth z.
  void diameter(const Frame& frame, double z, double value, int row, const std::string& words) {
    svg_.upright_dimension(frame({z, 0.5 * value}, 1), frame({z, 0.5 * value}, -1),
                           frame({rear_, 0}).x - row * kDimensionGap, words);
  }

  void draw_main_dimensions(const Frame& frame) {
    const part::Rim& rim = part_.rims.front();
    const part::Bore& bore = part_.hub.bore;
    const std::string words = kDiameter + trimmed(bore.diameter.value, 3) +
                              (bore.fit     ? " " + bore.fit->id
                               : bore.taper ? taper_words(*bore.taper)
                                            : "");
    diameter(frame, bore_depth(), bore.diameter.value, 1, words);
    // In brackets: it follows from K.
    diameter(frame, part_.groove_z(0, 0) + 0.5 * rim.groove.pitch.value, rim.outside_diameter(), 2,
             "(" + (kDiameter + number(rim.outside_diameter(), 3)) + ")");
    diameter(frame, first_.z, first_.over_balls, 3, "K " + number(first_.over_balls, 3) + " over balls");
    if (2 * top_ > first_.over_balls) diameter(frame, top_z(), 2 * top_, 4, kDiameter + trimmed(2 * top_, 3));
    svg_.level_dimension(frame({rear_, -face_radius(rear_)}), frame({front_, -face_radius(front_)}),
                         frame({0, -top_}).y + 34, trimmed(front_ - rear_, 3));
  }

  static std::string taper_words(const part::Taper& taper) {
    return ", 1:" + trimmed(0.5 / tan_of(taper.included.half().rad()), 2);
  }
  /// Where the bore has its diameter: on a taper the gauge plane, else the bore's rear end.
  [[nodiscard]] double bore_depth() const {
    if (const auto& taper = part_.hub.bore.taper) {
      return taper->gauge_face == part::Side::rear ? part_.hub.rear_face + taper->gauge_depth
                                                   : part_.hub.front_face - taper->gauge_depth;
    }
    double z = front_;
    for (std::size_t i = 0; i < section_.tags.size(); ++i) {
      const Edge& e = section_.body.section[i];
      if (section_.tags[i].kind == section::Kind::bore) z = std::min({z, e.a.x, e.b.x});
    }
    return z;
  }
  [[nodiscard]] double top_z() const {
    double z = front_;
    for (const Edge& e : section_.body.section) {
      if (e.a.y > top_ - 1e-6) z = std::min(z, e.a.x);
    }
    return z;
  }
  /// Greatest radius of the face at z.
  [[nodiscard]] double face_radius(double z) const {
    double y = 0;
    for (const Edge& e : section_.body.section) {
      if (std::abs(e.a.x - z) < 1e-6) y = std::max(y, e.a.y);
    }
    return y;
  }

  // ---- the front two grooves, enlarged ----

  void draw_detail(const Frame& main) {
    const std::size_t last = part_.rims.size() - 1;
    const part::Rim& rim = part_.rims[last];
    const double pitch = rim.groove.pitch.value, front = part_.rims_front();
    const double groove = part_.groove_z(last, rim.grooves - 1);
    const double rear = groove - (std::min(rim.grooves, 2) - 0.25) * pitch;
    const double high = 0.5 * std::max(rim.end_diameter(part::Side::front), rim.over_balls());
    const double low = 0.5 * rim.root_diameter() - 0.6 * pitch;
    const double scale = std::min(kDetailWidth / (front - rear), kDetailHeight / (high - low));
    const Frame frame{{kRight - scale * front, kDetailTop + scale * high}, scale};
    mark_detail(main, {0.5 * (rear + front), 0.5 * (low + high)}, 0.56 * length_of(front - rear, high - low));
    svg_.text({frame({rear, 0}).x, kPartTop + 12}, "A  (" + number(scale / main.scale, 0) + "\u00d7)",
              Svg::Anchor::start, true, true);

    const std::string d = outline(section_.body.section, frame, 1);
    const Vec2 near = frame({rear, low}), far = frame({front, high}) + Vec2{20, -20};
    const std::string wave = broken_edge(near, far);
    svg_.clipped(wave + "V" + number(far.y, 2) + "Z", [&] {
      svg_.path(d, "fill=\"" + std::string(kMetal) + "\"");
      svg_.clipped(d, [&] { svg_.path(hatching({near.x - 10, far.y}, {far.x, near.y + 10}), kHatchLine); });
      svg_.path(d, kWide);
    });
    svg_.clipped(d, [&] { svg_.path(wave, kNarrow); });
    draw_ball(frame, groove, rim.over_balls(), ball_diameter(rim), 1);
    draw_detail_dimensions(frame, rim, groove, low, high);
  }

  /// A freehand line down the left and along the bottom, where the detail is broken off.
  static std::string broken_edge(Vec2 near, Vec2 far) {
    constexpr double kWave = 36, kSwing = 5;
    const auto waves = [](double length) { return std::max(1, static_cast<int>(std::lround(length / kWave))); };
    const int down = waves(near.y - far.y), along = waves(far.x - near.x);
    const double dy = (near.y - far.y) / down / 2, dx = (far.x - near.x) / along / 2;
    std::string d = "M" + at({near.x, far.y});
    for (int k = 0; k < down; ++k) d += "q" + at({kSwing, dy / 2}) + " " + at({0, dy}) + "t" + at({0, dy});
    for (int k = 0; k < along; ++k) d += "q" + at({dx / 2, kSwing}) + " " + at({dx, 0}) + "t" + at({dx, 0});
    return d;
  }

  void mark_detail(const Frame& main, Vec2 middle, double radius) {
    const Vec2 c = main(middle);
    svg_.circle(c, main.scale * radius, kNarrow);
    svg_.text(c + main.scale * radius * Vec2{0.8, -0.6} + Vec2{6, 0}, "A", Svg::Anchor::start, true, true);
  }

  void draw_detail_dimensions(const Frame& frame, const part::Rim& rim, double groove, double low, double high) {
    const double pitch = rim.groove.pitch.value, root = 0.5 * rim.root_diameter();
    const double pitch_line = kPartTop + 26;
    const int shown = std::min(rim.grooves, 2);
    const double measured = groove - (shown - 1) * pitch;  // the groove without the ball, where there is one
    for (int k = 0; k < shown; ++k) {
      const double z = groove - k * pitch;
      svg_.path(line(frame({z, root - 0.2 * pitch}), {frame({z, 0}).x, pitch_line - kOvershoot}), kChain);
    }
    if (shown == 2) {
      const Vec2 a{frame({measured, 0}).x, pitch_line}, b{frame({groove, 0}).x, pitch_line};
      svg_.span(a, b);
      svg_.text(0.5 * (a + b) - Vec2{0, 5}, trimmed(pitch, 3));
      draw_angle(frame, rim, measured);
    }
    const double ball = 0.5 * ball_diameter(rim);
    const Vec2 touched = frame({groove, 0.5 * rim.over_balls() - ball}) + frame.scale * ball * Vec2{0.5, -0.866};
    const double shelf = frame({0, high}).y - 20;
    svg_.leader(touched, {touched.x + 0.5 * (touched.y - shelf), shelf}, "ball " + (kDiameter + trimmed(2 * ball, 3)),
                1);

    const double crest_radius = rim.crest_radius.value, root_radius = rim.root_radius.value;
    const Vec2 crest = frame({measured - 0.5 * pitch, 0.5 * rim.outside_diameter() - crest_radius}) +
                       frame.scale * crest_radius * Vec2{-0.5, -0.866};
    svg_.leader(crest, crest + Vec2{-26, -45}, "R" + trimmed(crest_radius, 3), -1);
    const Vec2 bottom = frame({groove, root + root_radius}) + frame.scale * root_radius * Vec2{0.5, 0.866};
    const double below = frame({0, low}).y + 24;
    svg_.leader(bottom, {bottom.x + 0.4 * (below - bottom.y), below}, "R" + trimmed(root_radius, 3), 1);
  }

  /// The groove angle, between its flanks drawn out beyond the crests.
  void draw_angle(const Frame& frame, const part::Rim& rim, double z) {
    const double half = rim.groove.angle.half().rad(),
                 apex = 0.5 * rim.apex_diameter() - part::sharp_height(rim.form());
    const double from = (0.5 * rim.outside_diameter() - apex) / cos_of(half), to = from + 36 / frame.scale;
    const auto on_flank = [&](double way, int side) {
      return frame({z + side * way * sin_of(half), apex + way * cos_of(half)});
    };
    for (const int side : {-1, 1}) {
      const Vec2 end = on_flank(to, side);
      svg_.path(line(on_flank(from, side), end + kOvershoot * Vec2{side * sin_of(half), -cos_of(half)}), kNarrow);
      svg_.arrow(end, {side * cos_of(half), sin_of(half)});
    }
    const std::string r = number(frame.scale * to, 2);
    svg_.path("M" + at(on_flank(to, -1)) + "A" + r + " " + r + " 0 0 1 " + at(on_flank(to, 1)), kNarrow);
    svg_.text(frame({z, apex + to}) + Vec2{5, -5}, trimmed(rim.groove.angle.deg(), 2) + "\u00b0", Svg::Anchor::start);
  }

  void draw_words() {
    std::vector<std::string> words{part_.name};
    for (const part::Rim& rim : part_.rims) {
      words.push_back(std::to_string(rim.grooves) + " grooves " + rim.groove.id + ", " + rim.groove.standard);
      words.push_back("effective diameter " + number(rim.effective_diameter.value, 3) + ", K " +
                      number(rim.over_balls(), 3));
    }
    words.push_back(part_.material.name);
    words.emplace_back("all sizes in mm");
    constexpr double kLeading = 22;
    Vec2 p{kRight - kDetailWidth, kHeight - 42 - kLeading * static_cast<double>(words.size() - 1)};
    for (std::size_t i = 0; i < words.size(); ++i, p.y += kLeading)
      svg_.text(p, words[i], Svg::Anchor::start, true, i == 0);
  }

  const part::Part& part_;
  const section::Section& section_;
  Svg svg_;
  std::vector<Cut> cuts_;
  double rear_ = 0, front_ = 0, top_ = 0;
  gauge::LaidBall first_;
};

}  // namespace

std::string section_svg(const job::Prepared& prepared) { return Drawing(prepared).draw(); }

}  // namespace groovewright::picture
