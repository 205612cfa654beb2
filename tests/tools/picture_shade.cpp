#include <zlib.h>

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <limits>
#include <map>
#include <numbers>
#include <stdexcept>
#include <utility>
#include <vector>

#include "groovewright/base/trig.h"
#include "picture.h"

namespace groovewright::picture {
namespace {

constexpr int kSupersample = 3;
constexpr int kRays = 10;  ///< looks at the sky from each subpixel
/// Faces that meet at less than this are one smooth surface; at more there is an edge to draw. The chords of the
/// smallest roundings turn by some 20 degrees, a lead-in of 10 degrees off the face still shows by its shade.
const double kCreaseCosine = cos_of(Angle::deg(25).rad());
/// Eye's distance in radii of the part: far enough that the near side doesn't swell.
constexpr double kEyeDistance = 6.5;
constexpr double kMargin = 0.03;  ///< of the picture, on each side
constexpr double kWhite = 1, kInk = 0.13;
constexpr double kLineReach = 1.45;      ///< half width of a drawn edge, in subpixels
constexpr double kSilhouetteInk = 0.55;  ///< of smooth surfaces; real edges are drawn in full

struct Vec3 {
  double x = 0, y = 0, z = 0;
};
Vec3 operator+(Vec3 a, Vec3 b) { return {a.x + b.x, a.y + b.y, a.z + b.z}; }
Vec3 operator-(Vec3 a, Vec3 b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
Vec3 operator*(double k, Vec3 v) { return {k * v.x, k * v.y, k * v.z}; }
double dot(Vec3 a, Vec3 b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
Vec3 cross(Vec3 a, Vec3 b) { return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x}; }
Vec3 unit(Vec3 v) {
  const double size = std::sqrt(dot(v, v));
  return size > 0 ? 1 / size * v : v;
}

using Triangle = std::array<std::uint32_t, 3>;

struct Body {
  std::vector<Vec3> points;
  std::vector<Triangle> triangles;
};

std::uint32_t u32_at(std::string_view bytes, std::size_t at) {
  std::uint32_t v = 0;
  for (std::size_t i = 4; i-- > 0;) v = v << 8 | static_cast<unsigned char>(bytes[at + i]);
  return v;
}

/// Corners of the same bytes are one point; that is how a closed STL says which triangles are neighbours.
Body read_stl(std::string_view bytes) {
  constexpr std::size_t kHeader = 84, kFacet = 50, kNormal = 12;
  if (bytes.size() < kHeader || bytes.size() != kHeader + kFacet * u32_at(bytes, 80) || bytes.size() == kHeader) {
    throw std::runtime_error("no binary STL of a body");
  }
  Body body;
  std::map<std::array<std::uint32_t, 3>, std::uint32_t> known;
  for (std::size_t facet = kHeader; facet < bytes.size(); facet += kFacet) {
    Triangle t{};
    for (std::size_t k = 0; k < 3; ++k) {
      const std::size_t at = facet + kNormal + 12 * k;
      const std::array<std::uint32_t, 3> raw{u32_at(bytes, at), u32_at(bytes, at + 4), u32_at(bytes, at + 8)};
      const auto [it, fresh] = known.try_emplace(raw, static_cast<std::uint32_t>(body.points.size()));
      if (fresh) {
        body.points.push_back(
            {std::bit_cast<float>(raw[0]), std::bit_cast<float>(raw[1]), std::bit_cast<float>(raw[2])});
      }
      t[k] = it->second;
    }
    body.triangles.push_back(t);
  }
  return body;
}

/// Twice the triangle's area along its normal.
Vec3 area_vector(const Body& b, const Triangle& t) {
  return cross(b.points[t[1]] - b.points[t[0]], b.points[t[2]] - b.points[t[0]]);
}

/// A normal for each corner of each triangle: the mean of those around the point that lie within the crease angle.
std::vector<std::array<Vec3, 3>> smooth_normals(const Body& b) {
  std::vector<std::vector<std::uint32_t>> around(b.points.size());
  std::vector<Vec3> areas, flat;
  for (std::uint32_t i = 0; i < b.triangles.size(); ++i) {
    for (const std::uint32_t p : b.triangles[i]) around[p].push_back(i);
    areas.push_back(area_vector(b, b.triangles[i]));
    flat.push_back(unit(areas.back()));
  }
  std::vector<std::array<Vec3, 3>> normals(b.triangles.size());
  for (std::size_t i = 0; i < b.triangles.size(); ++i) {
    for (std::size_t k = 0; k < 3; ++k) {
      Vec3 sum;
      // Weighed by area, so that a flank keeps its own direction beside the narrow strips of its roundings.
      for (const std::uint32_t j : around[b.triangles[i][k]]) {
        if (dot(flat[i], flat[j]) > kCreaseCosine) sum = sum + areas[j];
      }
      normals[i][k] = unit(sum);
    }
  }
  return normals;
}

/// An edge with the triangles on its two sides.
struct Seam {
  std::uint32_t a, b;
  std::size_t left, right;
};
std::vector<Seam> seams(const Body& b) {
  std::map<std::pair<std::uint32_t, std::uint32_t>, std::size_t> open;
  std::vector<Seam> found;
  for (std::size_t i = 0; i < b.triangles.size(); ++i) {
    for (std::size_t k = 0; k < 3; ++k) {
      const std::uint32_t p = b.triangles[i][k], q = b.triangles[i][(k + 1) % 3];
      const auto [it, fresh] = open.try_emplace(std::minmax(p, q), i);
      if (fresh) continue;
      found.push_back({p, q, i, it->second});
      open.erase(it);
    }
  }
  return found;
}

/// The eye looks at the middle of the part along -z of its own frame: x to the right, y up.
class Camera {
 public:
  Camera(const Body& body, const View& view) : width_(view.width * kSupersample), height_(view.height * kSupersample) {
    const double sa = sin_of(view.azimuth.rad()), ca = cos_of(view.azimuth.rad());
    const double se = sin_of(view.elevation.rad()), ce = cos_of(view.elevation.rad());
    right_ = {ca, 0, -sa};
    up_ = {-sa * se, ce, -ca * se};
    back_ = {sa * ce, se, ca * ce};
    frame(body);
  }

  [[nodiscard]] int width() const { return width_; }
  [[nodiscard]] int height() const { return height_; }
  [[nodiscard]] double size() const { return size_; }  ///< radius of the part
  [[nodiscard]] Vec3 eye() const { return {0, 0, distance_}; }
  [[nodiscard]] Vec3 turned(Vec3 v) const { return {dot(right_, v), dot(up_, v), dot(back_, v)}; }
  [[nodiscard]] Vec3 seen(Vec3 p) const { return turned(p - middle_); }
  /// Subpixel, and nearness (1 over the distance), which is linear over a triangle's picture.
  [[nodiscard]] Vec3 on_screen(Vec3 seen) const {
    const double near = 1 / (distance_ - seen.z);
    return {x0_ + scale_ * seen.x * near, y0_ - scale_ * seen.y * near, near};
  }
  /// The point at this subpixel and nearness.
  [[nodiscard]] Vec3 from_screen(double x, double y, double near) const {
    return {(x - x0_) / (scale_ * near), (y0_ - y) / (scale_ * near), distance_ - 1 / near};
  }

 private:
  void frame(const Body& body) {
    constexpr double kFar = std::numeric_limits<double>::infinity();
    Vec3 least{kFar, kFar, kFar}, most{-kFar, -kFar, -kFar};
    const auto take = [&](Vec3 p) {
      least = {std::min(least.x, p.x), std::min(least.y, p.y), std::min(least.z, p.z)};
      most = {std::max(most.x, p.x), std::max(most.y, p.y), std::max(most.z, p.z)};
    };
    for (const Vec3& p : body.points) take(p);
    middle_ = 0.5 * (least + most);
    size_ = 0.5 * std::max({most.x - least.x, most.y - least.y, most.z - least.z});
    distance_ = kEyeDistance * size_;

    least = {kFar, kFar, kFar}, most = {-kFar, -kFar, -kFar};
    scale_ = 1;
    for (const Vec3& p : body.points) take(on_screen(seen(p)));
    const double room = 1 - 2 * kMargin;
    scale_ = std::min(room * width_ / (most.x - least.x), room * height_ / (most.y - least.y));
    x0_ = 0.5 * width_ - scale_ * 0.5 * (least.x + most.x);
    y0_ = 0.5 * height_ - scale_ * 0.5 * (least.y + most.y);
  }

  int width_, height_;
  Vec3 right_, up_, back_, middle_;
  double size_ = 0, distance_ = 0, scale_ = 1, x0_ = 0, y0_ = 0;
};

/// What each subpixel shows: the nearest triangle.
struct Frame {
  static constexpr std::uint32_t kNothing = 0xFFFFFFFF;
  int width = 0, height = 0;
  std::vector<double> near;
  std::vector<std::uint32_t> triangle;

  [[nodiscard]] bool holds(int x, int y) const { return x >= 0 && y >= 0 && x < width && y < height; }
  [[nodiscard]] std::size_t index(int x, int y) const {
    return static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x);
  }
  /// 0 where there is nothing: infinitely far.
  [[nodiscard]] double near_at(int x, int y) const { return holds(x, y) ? near[index(x, y)] : 0; }
};

double turn(Vec3 a, Vec3 b, double x, double y) { return (b.x - a.x) * (y - a.y) - (b.y - a.y) * (x - a.x); }

/// Shares of the three corners at a subpixel's middle, or all negative for a triangle of no area.
std::array<double, 3> shares(const std::array<Vec3, 3>& t, double x, double y) {
  const double whole = turn(t[0], t[1], t[2].x, t[2].y);
  if (whole == 0) return {-1, -1, -1};
  return {turn(t[1], t[2], x, y) / whole, turn(t[2], t[0], x, y) / whole, turn(t[0], t[1], x, y) / whole};
}

void draw(Frame& f, const std::array<Vec3, 3>& t, std::uint32_t id) {
  const auto [x0, x1] = std::minmax({t[0].x, t[1].x, t[2].x});
  const auto [y0, y1] = std::minmax({t[0].y, t[1].y, t[2].y});
  for (int y = std::max(0, static_cast<int>(y0)); y <= std::min(f.height - 1, static_cast<int>(y1)); ++y) {
    for (int x = std::max(0, static_cast<int>(x0)); x <= std::min(f.width - 1, static_cast<int>(x1)); ++x) {
      const auto s = shares(t, x + 0.5, y + 0.5);
      if (s[0] < 0 || s[1] < 0 || s[2] < 0) continue;
      const double near = s[0] * t[0].z + s[1] * t[1].z + s[2] * t[2].z;
      const std::size_t i = f.index(x, y);
      if (near <= f.near[i]) continue;
      f.near[i] = near;
      f.triangle[i] = id;
    }
  }
}

class Painter {
 public:
  Painter(const Body& body, const View& view) : body_(body), camera_(body, view), normals_(smooth_normals(body)) {
    for (const Vec3& p : body.points) {
      seen_.push_back(camera_.seen(p));
      screen_.push_back(camera_.on_screen(seen_.back()));
    }
    frame_.width = camera_.width();
    frame_.height = camera_.height();
    const std::size_t count = frame_.index(0, frame_.height);
    frame_.near.assign(count, 0);
    frame_.triangle.assign(count, Frame::kNothing);
    for (std::uint32_t i = 0; i < body.triangles.size(); ++i) draw(frame_, on_screen(i), i);
    ink_.assign(count, 0);
    draw_edges();
  }

