#include "setup_pages.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "groovewright/base/broken.h"
#include "groovewright/base/shown.h"
#include "groovewright/base/text.h"
#include "setup_layout.h"
#include "setup_picture.h"
#include "setup_words.h"

namespace groovewright::job {
namespace {

using plane::Ink;
using plane::Path;
using plane::Vec2;
using plane::View;
using toolpath::Milling;
using toolpath::Plan;
using toolpath::Turning;

constexpr double kTitle = 3.5;
/// What is tried in turn: paper of ISO 216, upright, and the letters on it.
struct Format {
  double width, height, letters;
  bool side_by_side;  ///< what is measured stands beside the sequence
  double picture;     ///< height that it may have, of the page's
};
constexpr std::array kFormats{
    Format{210, 297, plane::kLetters, false, 0.33},     Format{210, 297, plane::kSmallLetters, false, 0.33},
    Format{210, 297, plane::kSmallLetters, true, 0.33}, Format{210, 297, plane::kSmallLetters, true, 0.29},
    Format{297, 420, plane::kLetters, false, 0.29},     Format{297, 420, plane::kSmallLetters, true, 0.29}};
constexpr double kPictureShare = 0.56;  // of the width
constexpr double kSide = 66;            // mm: of the column beside the sequence

class Sheets {
 public:
  Sheets(const Prepared& p, const std::vector<ProgramText>& texts, const Proof& proof, report::Units units)
      : p_(p),
        plan_(p.programs->plan),
        texts_(texts),
        proof_(proof),
        units_(units),
        scribe_(p.typeface),
        words_(setup_words(p, texts, proof, units)) {}

  [[nodiscard]] std::vector<SetupPage> make() const {
    std::vector<SetupPage> out;
    for (const ClampingWords& c : words_.clampings) out.push_back({c.id, page(c)});
    return out;
  }

 private:
  [[nodiscard]] plane::Page page(const ClampingWords& c) const {
    for (const Format& f : kFormats) {
      double left = 0;
      plane::Page made = laid(c, f, left);
      if (left >= 0 || &f == &kFormats.back()) return made;
    }
    throw Broken("no format of a set-up page");
  }

  /// `left`: height that stays free above the border, negative where the page is too small.
  [[nodiscard]] plane::Page laid(const ClampingWords& c, const Format& f, double& left) const {
    plane::Page page = bordered_page(f.width, f.height, "Set-up " + c.id + ": " + p_.part.name,
                                     "How the part is held, zeroed and cut in " + c.id + ", a " + c.machine +
                                         "'s clamping, with its tools and what to measure.");
    const double edge = kPageMargin + kPageInset, width = f.width - 2 * edge;
    View words{"words", "Set-up of " + c.id, {}, {}};
    Flow head(words, scribe_, {edge, f.height - edge}, width, f.letters);
    head.paragraph("Set-up " + c.id + " (" + c.machine + "): " + p_.part.name +
                       (p_.part.revision.empty() ? "" : ", revision " + p_.part.revision),
                   kTitle);
    if (!words_.stop.empty()) head.cautions({words_.stop});
    const double top = head.y(), share = kPictureShare * width;
    std::vector<NumberedHole> holes;
    Picture picture = drawn(c, share, f.picture * f.height, holes);
    page.scale = picture.scale;
    plane::move(picture.view, {edge, top});
    Flow beside(words, scribe_, {edge + share + 3, top}, width - share - 3, f.letters);
    std::vector<Fact> facts(words_.facts.begin(), words_.facts.begin() + 2);  // part and stock
    facts.emplace_back("Machine", c.machine == "lathe" ? plan_.lathe.name + "; " + plan_.chuck.name : plan_.mill.name);
    facts.insert(facts.end(), c.facts.begin(), c.facts.end());
    beside.facts(facts);
    beside.table("Holes, in the order of the program", hole_rows(holes));
    Flow rest(words, scribe_, {edge, std::min(beside.y(), top - picture.height)}, width, f.letters);
    rest.table(c.tools_title, c.tools);
    const double from = rest.y(), side = width - kSide - kPageInset;
    Flow sequence(words, scribe_, {edge, from}, f.side_by_side ? side : width, f.letters);
    sequence.table("Sequence", c.sequence);
    sequence.paragraph(c.time);
    Flow last(words, scribe_, f.side_by_side ? Vec2{edge + side + kPageInset, from} : Vec2{edge, sequence.y()},
              f.side_by_side ? kSide : width, f.letters);
    last_words(last, c);
    left = std::min(sequence.y(), last.y()) - kPageMargin;
    page.views.push_back(std::move(picture.view));
    page.views.push_back(std::move(words));
    return page;
  }

  void last_words(Flow& flow, const ClampingWords& c) const {
    flow.table("First part: measure before it leaves the machine", c.first_part);
    if (!c.offsets.empty()) flow.paragraph(c.offsets);
    if (c.id == words_.clampings.back().id && !words_.left_out.empty()) flow.table("Not in these programs", left_out());
    flow.cautions(words_.cautions);
  }

  [[nodiscard]] WordTable left_out() const {
    WordTable out{{"What, and how"}};
    for (const std::string& what : words_.left_out) out.push_back({what});
    return out;
  }

  [[nodiscard]] Picture drawn(const ClampingWords& c, double width, double height,
                              std::vector<NumberedHole>& holes) const {
    for (std::size_t i = 0; i < plan_.turnings.size(); ++i)
      if (plan_.turnings[i].id == c.id) return turning_picture(p_, i, proof_, units_, scribe_, width, height);
    const auto m = std::ranges::find(plan_.millings, c.id, &Milling::id);
    const auto text = std::ranges::find(texts_, c.id, &ProgramText::id);
    require(m != plan_.millings.end() && text != texts_.end(), "set-up pages: a clamping without its program");
    holes = numbered_holes(p_, *m, text->trace);
    return milling_picture(p_, *m, holes, scribe_, width, height);
  }

