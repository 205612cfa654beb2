#include "groovewright/plane/faults.h"

#include <algorithm>
#include <cmath>

#include "groovewright/base/text.h"
#include "groovewright/plane/meets.h"

namespace groovewright::plane {
namespace {

using Quad = std::array<Vec2, 4>;

/// Ink that only touches a text's box is clear of the letters.
constexpr double kTouch = 0.05;
constexpr double kOnLine = 0.1;

struct Stroke {
  Vec2 a, b;
  Ink ink;
  std::size_t owner;  ///< number of the inked path
  bool filled;
  Vec2 low, high;
};

struct Letters {
  Quad quad;
  Vec2 low, high;
  const std::string* text;
};

template <class A, class B>
bool apart(const A& a, const B& b) {
  return a.high.x < b.low.x || b.high.x < a.low.x || a.high.y < b.low.y || b.high.y < a.low.y;
}

double distance(Vec2 p, const Stroke& s) {
  const Vec2 d = s.b - s.a;
  const double l2 = dot(d, d), t = l2 > 0 ? std::clamp(dot(p - s.a, d) / l2, 0.0, 1.0) : 0;
  return norm(p - (s.a + t * d));
}

class Inspector {
 public:
  Inspector(const Page& page, const Typeface& typeface) : page_(page) {
    for (const View& view : page.views) {
      for (const Inked& inked : view.lines) add(inked);
      for (const Words& w : view.words) add(w, typeface);
    }
    std::sort(letters_.begin(), letters_.end(), [](const Letters& a, const Letters& b) { return a.low.x < b.low.x; });
  }

  Faults all() {
    words_on_words();
    words_on_lines();
    leaders();
    arrows();
    off_sheet();
    return faults_;
  }

 private:
  void add(const Inked& inked) {
    if (inked.filled && inked.path.size() == 3) tips_.push_back({inked.path.front().a, owners_});
    for (const auto& [a, b] : segments(inked.path)) {
      strokes_.push_back({a,
                          b,
                          inked.ink,
                          owners_,
                          inked.filled,
                          {std::min(a.x, b.x), std::min(a.y, b.y)},
                          {std::max(a.x, b.x), std::max(a.y, b.y)}});
    }
    ++owners_;
  }
  void add(const Words& words, const Typeface& typeface) {
    if (words.text.empty()) return;
    const Quad quad = shrunk(box(typeface, words), kTouch);
    Letters l{quad, quad[0], quad[0], &words.text};
    for (const Vec2 p : quad) {
      l.low = {std::min(l.low.x, p.x), std::min(l.low.y, p.y)};
      l.high = {std::max(l.high.x, p.x), std::max(l.high.y, p.y)};
    }
    letters_.push_back(l);
  }

  void note(int& count, const std::string& what) {
    if (faults_.first.empty()) faults_.first = what;
    ++count;
  }

  void words_on_words() {
    for (std::size_t i = 0; i < letters_.size(); ++i) {
      for (std::size_t j = i + 1; j < letters_.size() && letters_[j].low.x <= letters_[i].high.x; ++j) {
        if (apart(letters_[i], letters_[j]) || !overlap(letters_[i].quad, letters_[j].quad)) continue;
        note(faults_.words_on_words, "'" + *letters_[i].text + "' and '" + *letters_[j].text + "' overlap");
      }
    }
  }
  void words_on_lines() {
    for (const Letters& l : letters_) {
      for (const Stroke& s : strokes_) {
        if (apart(l, s) || !enters(s.a, s.b, l.quad)) continue;
        note(faults_.words_on_lines, "a line (" + std::string(to_text(s.ink)) + ") through '" + *l.text + "'");
        break;
      }
    }
  }
  void leaders() {
    std::vector<const Stroke*> all;
    for (const Stroke& s : strokes_) {
      if (s.ink == Ink::leader && !s.filled) all.push_back(&s);
    }
    for (std::size_t i = 0; i < all.size(); ++i) {
      for (std::size_t j = i + 1; j < all.size(); ++j) {
        const bool one = all[i]->owner == all[j]->owner;
        if (!one && segments_cross(all[i]->a, all[i]->b, all[j]->a, all[j]->b))
          note(faults_.leaders_crossed, "two leaders cross");
      }
    }
  }
  void arrows() {
    for (const auto& [tip, owner] : tips_) {
      const bool lands = std::any_of(strokes_.begin(), strokes_.end(), [&, t = tip, o = owner](const Stroke& s) {
        // An arrow always touches its own leader, drawn just before it.
        const bool own = s.owner == o || (s.owner + 1 == o && s.ink == Ink::leader);
        return !own && distance(t, s) < kOnLine;
      });
      if (!lands)
        note(faults_.lost_arrows,
             "an arrow at " + trimmed(tip.x, 1) + ", " + trimmed(tip.y, 1) + " mm points at nothing");
    }
  }
  void off_sheet() {
    const auto outside = [&](Vec2 low, Vec2 high) {
      return low.x < 0 || low.y < 0 || high.x > page_.width || high.y > page_.height;
    };
    for (const Stroke& s : strokes_) {
      if (outside(s.low, s.high)) note(faults_.off_sheet, "a line off the sheet");
    }
    for (const Letters& l : letters_) {
      if (outside(l.low, l.high)) note(faults_.off_sheet, "'" + *l.text + "' off the sheet");
    }
  }

  const Page& page_;
  std::vector<Stroke> strokes_;
  std::vector<Letters> letters_;
  std::vector<std::pair<Vec2, std::size_t>> tips_;
  std::size_t owners_ = 0;
  Faults faults_;
};

}  // namespace

Faults faults(const Page& page, const Typeface& typeface) { return Inspector(page, typeface).all(); }

}  // namespace groovewright::plane