  /// Brightness of each pixel, 0 to 1.
  [[nodiscard]] std::vector<double> picture() const {
    std::vector<double> out;
    for (int y = 0; y < frame_.height; y += kSupersample) {
      for (int x = 0; x < frame_.width; x += kSupersample) {
        double sum = 0;
        for (int k = 0; k < kSupersample * kSupersample; ++k)
          sum += subpixel(x + k % kSupersample, y + k / kSupersample);
        out.push_back(sum / (kSupersample * kSupersample));
      }
    }
    return out;
  }

 private:
  [[nodiscard]] std::array<Vec3, 3> on_screen(std::uint32_t i) const {
    const Triangle& t = body_.triangles[i];
    return {screen_[t[0]], screen_[t[1]], screen_[t[2]]};
  }

  [[nodiscard]] double subpixel(int x, int y) const {
    const std::size_t i = frame_.index(x, y);
    const double under = frame_.triangle[i] == Frame::kNothing ? kWhite : surface(x, y);
    return under + ink_[i] * (std::min(kInk, under) - under);
  }

  [[nodiscard]] double surface(int x, int y) const {
    const std::size_t i = frame_.index(x, y);
    const std::uint32_t id = frame_.triangle[i];
    const auto t = on_screen(id);
    const auto s = shares(t, x + 0.5, y + 0.5);
    Vec3 normal;
    for (std::size_t k = 0; k < 3; ++k) normal = normal + s[k] * t[k].z * normals_[id][k];
    const Vec3 at = camera_.from_screen(x + 0.5, y + 0.5, frame_.near[i]);
    return lit(at, unit(camera_.turned(normal)), openness(at, unit(camera_.turned(normal)), x, y));
  }