  [[nodiscard]] WordTable hole_rows(const std::vector<NumberedHole>& holes) const {
    if (holes.empty()) return {};
    const std::string unit = ", " + shown(0, "mm", units_).unit;
    WordTable out{{"", "Hole", "X" + unit, "Y" + unit}};
    const auto size = [&](double mm) { return shown(mm, "mm", units_).value; };
    for (const NumberedHole& h : holes)
      out.push_back({std::to_string(h.number), h.hole->id, size(h.at.x), size(h.at.y)});
    return out;
  }

  const Prepared& p_;
  const Plan& plan_;
  const std::vector<ProgramText>& texts_;
  const Proof& proof_;
  report::Units units_;
  plane::Scribe scribe_;
  SetupWords words_;
};

// ---- frames ----

constexpr double kCell = 62, kCellGap = 4, kFrameHatch = 1.2, kFrameCoarse = 0.02;
constexpr std::size_t kColumns = 5;

std::string caption(const Plan& plan, const removal::Frame& f) {
  std::string out = plan.turnings[f.clamping].id + " T" + std::to_string(f.tool);
  for (const toolpath::Station& s : plan.stations)
    if (s.number == f.tool) out += " " + s.tool.name;
  return out;
}

/// One small picture: its lower left corner at (0, 0), the zero at `zero`.
View frame_view(const Plan& plan, const Proof& proof, std::size_t i, double scale, Vec2 zero) {
  const removal::Frame& f = proof.frames[i];
  const Turning& t = plan.turnings[f.clamping];
  View view{"frame_" + std::to_string(i + 1), caption(plan, f), {}, {}};
  const auto placed = [&](const plane::Polygon& loop) {
    return plane::mapped(plane::run(loop, true), scale, t.turned, zero + Vec2{scale * t.shift, 0});
  };
  const auto thin = [&](const std::vector<plane::Polygon>& loops) { return coarser(loops, kFrameCoarse / scale); };
  const bool first = i == 0 || proof.frames[i - 1].clamping != f.clamping;
  const auto before = first ? std::vector<plane::Polygon>{plane::polyline(proof.stocks[f.clamping], kFrameCoarse)}
                            : proof.frames[i - 1].metal;
  std::vector<Path> metal;
  for (const plane::Polygon& m : thin(f.metal)) metal.push_back(placed(m));
  plane::hatch(view, metal, kFrameHatch);
  for (const plane::Polygon& b : thin(before)) view.lines.push_back({Ink::phantom, placed(b)});
  for (Path& m : metal) view.lines.push_back({Ink::visible, std::move(m)});
  return view;
}

}  // namespace

std::vector<SetupPage> setup_pages(const Prepared& prepared, const std::vector<ProgramText>& texts, const Proof& proof,
                                   report::Units units) {
  return Sheets(prepared, texts, proof, units).make();
}

plane::Page frames_page(const Prepared& prepared, const Proof& proof) {
  const Plan& plan = prepared.programs->plan;
  const plane::Scribe scribe(prepared.typeface);
  double left = 0, right = 0, top = 0;
  for (std::size_t i = 0; i < proof.stocks.size(); ++i) {
    const Turning& t = plan.turnings[i];
    const plane::Box b = plane::extents(plane::mapped(proof.stocks[i], 1, t.turned, {t.shift, 0}));
    left = std::min(left, b.low.x), right = std::max(right, b.high.x), top = std::max(top, b.high.y);
  }
  const double inner = kCell - 4, scale = std::min(inner / (right - left), inner / top);
  constexpr double kCaption = 14;
  const double high = scale * top + kCaption + 4;
  const std::size_t n = proof.frames.size(), columns = std::min(kColumns, std::max<std::size_t>(n, 2)),
                    rows = (n + columns - 1) / columns;
  const double edge = kPageMargin + kPageInset;
  const double width = 2 * edge + static_cast<double>(columns) * (kCell + kCellGap) - kCellGap;
  View head{"words", "What is shown", {}, {}};
  Flow flow(head, scribe, {edge, 0}, width - 2 * edge, plane::kLetters);
  flow.paragraph("How the metal goes: " + prepared.part.name, kTitle);
  flow.paragraph(
      "Half sections over the axis as each clamping turns, chuck left: hatched what a tool leaves once it is done, in "
      "phantom lines what it found. Worked out from the programs' own moves. Guard the spindle; never reach in while "
      "it turns.");
  const double height = 2 * edge - flow.y() + static_cast<double>(rows) * high;
  plane::Page page = bordered_page(width, height, "Removal of the metal: " + prepared.part.name,
                                   "Small half sections of the metal after each tool, in the order of work.");
  page.scale = scale;
  plane::move(head, {0, height - edge});
  const double first = height - edge + flow.y();
  page.views.push_back(std::move(head));
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t row = i / columns, column = i % columns;
    const Vec2 corner{edge + static_cast<double>(column) * (kCell + kCellGap),
                      first - static_cast<double>(row + 1) * high};
    View view = frame_view(plan, proof, i, scale, {-scale * left + 2, kCaption});
    plane::line(view, Ink::centre, {0, kCaption}, {scale * (right - left) + 4, kCaption});
    Flow words(view, scribe, {2, kCaption - 2}, kCell - 2, plane::kLetters);
    words.paragraph(caption(plan, proof.frames[i]));
    plane::move(view, corner);
    page.views.push_back(std::move(view));
  }
  return page;
}

}  // namespace groovewright::job
