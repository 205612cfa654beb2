#include <numbers>
#include <set>

#include "arcs.h"
#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/ink.h"

namespace groovewright::ink {
namespace {

using plane::Edge;
using plane::Vec2;

constexpr int kDecimals = 4;

std::string mm(double v) { return trimmed(v, kDecimals); }

/// Fit for an element or an attribute in double quotes. What XML can't hold at all is shown as \xNN.
std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : one_line(text)) put_xml(out, c);
  return out;
}

std::string attribute(std::string_view name, std::string_view value) {
  return " " + std::string(name) + "=\"" + escaped(value) + "\"";
}

/// A family's name as CSS takes it, between single quotes.
std::string css_string(std::string_view text) {
  std::string out = "'";
  for (const char c : one_line(text)) {
    if (c == '\'' || c == '\\') out += '\\';
    out += c;
  }
  return out + "'";
}

class SvgWriter {
 public:
  SvgWriter(const plane::Page& page, const Typeface& typeface) : page_(page), typeface_(typeface) {}

  [[nodiscard]] std::string write() {
    head();
    style();
    line("<rect" + attribute("width", mm(page_.width)) + attribute("height", mm(page_.height)) + " fill=\"#fff\"/>");
    std::set<std::string> ids;
    for (const plane::View& view : page_.views) {
      require(ids.insert(view.id).second, "to_svg: two views share an id");
      add(view);
    }
    line("</svg>");
    return std::move(out_);
  }

 private:
  void line(const std::string& text) { out_.append(text).append("\n"); }
  void element(const std::string& name, const std::string& attributes, std::string_view text) {
    line("<" + name + attributes + ">" + escaped(text) + "</" + name + ">");
  }
  /// SVG's y runs down.
  [[nodiscard]] Vec2 placed(Vec2 p) const { return {p.x, page_.height - p.y}; }
  [[nodiscard]] std::string point(Vec2 p) const { return mm(placed(p).x) + " " + mm(placed(p).y); }

  void head() {
    line(R"(<?xml version="1.0" encoding="UTF-8"?>)");
    line(R"(<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-labelledby="page-title page-description")" +
         attribute("width", mm(page_.width) + "mm") + attribute("height", mm(page_.height) + "mm") +
         attribute("viewBox", "0 0 " + mm(page_.width) + " " + mm(page_.height)) + ">");
    element("title", attribute("id", "page-title"), page_.title);
    element("desc", attribute("id", "page-description"), page_.description);
  }

  void style() {
    line("<style>");
    line("path { fill: none; stroke: #000; stroke-linecap: round; stroke-linejoin: round }");
    for (const plane::Ink ink : plane::kInks) {
      const plane::Pen pen = plane::pen(ink);
      std::string rule = "." + std::string(plane::to_text(ink)) + " { stroke-width: " + mm(pen.width);
      if (!pen.dashes.empty()) {
        rule += "; stroke-linecap: butt; stroke-dasharray:";
        for (const double dash : pen.dashes) rule += " " + mm(dash);
      }
      line(rule + " }");
    }
    line("path.filled { fill: #000; stroke: none }");
    // Letters stand as far apart as their advance widths say: no pair is moved or joined.
    line("text { font-family: " + css_string(typeface_.family) +
         ", sans-serif; font-kerning: none; font-variant-ligatures: none; fill: #000; white-space: pre }");
    line("</style>");
  }

  void add(const plane::View& view) {
    line("<g class=\"view\"" + attribute("id", view.id) + ">");
    element("title", "", view.title);
    for (const plane::Inked& inked : view.lines) add(inked);
    for (const plane::Words& words : view.words) add(words);
    line("</g>");
  }

  [[nodiscard]] std::string step(const Edge& edge) const {
    if (!edge.is_arc()) return "L" + point(edge.b);
    const std::string radius = mm(edge.radius());
    // Counter-clockwise as seen is SVG's negative direction.
    return "A" + radius + " " + radius + " 0 0 " + (edge.turn == Edge::Turn::ccw ? "0 " : "1 ") + point(edge.b);
  }

  void add(const plane::Inked& inked) {
    if (inked.path.empty()) return;
    std::string d = "M" + point(inked.path.front().a);
    for (const Edge& edge : in_half_turns(inked.path)) d += step(edge);
    if (plane::is_closed(inked.path)) d += "Z";
    line("<path" + attribute("class", std::string(plane::to_text(inked.ink)) + (inked.filled ? " filled" : "")) +
         attribute("d", d) + "/>");
  }

  void add(const plane::Words& words) {
    const Vec2 at = placed(words.at);
    std::string attributes = attribute("x", mm(at.x)) + attribute("y", mm(at.y)) +
                             attribute("font-size", mm(words.height * typeface_.em)) +
                             attribute("textLength", mm(plane::text_width(typeface_, words.text, words.height))) +
                             attribute("lengthAdjust", "spacingAndGlyphs");
    if (words.align != plane::Align::left) {
      attributes += attribute("text-anchor", words.align == plane::Align::middle ? "middle" : "end");
    }
    if (words.angle != 0) {
      attributes += attribute(
          "transform", "rotate(" + mm(-words.angle * 180 / std::numbers::pi) + " " + mm(at.x) + " " + mm(at.y) + ")");
    }
    element("text", attributes + " xml:space=\"preserve\"", plane::drawable(typeface_, words.text));
  }

  const plane::Page& page_;
  const Typeface& typeface_;
  std::string out_;
};

}  // namespace

std::string to_svg(const plane::Page& page, const Typeface& typeface) {
  require(page.width > 0 && page.height > 0, "to_svg: the page has a size");
  return SvgWriter(page, typeface).write();
}

}  // namespace groovewright::ink