  /// Bright aluminium under a large lamp at the upper left, a weaker one at the right and one behind, as finished on a
  /// lathe: its rings spread each lamp's glint across them.
  [[nodiscard]] double lit(Vec3 at, Vec3 normal, double open) const {
    static const Vec3 kKey = unit({-0.55, 0.75, 0.75}), kFill = unit({0.9, 0.05, 0.45}),
                      kRim = unit({0.35, 0.55, -0.75});
    const Vec3 to_eye = unit(camera_.eye() - at);
    const Vec3 axis = camera_.turned({0, 0, 1}), centre = camera_.seen({0, 0, 0});
    const Vec3 ring = unit(cross(axis, at - centre));
    // Walls of holes are no turned faces.
    const double turned = std::max(0.0, 1 - 8 * std::abs(dot(ring, normal)));
    const auto glint = [&](Vec3 lamp, int sharpness) {
      const double along = dot(ring, unit(lamp + to_eye));
      double v = std::max(0.0, dot(normal, lamp));
      for (int k = 0; k < sharpness; ++k) v *= 1 - along * along;
      return turned * v;
    };
    const double grazing = 1 - std::max(0.0, dot(normal, to_eye));
    const double sky = 0.30 + 0.10 * normal.y;
    const double lamps = 0.46 * std::max(0.0, dot(normal, kKey)) + 0.22 * std::max(0.0, dot(normal, kFill));
    const double glints = 0.34 * glint(kKey, 24) + 0.30 * glint(kFill, 20);
    const double rim = 0.35 * grazing * grazing * std::max(0.0, dot(normal, kRim));
    return std::min(0.97, open * (sky + lamps + rim) + (0.4 + 0.6 * open) * glints);
  }

