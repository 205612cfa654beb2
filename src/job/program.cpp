#include "program.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "groovewright/gauge.h"
#include "groovewright/plane/clip.h"
#include "groovewright/plane/pieces.h"

namespace groovewright::job {
namespace {

using plane::Vec2;
using toolpath::Milling;
using toolpath::Plan;
using toolpath::Turning;

constexpr double kMissing = 0.005;         // mm: metal that may be missing
constexpr double kLeftOnFlanks = 0.01;     // mm left on flanks, and on what else is finished, at most
constexpr double kProgramWitness = 0.002;  // mm on diameter
constexpr double kPlaced = 0.005;          // mm: how near a hole must lie to where it is due

std::string mm(double v) { return trimmed(v, 3) + " mm"; }

std::vector<std::string> header(const Prepared& p, const std::string& id, const std::string& machine,
                                const std::vector<std::string>& held) {
  const part::Part& part = p.part;
  std::vector<std::string> out{part.name + " " + id + (part.revision.empty() ? "" : ", revision " + part.revision),
                               part.designation() + ", " + part.material.name, "machine: " + machine};
  out.insert(out.end(), held.begin(), held.end());
  out.emplace_back("units mm, made by " + program());
  if (!p.programs->plan.cutting.coolant) out.emplace_back("cut dry: draw the dust off");
  out.emplace_back("try it first without a part and with feeds turned down");
  out.emplace_back("guard the spindle, keep the chuck's limit, never measure while it turns");
  out.emplace_back("local codes and qualified practice go before this program");
  return out;
}

/// "T3: Boring bar 16 mm" for each tool that the operations use.
template <class Stations>
void add_tools(std::vector<std::string>& lines, const Stations& stations,
               const std::vector<toolpath::Operation>& operations) {
  const std::set<int> used = stations_used(operations);
  for (const auto& s : stations)
    if (used.contains(s.number)) lines.push_back("T" + std::to_string(s.number) + ": " + s.tool.name);
}

nc::Script with_header(const Prepared& p, const Turning& t) {
  const Plan& plan = p.programs->plan;
  std::vector<std::string> held{"held " + t.how, "zero: axis, and the finished face on the free side",
                                "spindle at most " + trimmed(t.max_rpm, 0) + " rpm: " + t.max_rpm_why};
  add_tools(held, plan.stations, t.operations);
  nc::Script script = t.script;
  script.header = header(p, t.id, plan.lathe.name, held);
  return script;
}

nc::Script with_header(const Prepared& p, const Milling& m) {
  const Plan& plan = p.programs->plan;
  std::vector<std::string> held{
      "held on the finished bore, " + std::string(m.rear_up ? "rear" : "front") + " face up",
      "zero: axis, and the hub's face that is up; X to 3 o'clock, Y to 12 o'clock of that face"};
  add_tools(held, plan.mill_stations, m.operations);
  nc::Script script = m.script;
  script.header = header(p, m.id, plan.mill.name, held);
  return script;
}

ProgramText written(const std::string& id, const nc::Script& script, const nc::Dialect& dialect) {
  ProgramText out{id, nc::write(script, dialect), {}};
  Diagnostics mistakes;
  const auto read = nc::read(id, out.text, mistakes);
  require(read.has_value(), "a program of ours can't be read");
  out.trace = nc::trace(*read, dialect);
  return out;
}

/// The tool about the point that programs steer.
removal::LatheTool lathe_tool(const toolpath::Station& s, bool steers_nose_centre) {
  const toolpath::Shape shape = toolpath::shape(s.tool, steers_nose_centre);
  const Vec2 back = -1.0 * shape.steered;
  const auto moved = [&](std::vector<plane::Path> paths) {
    for (plane::Path& path : paths) path = plane::mapped(path, 1, false, back);
    return paths;
  };
  return {s.number, moved(shape.cutting), moved(shape.holder)};
}

/// The stock of a clamping: what the last one left, less what is sawn off. Part's half plane.
plane::Path stock_for(const Turning& t, const plane::Path& whole, const std::vector<plane::Polygon>& left) {
  if (left.empty()) return whole;
  std::vector<plane::Polygon> metal = left;
  if (t.sawn) {
    const double from = t.turned ? -1e3 : *t.sawn, to = t.turned ? *t.sawn : 1e3;
    metal = plane::cut(metal, {{{from, -1}, {to, -1}, {to, 1e3}, {from, 1e3}}});
  }
  const auto largest = std::max_element(metal.begin(), metal.end(), [](const auto& a, const auto& b) {
    return plane::area(std::vector<plane::Polygon>{a}) < plane::area(std::vector<plane::Polygon>{b});
  });
  require(largest != metal.end(), "prove: nothing is left of the stock");
  return plane::run(*largest, true);
}

struct Turned {
  std::vector<plane::Polygon> metal;
  std::vector<removal::Finding> findings;
  std::vector<removal::Frame> frames;
  std::vector<plane::Path> stocks;
  double volume = 0;
};

Turned turn(const Plan& plan, const std::vector<ProgramText>& texts) {
  std::vector<removal::LatheTool> tools;
  for (const toolpath::Station& s : plan.stations) tools.push_back(lathe_tool(s, plan.lathe.steers_nose_centre));
  Turned out;
  for (std::size_t i = 0; i < plan.turnings.size(); ++i) {
    const Turning& t = plan.turnings[i];
    removal::Clamping clamping{text_of(texts, t.id).trace, t.turned, t.shift, t.keep_out, t.max_rpm, t.low, t.high};
    out.stocks.push_back(stock_for(t, plan.stock, out.metal));
    removal::Removal r = removal::remove({&clamping, 1}, tools, out.stocks.back());
    out.metal = std::move(r.metal);
    out.volume = r.volume;
    for (removal::Finding f : r.findings) {
      f.clamping = i;
      out.findings.push_back(std::move(f));
    }
    for (removal::Frame f : r.frames) {
      f.clamping = i;
      out.frames.push_back(std::move(f));
    }
  }
  return out;
}

/// Metal that a nose can't help leaving beside an edge: in a sharp inner corner at its end.
double left_in_corner(const plane::Path& outline, std::size_t edge, double nose) {
  const std::size_t n = outline.size();
  double most = 0;
  for (const auto& [a, b] : {std::pair{(edge + n - 1) % n, edge}, std::pair{edge, (edge + 1) % n}}) {
    const Vec2 u = outline[a].tangent_at(1), v = outline[b].tangent_at(0);
    const double turn = atan2_of(plane::cross(u, v), plane::dot(u, v));
    if (turn < -1e-6) most = std::max(most, nose * (1 - cos_of(turn / 2)));
  }
  return most;
}

Check row(const std::string& id, const std::string& label, double value, const std::string& unit,
          std::optional<double> upper, const std::string& says) {
  return judged({id, label, Verdict::pass, value, unit, {}, upper, "own promise", says});
}

Check moves_row(const std::vector<removal::Finding>& findings, const Plan& plan) {
  std::string says =
      "no rapid move through metal, no holder in metal, no tool in jaws or fixture, within travels and "
      "spindle limits";
  if (!findings.empty()) {
    const removal::Finding& f = findings.front();
    says = plan.turnings[f.clamping].id + " line " + std::to_string(f.line) + ": " + f.says;
  }
  return row("program_moves", "Programs: moves that would do harm", static_cast<double>(findings.size()), "", 0.0,
             says);
}

Rows compared(const Prepared& p, const Turned& t) {
  const section::Section& made = p.programs->made;
  const plane::Path& wanted = made.body.section;
  const removal::Comparison c = removal::compare(t.metal, wanted);
  const double nose = p.part.limit("inner_corner_radius").value;
  const std::set<std::size_t> partly(p.programs->plan.partly.begin(), p.programs->plan.partly.end());
  double flanks = 0, others = 0, beyond = 0, in_part = 0;
  std::string where = "everywhere";
  for (std::size_t i = 0; i < c.edges.size(); ++i) {
    const section::Kind kind = made.tags[i].kind;
    const double left = c.edges[i].left;
    if (kind == section::Kind::flank) {
      flanks = std::max(flanks, left);
    } else if (partly.contains(i)) {
      in_part = std::max(in_part, left);
    } else {
      others = std::max(others, left);
      const double over = left - left_in_corner(wanted, i, nose);
      if (over > beyond) {
        beyond = over;
        where = "most at the " + std::string(section::to_text(kind)) + ", D " + mm(2 * wanted[i].at(0.5).y);
      }
    }
  }
  Rows rows;
  rows.checks.push_back(
      row("program_missing", "Programs: metal missing from the turned part", c.missing, "mm", kMissing,
          c.missing > 1e-6 ? "most at D " + mm(2 * c.missing_at.y) + ", Z " + mm(c.missing_at.x) : "nowhere"));
  rows.checks.push_back(row("program_flanks", "Programs: metal left on the flanks", flanks, "mm", kLeftOnFlanks,
                            "from the text of the programs, read back and cut"));
  rows.checks.push_back(row("program_left", "Programs: metal left on other finished surfaces", beyond, "mm",
                            kLeftOnFlanks, where + "; sharp inner corners keep the nose's radius, up to " + mm(nose)));
  if (!partly.empty())
    rows.checks.push_back({"program_left_in_part",
                           "Programs: metal left where no nose reaches",
                           Verdict::note,
                           in_part,
                           "mm",
                           {},
                           {},
                           "own promise",
                           "see the set-up sheet; a form tool would clear it"});

  const std::vector<plane::Generator> due = gauge::flanks(made);
  std::vector<plane::Generator> found = removal::borders(t.metal, due, 0.1);
  std::erase_if(found, [](const plane::Generator& g) { return g.a == g.b; });
  rows.append(gauge::judge(p.part, {"program", "metal that the programs leave", std::move(found), kProgramWitness}));

  const plane::MassProperties part = plane::mass_properties({wanted, {}, {}, {}});
  rows.checks.push_back(
      judged({"program_volume", "Programs: volume of the turned part", Verdict::pass, t.volume, "mm3",
              part.volume - kMissing * part.surface, part.volume + (kLeftOnFlanks + others) * part.surface,
              "own promise: Pappus, within what may be missing or left over the whole surface", "openings left out"}));
  return rows;
}

// ---- holes ----

/// Holes of the part's patterns: those that programs make. Round windows of a web are not among them.
std::vector<plane::RoundHole> holes_due(const Prepared& p) {
  std::vector<plane::RoundHole> out;
  for (const plane::RoundHole& h : p.section.body.holes) {
    const std::string id = h.id.substr(0, h.id.find('['));
    if (std::any_of(p.part.holes.begin(), p.part.holes.end(), [&](const auto& pattern) { return pattern.id == id; }))
      out.push_back(h);
  }
  return out;
}

/// What is wrong with the holes that a mill's program makes; nothing where they are the part's.
std::vector<std::string> holes_wrong(const Prepared& p, const Milling& m, const ProgramText& text, int& made) {
  const Plan& plan = p.programs->plan;
  std::vector<removal::RotatingTool> tools;
  for (const toolpath::MillStation& s : plan.mill_stations) {
    const auto& t = s.tool;
    // Taps and reamers have shanks thinner than what they cut.
    const bool thin = t.use == catalog::MillingTool::Use::tap || t.use == catalog::MillingTool::Use::reamer;
    const double cuts = thin ? t.length : t.flute;
    tools.push_back({s.number, t.diameter, t.point_length(), cuts, std::max(t.holder_diameter, t.diameter), t.pitch});
  }
  // The highest face that has holes: above it the program goes free.
  double top = -1e9;
  const std::vector<plane::RoundHole> holes = holes_due(p);
  for (const plane::RoundHole& h : holes)
    for (const Vec2& q : h.profile) top = std::max(top, m.rear_up ? m.face - q.x : q.x - m.face);
  const removal::Drilling d = removal::drill(text.trace, tools, top);
  std::vector<std::string> out;
  for (const removal::Finding& f : d.findings) out.push_back(m.id + " line " + std::to_string(f.line) + ": " + f.says);
  std::set<std::size_t> used;
  for (const plane::RoundHole& h : holes) {
    const Vec2 at{m.rear_up ? -h.at.x : h.at.x, h.at.y};
    std::vector<std::size_t> here;
    for (std::size_t i = 0; i < d.bored.size(); ++i)
      if (std::hypot(d.bored[i].x - at.x, d.bored[i].y - at.y) < kPlaced) here.push_back(i);
    if (here.empty()) continue;  // of the other clamping, or told below
    ++made;
    used.insert(here.begin(), here.end());
    // Every cylinder of the hole needs a tool that left that diameter down to its end.
    const auto down = [&](double z) { return m.rear_up ? m.face - z : z - m.face; };
    for (std::size_t k = 0; k + 1 < h.profile.size(); ++k) {
      const Vec2 a = h.profile[k], b = h.profile[k + 1];
      if (std::abs(a.y - b.y) > 1e-6 || std::abs(a.x - b.x) < 1e-6 || a.y < 1e-6) continue;
      const double end = std::min(down(a.x), down(b.x)), diameter = 2 * a.y;
      const auto fits = [&](std::size_t i) {
        const removal::Bored& bored = d.bored[i];
        const bool deep = h.through && bored.diameter < 2 * plane::widest(h) - 1e-3
                              ? bored.bottom < end + 1e-3
                              : std::abs(bored.bottom - end) < 0.02;
        return std::abs(bored.diameter - diameter) < 0.02 && deep;
      };
      if (std::none_of(here.begin(), here.end(), fits))
        out.push_back(m.id + ": " + h.id + " lacks its D " + mm(diameter) + " down to Z " + mm(end));
    }
  }
  for (std::size_t i = 0; i < d.bored.size(); ++i)
    if (!used.contains(i))
      out.push_back(m.id + " line " + std::to_string(d.bored[i].line) + ": a hole where the part has none, X " +
                    mm(d.bored[i].x) + " Y " + mm(d.bored[i].y));
  return out;
}

double length(const nc::Move& m) {
  const bool arc = m.kind == nc::Move::Kind::cw || m.kind == nc::Move::Kind::ccw;
  const bool lathe = m.plane == nc::Plane::zx;
  const Vec2 a{lathe ? m.from.z : m.from.x, lathe ? m.from.x : m.from.y},
      b{lathe ? m.to.z : m.to.x, lathe ? m.to.x : m.to.y};
  double flat = plane::norm(b - a);
  if (arc) {
    const Vec2 c{lathe ? m.centre.z : m.centre.x, lathe ? m.centre.x : m.centre.y};
    const auto turn = m.kind == nc::Move::Kind::ccw ? plane::Edge::Turn::ccw : plane::Edge::Turn::cw;
    flat = plane::Edge{a, b, turn, c}.length();
  }
  return std::hypot(flat, lathe ? 0 : m.to.z - m.from.z);
}

double seconds_of(const nc::Move& m, const catalog::Machine& machine) {
  if (m.kind == nc::Move::Kind::dwell) return m.feed;
  if (m.kind == nc::Move::Kind::rapid) return 60 * length(m) / machine.rapid;
  double per_minute = m.feed;
  if (m.feed_per_turn) {
    double rpm = m.spindle.rpm;
    if (m.spindle.surface > 0) {
      const double diameter = std::max(1e-3, std::abs(m.from.x) + std::abs(m.to.x));
      const double most = m.spindle.max_rpm > 0 ? std::min(m.spindle.max_rpm, machine.max_rpm) : machine.max_rpm;
      rpm = std::min(most, 1000 * m.spindle.surface / (std::numbers::pi * diameter));
    }
    per_minute = m.feed * rpm;
  }
  return per_minute > 0 ? 60 * length(m) / per_minute : 0;
}

}  // namespace

const ProgramText& text_of(const std::vector<ProgramText>& texts, const std::string& id) {
  const auto found = std::find_if(texts.begin(), texts.end(), [&](const ProgramText& t) { return t.id == id; });
  require(found != texts.end(), "a clamping without its program");
  return *found;
}

const catalog::Machine& machine_for(const Plan& plan, const std::string& id) {
  const auto is_it = [&](const Turning& t) { return t.id == id; };
  return std::any_of(plan.turnings.begin(), plan.turnings.end(), is_it) ? plan.lathe : plan.mill;
}

std::set<int> stations_used(const std::vector<toolpath::Operation>& operations) {
  std::set<int> out;
  for (const toolpath::Operation& o : operations) out.insert(o.station);
  return out;
}

std::vector<ProgramText> write_programs(const Prepared& p) {
  require(p.programs.has_value(), "the programs were not planned");
  const Programs& programs = *p.programs;
  std::vector<ProgramText> out;
  for (const std::string& id : programs.plan.order) {
    for (const Turning& t : programs.plan.turnings)
      if (t.id == id) out.push_back(written(id, with_header(p, t), programs.lathe));
    for (const Milling& m : programs.plan.millings)
      if (m.id == id) out.push_back(written(id, with_header(p, m), programs.mill));
  }
  return out;
}

Proof prove(const Prepared& p, const std::vector<ProgramText>& texts) {
  const Plan& plan = p.programs->plan;
  Turned turned = turn(plan, texts);
  std::vector<std::string> wrong;
  int made = 0;
  for (const Milling& m : plan.millings) {
    for (std::string& w : holes_wrong(p, m, text_of(texts, m.id), made)) wrong.push_back(std::move(w));
  }
  Proof out;
  out.rows = compared(p, turned);
  out.rows.checks.insert(out.rows.checks.begin(), moves_row(turned.findings, plan));
  const auto due = static_cast<double>(holes_due(p).size());
  if (due > 0) {
    Check holes = judged({"program_holes", "Programs: holes made as the part has them", Verdict::pass,
                          static_cast<double>(made), "", due, due, "own promise",
                          wrong.empty() ? "place, diameters and depths from the text of the programs" : wrong.front()});
    if (!wrong.empty()) holes.verdict = Verdict::fail;
    out.rows.checks.push_back(std::move(holes));
  }
  double total = 0;
  for (const ProgramText& t : texts) total += seconds(t.trace, machine_for(plan, t.id));
  out.rows.checks.push_back({"program_time",
                             "Programs: time of the moves, all clampings",
                             Verdict::note,
                             total / 60,
                             "min",
                             {},
                             {},
                             "computed from the programs",
                             "without setting up, changing tools or measuring"});
  out.frames = std::move(turned.frames);
  out.stocks = std::move(turned.stocks);
  return out;
}

double seconds(const nc::Trace& trace, const catalog::Machine& machine) {
  double sum = 0;
  for (const nc::Move& m : trace.moves) sum += seconds_of(m, machine);
  return sum;
}

double seconds(const nc::Trace& trace, const catalog::Machine& machine, int tool) {
  double sum = 0;
  for (const nc::Move& m : trace.moves)
    if (m.tool == tool) sum += seconds_of(m, machine);
  return sum;
}

}  // namespace groovewright::job