  /// Share of the sky that neighbouring metal leaves free, 0 to 1: makes recesses and grooves read as deep.
  [[nodiscard]] double openness(Vec3 at, Vec3 normal, int x, int y) const {
    constexpr int kSteps = 3;
    const double reach = 0.16 * camera_.size(), skin = 0.004 * camera_.size();
    const Vec3 side = unit(std::abs(normal.x) < 0.7 ? cross(normal, {1, 0, 0}) : cross(normal, {0, 1, 0}));
    const Vec3 other = cross(normal, side);
    // Each subpixel of a pixel looks in its own directions; their mean is smooth.
    const int phase = x % kSupersample + kSupersample * (y % kSupersample);
    double blocked = 0;
    for (int r = 0; r < kRays; ++r) {
      const Direction& d = direction(r, phase);
      const Vec3 way = d.side * side + d.other * other + d.up * normal;
      for (int s = 1; s <= kSteps; ++s) {
        const double share = (s - 0.5) / kSteps;
        const Vec3 p = at + reach * share * share * way + skin * normal;
        const Vec3 q = camera_.on_screen(p);
        const double near = frame_.near_at(static_cast<int>(q.x), static_cast<int>(q.y));
        if (near <= q.z) continue;
        const double behind = 1 / q.z - 1 / near;
        if (behind < skin || behind > reach) continue;
        blocked += 1 - 0.6 * share;
        break;
      }
    }
    return 1 - 0.75 * blocked / kRays;
  }

  struct Direction {
    double side, other, up;
  };
  static const Direction& direction(int ray, int phase) {
    constexpr int kPhases = kSupersample * kSupersample;
    static const std::vector<Direction> kAll = [] {
      std::vector<Direction> all;
      for (int r = 0; r < kRays; ++r) {
        for (int p = 0; p < kPhases; ++p) {
          const double angle = 2 * std::numbers::pi * (r + p / static_cast<double>(kPhases)) / kRays;
          const double out = std::sqrt((p * 4 % kPhases + 0.5) / kPhases);  // evenly over the disc: cosine-weighed
          all.push_back({out * cos_of(angle), out * sin_of(angle), std::sqrt(1 - out * out)});
        }
      }
      return all;
    }();
    return kAll[static_cast<std::size_t>(ray) * std::size_t{kPhases} + static_cast<std::size_t>(phase)];
  }

  void draw_edges() {
    std::vector<Vec3> flat;
    std::vector<bool> faces_eye;
    for (const Triangle& t : body_.triangles) {
      flat.push_back(unit(area_vector(body_, t)));
      faces_eye.push_back(dot(camera_.turned(flat.back()), camera_.eye() - seen_[t[0]]) > 0);
    }
    for (const Seam& s : seams(body_)) {
      if (dot(flat[s.left], flat[s.right]) < kCreaseCosine) {
        draw_line(screen_[s.a], screen_[s.b], 1);
      } else if (faces_eye[s.left] != faces_eye[s.right]) {
        draw_line(screen_[s.a], screen_[s.b], kSilhouetteInk);
      }
    }
  }

  void draw_line(Vec3 a, Vec3 b, double ink) {
    const int steps = static_cast<int>(std::max(std::abs(b.x - a.x), std::abs(b.y - a.y))) + 1;
    for (int k = 0; k <= steps; ++k) {
      const Vec3 p = a + k / static_cast<double>(steps) * (b - a);
      if (is_hidden(p)) continue;
      const int reach = static_cast<int>(kLineReach) + 1, px = static_cast<int>(p.x), py = static_cast<int>(p.y);
      for (int y = py - reach; y <= py + reach; ++y) {
        for (int x = px - reach; x <= px + reach; ++x) {
          const double dx = x + 0.5 - p.x, dy = y + 0.5 - p.y;
          if (!frame_.holds(x, y) || dx * dx + dy * dy > kLineReach * kLineReach) continue;
          double& here = ink_[frame_.index(x, y)];
          here = std::max(here, ink);
        }
      }
    }
  }

  /// An edge lies on the border of what it belongs to, so the farthest of its neighbours decides.
  [[nodiscard]] bool is_hidden(Vec3 p) const {
    double near = std::numeric_limits<double>::infinity();
    for (int k = 0; k < 9; ++k)
      near = std::min(near, frame_.near_at(static_cast<int>(p.x) + k % 3 - 1, static_cast<int>(p.y) + k / 3 - 1));
    return near > 0 && 1 / p.z - 1 / near > 0.002 * camera_.size();
  }

  const Body& body_;
  Camera camera_;
  std::vector<std::array<Vec3, 3>> normals_;
  std::vector<Vec3> seen_, screen_;
  Frame frame_;
  std::vector<double> ink_;
};

void put_u32(std::string& out, std::size_t v) {
  for (int shift = 24; shift >= 0; shift -= 8) out += static_cast<char>(v >> shift & 0xFF);
}

void put_chunk(std::string& out, std::string_view kind, std::string_view data) {
  put_u32(out, data.size());
  const std::string body = std::string(kind) + std::string(data);
  out += body;
  put_u32(out, crc32(0, reinterpret_cast<const Bytef*>(body.data()), static_cast<uInt>(body.size())));
}

std::string deflated(const std::string& data) {
  uLongf size = compressBound(static_cast<uLong>(data.size()));
  std::string out(size, '\0');
  if (compress2(reinterpret_cast<Bytef*>(out.data()), &size, reinterpret_cast<const Bytef*>(data.data()),
                static_cast<uLong>(data.size()), Z_BEST_COMPRESSION) != Z_OK) {
    throw std::runtime_error("zlib can't compress");
  }
  out.resize(size);
  return out;
}

using Row = std::vector<unsigned char>;

/// PNG's five row filters for one byte a pixel; the one with the least sum of differences packs best.
std::string filtered(const Row& row, const Row& above) {
  const auto paeth = [](int a, int b, int c) {
    const int pa = std::abs(b - c), pb = std::abs(a - c), pc = std::abs(a + b - 2 * c);
    return pa <= pb && pa <= pc ? a : pb <= pc ? b : c;
  };
  std::string best;
  long least = std::numeric_limits<long>::max();
  for (int kind = 0; kind < 5; ++kind) {
    std::string out(1, static_cast<char>(kind));
    long sum = 0;
    for (std::size_t i = 0; i < row.size(); ++i) {
      const int a = i > 0 ? row[i - 1] : 0, b = above[i], c = i > 0 ? above[i - 1] : 0;
      const std::array guess{0, a, b, (a + b) / 2, paeth(a, b, c)};
      const auto rest = static_cast<signed char>(row[i] - guess[static_cast<std::size_t>(kind)]);
      sum += std::abs(int{rest});
      out += static_cast<char>(rest);
    }
    if (sum < least) {
      least = sum;
      best = out;
    }
  }
  return best;
}

/// Brightness through one tint from cool shadow to white: 256 colours are all there are, and a third of the bytes.
std::string palette() {
  constexpr std::array kDark{24.0, 29.0, 38.0}, kWhiteEnd{255.0, 255.0, 255.0};
  std::string out;
  for (int i = 0; i < 256; ++i) {
    for (std::size_t k = 0; k < 3; ++k)
      out += static_cast<char>(std::lround(kDark[k] + (kWhiteEnd[k] - kDark[k]) * i / 255.0));
  }
  return out;
}

std::string png(const std::vector<double>& bright, const View& view) {
  const auto width = static_cast<std::size_t>(view.width);
  std::string rows;
  Row above(width, 0);
  for (std::size_t at = 0; at < bright.size(); at += width) {
    Row row(width);
    for (std::size_t x = 0; x < width; ++x) row[x] = static_cast<unsigned char>(std::lround(255 * bright[at + x]));
    rows += filtered(row, above);
    above = row;
  }
  std::string head;
  put_u32(head, width);
  put_u32(head, static_cast<std::size_t>(view.height));
  head += std::string("\x08\x03\0\0\0", 5);  // 8 bits, by palette
  std::string out = "\x89PNG\r\n\x1a\n";
  put_chunk(out, "IHDR", head);
  put_chunk(out, "PLTE", palette());
  put_chunk(out, "IDAT", deflated(rows));
  put_chunk(out, "IEND", "");
  return out;
}

}  // namespace

std::string shaded(std::string_view stl, const View& view) {
  const Body body = read_stl(stl);
  return png(Painter(body, view).picture(), view);
}

}  // namespace groovewright::picture
