#include <algorithm>
#include <cmath>

#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "groovewright/gauge.h"

namespace groovewright::gauge {
namespace {

using catalog::Groove;
using part::Part;
using part::Rim;

std::string standard_of(const Groove& g) { return g.standard + ":" + g.edition; }

/// Which of the laid balls lie in rim i: nearest to its grooves' middles.
std::vector<LaidBall> in_rim(const Part& part, std::size_t i, const std::vector<LaidBall>& all) {
  std::vector<LaidBall> mine;
  const double reach = part.rims[i].groove.pitch.value / 2;
  for (int k = 0; k < part.rims[i].grooves; ++k) {
    for (const LaidBall& b : all) {
      if (std::abs(b.z - part.groove_z(i, k)) < reach) mine.push_back(b);
    }
  }
  return mine;
}

/// A generator shorter than this share of a rim's longest is a facet of a rounding that happens to lean like a flank.
constexpr double kLeastShare = 0.25;

/// Of all that a witness found, what lies in the grooves of rim i, fillets below them and facets of roundings left out.
/// Rim by rim: flanks of PH are shorter than facets beside a groove of PM.
std::vector<plane::Generator> flanks_of(const Part& part, std::size_t i, const std::vector<plane::Generator>& all) {
  const Rim& rim = part.rims[i];
  const double half = rim.groove.pitch.value / 2, rear = part.groove_z(i, 0) - half,
               front = part.groove_z(i, rim.grooves - 1) + half;
  const double least = (rim.root_diameter() - rim.groove_depth()) / 2;
  std::vector<plane::Generator> mine;
  double longest = 0;
  for (const plane::Generator& g : all) {
    const plane::Vec2 middle = 0.5 * (g.a + g.b);
    if (middle.x < rear || middle.x > front || middle.y < least) continue;
    mine.push_back(g);
    longest = std::max(longest, norm(g.b - g.a));
  }
  std::erase_if(mine, [&](const plane::Generator& g) { return norm(g.b - g.a) < kLeastShare * longest; });
  return mine;
}

/// b_e + cord to back + rib below the effective line must close to the belt's height within this.
constexpr double kBeltHeightSlack = 0.3;
/// More than this is seldom meant.
constexpr double kLargeOverdrive = 60;
/// Tables print 2X to 0.01 mm; a profile that is farther off contradicts itself.
constexpr double kTwoXRounding = 0.006;
/// A thicker film is thin or chipped on sharp crests: from memory.
constexpr double kThickFilm = 0.025;

struct Spread {
  double least = 0, most = 0, mean = 0;
};
template <class Get>
Spread spread(const std::vector<LaidBall>& balls, Get get) {
  Spread s{get(balls.front()), get(balls.front()), 0};
  for (const LaidBall& b : balls) {
    const double v = get(b);
    s.least = std::min(s.least, v), s.most = std::max(s.most, v), s.mean += v / static_cast<double>(balls.size());
  }
  return s;
}

double over_balls_tolerance(const Rim& rim) {
  return rim.groove.over_balls_tolerance.at(rim.effective_diameter.value, rim.grooves);
}

Dimension mm(std::string id, std::string label, std::string symbol, double value, std::string source) {
  return {std::move(id), std::move(label), std::move(symbol), value, "mm", {}, {}, std::move(source)};
}
Dimension mm(std::string id, std::string label, std::string symbol, double value, double lower, double upper,
             std::string source) {
  return {std::move(id), std::move(label), std::move(symbol), value, "mm", lower, upper, std::move(source)};
}

// ---- sizes ----

/// A ball touches straight flank: further out than the root's rounding, further in than the crest's.
bool sits_on_flanks(const Rim& rim, double ball) {
  const double lean = cos_of(rim.groove.angle.half().rad());
  return ball / 2 > rim.root_radius.value && (ball / 2 + rim.crest_radius.value) * lean < rim.groove.pitch.value / 2;
}

void add_sizes(const Part& part, std::size_t i, Rows& rows) {
  const Rim& rim = part.rims[i];
  const Groove& g = rim.groove;
  const std::string id = Part::prefix(i);
  const double d_e = rim.effective_diameter.value, k = rim.over_balls(), tol = over_balls_tolerance(rim);
  const double least_tip = part::over_apex(g.pitch.value, g.angle, g.ball_diameter.value) +
                           part::rounding_loss(g.crest_radius_min.value, g.angle);
  auto add = [&](Dimension d) { rows.dimensions.push_back(std::move(d)); };
  add(mm(id + "diameter_over_balls", "Diameter over balls: set and measure this", "K", k, k - tol, k + tol,
         g.over_balls_tolerance.source + "; 2X by geometry, printed " + trimmed(g.two_x.value, 3)));
  add(mm(id + "ball_diameter", "Ball", "d_B", g.ball_diameter.value, g.ball_diameter.value - g.ball_tolerance.value,
         g.ball_diameter.value + g.ball_tolerance.value, g.ball_diameter.source));
  if (g.second_ball_diameter && sits_on_flanks(rim, g.second_ball_diameter->value)) {
    const catalog::Sourced& ball = *g.second_ball_diameter;
    const double over = rim.apex_diameter() + part::over_apex(g.pitch.value, g.angle, ball.value);
    add(mm(id + "second_ball_diameter", "Another ball", "d_B2", ball.value, ball.value - g.ball_tolerance.value,
           ball.value + g.ball_tolerance.value, ball.source));
    add(mm(id + "diameter_over_second_balls", "Diameter over those balls", "K_2", over, over - tol, over + tol,
           "the same flanks as K: d_B (1 + 1/sin h) - e/tan h over the apex"));
  }
  add(mm(id + "effective_diameter", "Effective diameter", "d_e", d_e, rim.effective_diameter.source));
  add(mm(id + "outside_diameter", "Outside diameter (turning size, follows K)", "d_o", rim.outside_diameter(),
         k - rim.two_n_max().value, k - least_tip,
         "d_e - 2 (r_t - r_t min)(1/sin h - 1); band by 2N max and r_t min of " + standard_of(g) +
             (rim.crest_by_other_standard() ? ", 2N max by " + rim.two_n_max().source : "")));
  add(mm(id + "pitch_diameter", "Pitch diameter", "d_p", rim.pitch_diameter(),
         "d_e + 2 b_e, b_e " + trimmed(rim.pitch_line_offset.value, 3) + " mm, " + rim.pitch_line_offset.source));
  rows.dimensions.push_back({id + "groove_count",
                             "Grooves, " + g.id + " by " + standard_of(g),
                             "n",
                             static_cast<double>(rim.grooves),
                             "",
                             {},
                             {},
                             "spec"});
  add(mm(id + "groove_pitch", "Groove pitch", "e", g.pitch.value, g.pitch.value - g.pitch_tolerance.value,
         g.pitch.value + g.pitch_tolerance.value, g.pitch.source));
  add(mm(id + "groove_pitch_sum", "Sum of pitch deviations over all grooves", "", 0,
         -g.cumulative_pitch_tolerance.value, g.cumulative_pitch_tolerance.value, g.cumulative_pitch_tolerance.source));
  rows.dimensions.push_back({id + "groove_angle", "Groove angle", "alpha", g.angle.deg(), "deg",
                             g.angle.deg() - g.angle_tolerance.deg(), g.angle.deg() + g.angle_tolerance.deg(),
                             g.angle_source});
  add(mm(id + "groove_depth", "Groove depth, crest to root", "", rim.groove_depth(),
         "computed from the groove's form"));
  add(mm(id + "root_diameter", "Root diameter", "", rim.root_diameter(), "computed from the groove's form"));
  Dimension crest = mm(id + "crest_radius", "Crest radius", "r_t", rim.crest_radius.value,
                       rim.crest_radius.source + "; least " + g.crest_radius_min.source);
  crest.lower = g.crest_radius_min.value;
  crest.upper = part::crest_radius_max(g);
  if (rim.crest_by_other_standard()) {
    crest.upper = g.crest_radius_elsewhere->value;
    crest.source += "; greatest " + g.crest_radius_elsewhere->source;
  }
  add(crest);
  Dimension root = mm(id + "root_radius", "Root radius", "r_b", rim.root_radius.value,
                      rim.root_radius.source + "; greatest " + g.root_radius_max.source);
  root.upper = g.root_radius_max.value;
  add(root);
  Dimension f = mm(id + "edge_distance", "Edge distance, outer groove's middle to face or flange wall", "f",
                   rim.edge_distance.value, rim.edge_distance.source);
  f.lower = g.edge_distance_min.value;
  add(f);
  const auto limit = [&](const char* name, const char* label, const catalog::SteppedLimit& l) {
    Dimension d = mm(id + name, label, "", l.at(d_e, rim.grooves), l.source);
    d.lower = 0, d.upper = d.value;
    add(d);
  };
  limit("groove_to_groove_limit", "Groove-to-groove diameter spread, at most", g.groove_to_groove);
  limit("radial_runout_limit", "Radial run-out FIM, at most, by spring-loaded ball", g.radial_runout);
  limit("axial_runout_limit", "Axial run-out FIM, at most, by spring-loaded ball", g.axial_runout);
  rows.dimensions.push_back({id + "groove_roughness", "Roughness of the groove flanks, at most", "Ra",
                             g.roughness_max.value, "um", 0.0, g.roughness_max.value, g.roughness_max.source});
  if (part.finish && part.finish->growth > 0) {
    const double grown = part.finish->growth, over = 2 * grown / sin_of(g.angle.half().rad());
    const std::string source = "film grows " + trimmed(grown * 1000, 1) + " um above the old surface (" +
                               part.finish->source + "); the standard checks before coating";
    add(mm(id + "diameter_over_balls_coated", "Diameter over balls after coating", "K", k + over, k + over - tol,
           k + over + tol, source));
    add(mm(id + "effective_diameter_coated", "Effective diameter after coating", "d_e", d_e + over, source));
    add(mm(id + "outside_diameter_coated", "Outside diameter after coating", "d_o", rim.outside_diameter() + 2 * grown,
           k + over - rim.two_n_max().value, k + over - least_tip, source));
    Dimension crest_after =
        mm(id + "crest_radius_coated", "Crest radius after coating", "r_t", rim.crest_radius.value + grown, source);
    crest_after.lower = crest.lower, crest_after.upper = crest.upper;
    add(crest_after);
    Dimension root_after = mm(id + "root_radius_coated", "Root radius after coating", "r_b",
                              std::max(0.0, rim.root_radius.value - grown), source);
    root_after.upper = root.upper;
    add(root_after);
  }
}

// ---- checks ----

void add_form_checks(const Part& part, std::size_t i, const std::vector<LaidBall>& all, const section::Section& section,
                     Rows& rows) {
  const Rim& rim = part.rims[i];
  const Groove& g = rim.groove;
  const std::string id = Part::prefix(i), standard = standard_of(g);
  const auto balls = in_rim(part, i, all);
  rows.checks.push_back(
      judged({id + "groove_count_found", "Grooves found in the outline", Verdict::pass,
              static_cast<double>(balls.size()), "", static_cast<double>(rim.grooves), static_cast<double>(rim.grooves),
              "spec", "each with two flanks that face each other"}));
  if (balls.empty()) return;
  const auto k = spread(balls, [](const LaidBall& b) { return b.over_balls; });
  const bool on_flanks = std::all_of(balls.begin(), balls.end(), [](const LaidBall& b) { return b.on_flanks; });
  Check spec{id + "effective_diameter_spec",
             "Effective diameter, from the spec",
             Verdict::pass,
             rim.effective_diameter.value,
             "mm",
             k.mean - part::two_x(g) - over_balls_tolerance(rim),
             k.mean - part::two_x(g) + over_balls_tolerance(rim),
             g.over_balls_tolerance.source,
             "closed form; a ball laid in the outline finds " + number(k.mean - part::two_x(g), 6) + " mm"};
  spec = judged(spec);
  if (std::abs(k.mean - part::two_x(g) - rim.effective_diameter.value) > kWitnessAgreement ||
      k.most - k.least > kWitnessAgreement || !on_flanks) {
    spec.verdict = Verdict::fail;
    spec.says += on_flanks ? ": they disagree" : ": the ball touches a rounding, not the flanks";
  }
  rows.checks.push_back(spec);
  if (std::abs(g.two_x.value - part::two_x(g)) > kTwoXRounding) {
    rows.checks.push_back({id + "two_x_printed", "2X that the groove data print, against their own geometry",
                           Verdict::doubt, g.two_x.value, "mm", part::two_x(g) - kTwoXRounding,
                           part::two_x(g) + kTwoXRounding, g.two_x.source,
                           "the profile contradicts itself: check pitch, angle, crest radius and ball"});
  }
  rows.checks.push_back(judged({id + "minimum_effective_diameter",
                                "Effective diameter, least for this section",
                                Verdict::pass,
                                rim.effective_diameter.value,
                                "mm",
                                g.effective_diameter_min.value,
                                {},
                                g.effective_diameter_min.source,
                                "a smaller pulley bends the belt more than it is made for"}));
  double pitch_low = g.pitch.value, pitch_high = g.pitch.value;
  for (std::size_t n = 0; n + 1 < balls.size(); ++n) {
    const double e = balls[n + 1].z - balls[n].z;
    pitch_low = n == 0 ? e : std::min(pitch_low, e), pitch_high = n == 0 ? e : std::max(pitch_high, e);
  }
  const double worst_pitch =
      std::abs(pitch_low - g.pitch.value) > std::abs(pitch_high - g.pitch.value) ? pitch_low : pitch_high;
  rows.checks.push_back(judged({id + "groove_pitch_found", "Groove pitch in the outline, the one farthest off",
                                Verdict::pass, worst_pitch, "mm", g.pitch.value - g.pitch_tolerance.value,
                                g.pitch.value + g.pitch_tolerance.value, g.pitch.source, "from ball to ball"}));
  const auto angle = spread(balls, [](const LaidBall& b) { return b.angle.deg(); });
  rows.checks.push_back(judged({id + "groove_angle_found", "Groove angle in the outline", Verdict::pass, angle.mean,
                                "deg", g.angle.deg() - g.angle_tolerance.deg(), g.angle.deg() + g.angle_tolerance.deg(),
                                g.angle_source, "between the two flanks"}));
  double crest = 0, root = 1e9;
  for (std::size_t n = 0; n < section.tags.size(); ++n) {
    const auto& tag = section.tags[n];
    const plane::Edge& e = section.body.section[n];
    if (tag.rim != static_cast<int>(i)) continue;
    if (tag.kind == section::Kind::crest) crest = std::max(crest, std::max({e.a.y, e.b.y, e.at(0.5).y}));
    if (tag.kind == section::Kind::root) root = std::min(root, e.at(0.5).y);
  }
  const catalog::Sourced two_n = rim.two_n_max();
  // What a belt rib needs is the depth that the standard's own radii leave at the least.
  const double least_depth = part::sharp_height(rim.form()) -
                             ((rim.two_n_max().value - part::over_apex(g.pitch.value, g.angle, g.ball_diameter.value)) +
                              part::rounding_loss(g.root_radius_max.value, g.angle)) /
                                 2;
  rows.checks.push_back(judged({id + "groove_depth_found",
                                "Groove depth in the outline",
                                Verdict::pass,
                                crest - root,
                                "mm",
                                least_depth,
                                {},
                                standard + ", depth left by its largest crest and root radii",
                                "crest to root"}));
  rows.checks.push_back(judged({id + "outside_diameter_found", "Outside diameter in the outline", Verdict::pass,
                                2 * crest, "mm", k.mean - two_n.value, k.mean - part::two_x(g), two_n.source,
                                "2N = K - d_o, at most " + trimmed(two_n.value, 3) + " mm"}));
  if (rim.crest_by_other_standard()) {
    rows.checks.push_back({id + "crest_radius_standards", "Crest radius on which two standards differ", Verdict::note,
                           rim.crest_radius.value, "mm", g.crest_radius_min.value, g.crest_radius_elsewhere->value,
                           g.crest_radius_elsewhere->source + "; against " + g.two_n_max.source,
                           "judged by the one that allows it: " + standard + " ends at " +
                               trimmed(part::crest_radius_max(g), 3) + " mm, its 2N max of " +
                               trimmed(g.two_n_max.value, 3) + " mm"});
  }
}

/// A reason makes an excess a note up to what belt makers agree to, and a doubt beyond; how far over is always said.
void accept_speed(const Part& part, const catalog::Belt& belt, Check& row) {
  const double over = row.value - belt.speed_max.value;
  const bool agreed = belt.speed_max_agreed && row.value <= belt.speed_max_agreed->value;
  row.verdict = agreed ? Verdict::note : Verdict::doubt;
  row.says += "; " + number(over, 1) + " m/s (" + number(100 * over / belt.speed_max.value, 1) +
              " %) over the usual limit, accepted in the spec: " + part.speed_reason;
  if (!belt.speed_max_agreed) return;
  row.source += "; " + trimmed(belt.speed_max_agreed->value, 1) + " m/s " + belt.speed_max_agreed->source;
  if (!agreed)
    row.says += "; even makers who agree to more end at " + trimmed(belt.speed_max_agreed->value, 1) + " m/s";
}

/// Only flanges keep a belt from running off sideways.
void add_guides(const Rim& rim, const std::string& id, Rows& rows) {
  if (!rim.guides || (rim.front && rim.rear)) return;
  const bool none = !rim.front && !rim.rear;
  rows.checks.push_back({id + "guides",
                         "Flanges of a rim that guides the belt",
                         none ? Verdict::fail : Verdict::note,
                         none ? 0.0 : 1.0,
                         "",
                         {},
                         2.0,
                         "common practice, no source",
                         none ? "a guiding rim has no flange: give it flanges, or drop 'guides'"
                              : std::string("the belt is guided at the ") + (rim.front ? "front" : "rear") + " only"});
}

/// Inch sheets place the cord much nearer to the effective line; ratios by them come out otherwise.
void add_other_pitch_line(const Rim& rim, const std::string& id, Rows& rows) {
  const auto& other = rim.groove.pitch_line_offset_elsewhere;
  if (!other) return;
  const double d_p = rim.effective_diameter.value + 2 * other->value;
  Check row{id + "pitch_diameter_elsewhere",
            "Pitch diameter by the inch sheet's pitch line",
            Verdict::note,
            d_p,
            "mm",
            {},
            {},
            other->source + "; against " + rim.pitch_line_offset.source,
            "b_e " + trimmed(other->value, 4) + " mm there, " + trimmed(rim.pitch_line_offset.value, 4) + " mm here"};
  if (rim.overdrive) {
    const double ratio = d_p / (rim.overdrive->reference_effective + 2 * other->value) - 1;
    row.says += "; by it the overdrive would read " + trimmed(100 * ratio, 2) + " % instead of " +
                trimmed(100 * rim.overdrive->ratio, 2) + " %";
  }
  rows.checks.push_back(row);
}

void add_belt_checks(const Part& part, std::size_t i, Rows& rows) {
  const Rim& rim = part.rims[i];
  const Groove& g = rim.groove;
  const std::string id = Part::prefix(i);
  const int spare = rim.grooves - rim.belt_ribs;
  rows.checks.push_back(judged({id + "belt_ribs", "Ribs of the belt", Verdict::pass, static_cast<double>(rim.belt_ribs),
                                "", 1.0, static_cast<double>(rim.grooves), "common practice, no source",
                                spare < 0    ? "the belt hangs over the rim"
                                : spare == 0 ? "every groove is used"
                                             : "grooves 1 to " + std::to_string(rim.belt_ribs) + " are used, " +
                                                   std::to_string(spare) + " spare in front"}));
  if (!rim.belt) {
    rows.checks.push_back({id + "belt_seat",
                           "Belt seat",
                           Verdict::note,
                           0,
                           "",
                           {},
                           {},
                           "catalogue",
                           "no belt data for this section: seat, flange height and belt speed are not judged"});
    return;
  }
  const catalog::Belt& belt = *rim.belt;
  // Rib and groove lean alike, so the rib sinks until its width at the effective line equals the groove's.
  const double h = g.angle.half().rad();
  const double sharp_root = rim.apex_diameter() / 2 - part::sharp_height(rim.form());
  const double seat = sharp_root + belt.rib_width.value / (2 * tan_of(h));
  const double gap = seat - belt.rib_height.value - rim.root_diameter() / 2;
  rows.checks.push_back(judged({id + "belt_seat",
                                "Room between the belt's rib and the groove root",
                                Verdict::pass,
                                gap,
                                "mm",
                                part.limit("belt_seat_clearance").value,
                                {},
                                belt.rib_height.source,
                                "the belt seats on the flanks, not on the root"}));
  const double sum = belt.rib_height.value + rim.pitch_line_offset.value + belt.cord_to_back.value;
  if (std::abs(sum - belt.height.value) > kBeltHeightSlack) {
    rows.checks.push_back({id + "belt_height_sum", "Rib, cord and back against the belt's height", Verdict::doubt, sum,
                           "mm", belt.height.value - kBeltHeightSlack, belt.height.value + kBeltHeightSlack,
                           belt.height.source, "the belt's figures do not add up: measure the belt"});
  }
  for (const auto& [flange, side] : {std::pair{&rim.front, "front"}, {&rim.rear, "rear"}}) {
    if (!*flange) continue;
    const double factor = part.limit("tall_flange_factor").value, limit = factor * belt.height.value;
    Check row{id + side + "_flange_height",
              std::string("Height of the ") + side + " flange above the crests",
              Verdict::note,
              (*flange)->height.value,
              "mm",
              {},
              {},
              part.limit("tall_flange_factor").source,
              ""};
    if (rim.guides) {
      row.upper = limit;
      row = judged(row);
    }
    row.says = std::string((*flange)->height.value > limit ? "tall: the belt needs more room to pass over it; " : "") +
               "a belt is up to " + trimmed(belt.height.value, 2) + " mm high";
    rows.checks.push_back(row);
  }
  if (part.maximum_speed) {
    const double speed = std::numbers::pi * rim.pitch_diameter() / 1000 * *part.maximum_speed / 60;
    Check row = judged({id + "belt_speed",
                        "Belt speed at the stated maximum",
                        Verdict::pass,
                        speed,
                        "m/s",
                        {},
                        belt.speed_max.value,
                        belt.speed_max.source,
                        "at " + trimmed(*part.maximum_speed, 1) + " rpm on the pitch line"});
    if (row.verdict == Verdict::fail && !part.speed_reason.empty()) accept_speed(part, belt, row);
    rows.checks.push_back(row);
  }
  if (part.finish && part.finish->film > kThickFilm) {
    rows.checks.push_back(
        {id + "coating_on_crests",
         "Film on the groove crests",
         Verdict::doubt,
         part.finish->film,
         "mm",
         {},
         kThickFilm,
         "from memory",
         "a film this thick is thin or chipped on crests of " + trimmed(rim.crest_radius.value, 3) + " mm radius"});
  }
}

void add_overdrive(const Rim& rim, const std::string& id, Rows& rows) {
  if (!rim.overdrive) return;
  const part::Overdrive& o = *rim.overdrive;
  const std::string reference = "reference d_e " + number(o.reference_effective, 3) + " mm; ";
  rows.checks.push_back({id + "overdrive_plain_ratio",
                         "What the plain diameter ratio would have given",
                         Verdict::note,
                         o.plain_effective,
                         "mm",
                         {},
                         {},
                         "pitch line, d_p = d_e + 2 b_e",
                         reference + "off by " + number(rim.effective_diameter.value - o.plain_effective, 3) +
                             " mm; it would overdrive by " + trimmed(100 * o.plain_overdrive, 2) + " % instead of " +
                             trimmed(100 * o.ratio, 2) + " %"});
  Check driver{id + "overdrive_driver",
               "Overdrive, for the driving pulley only",
               Verdict::note,
               100 * o.ratio,
               "%",
               {},
               kLargeOverdrive,
               "common practice, no source",
               "on the driven shaft instead, its pulley would have to change by " +
                   number(100 * (1 / (1 + o.ratio) - 1), 1) + " % of pitch diameter"};
  if (100 * o.ratio > kLargeOverdrive) {
    driver.verdict = Verdict::doubt;
    driver.says += "; this much is unusual: 30 % is written '30 %', not 1.3";
  }
  rows.checks.push_back(driver);
}

void add_damper(const Part& part, const section::Section& section, Rows& rows) {
  const auto row = [&](Verdict v, const char* says) {
    rows.checks.push_back(
        {"damper", "Torsional damper of the crankshaft", v, 0, "", {}, {}, "common practice, no source", says});
  };
  if (!part.damper) {
    row(Verdict::note, "not stated: if this part goes on a crankshaft, state 'damper'");
    return;
  }
  rows.checks.push_back({"added_inertia",
                         "Polar inertia that this part adds to the crankshaft",
                         Verdict::note,
                         section.mass.polar_inertia * part.material.density.value,
                         "kg mm2",
                         {},
                         {},
                         "closed forms over the outline",
                         "more inertia in front lowers the crankshaft's torsional frequencies"});
  switch (*part.damper) {
    case part::Damper::none:
      row(Verdict::note, "the engine has none");
      break;
    case part::Damper::kept:
      row(Verdict::note, "kept: this part does not touch it");
      break;
    case part::Damper::on_hub:
      row(Verdict::note, "the belt's load goes through the damper's hub, not its rubber");
      break;
    case part::Damper::replaced:
      row(Verdict::note, "replaced: the crankshaft runs undamped; see the first caution");
      break;
    case part::Damper::on_inertia_ring:
      row(Verdict::fail, "the belt's load would go through the damper's rubber: fix to the hub instead");
      break;
  }
}

}  // namespace

Rows sizes(const Part& part) {
  Rows rows;
  for (std::size_t i = 0; i < part.rims.size(); ++i) {
    Rows mine;
    add_sizes(part, i, mine);
    rows.append(part.named(std::move(mine), i));
  }
  return rows;
}

Rows check(const Part& part, const section::Section& section) {
  Rows rows;
  for (std::size_t i = 0; i < part.rims.size(); ++i) {
    Rows mine;
    const auto balls = lay_balls(flanks(section), part.rims[i].groove.ball_diameter.value);
    add_form_checks(part, i, balls, section, mine);
    add_belt_checks(part, i, mine);
    add_overdrive(part.rims[i], Part::prefix(i), mine);
    add_other_pitch_line(part.rims[i], Part::prefix(i), mine);
    add_guides(part.rims[i], Part::prefix(i), mine);
    rows.append(part.named(std::move(mine), i));
  }
  add_damper(part, section, rows);
  return rows;
}

namespace {

Rows judge_rim(const Part& part, std::size_t i, const Witness& witness) {
  const Rim& rim = part.rims[i];
  const std::string id = Part::prefix(i);
  const auto balls = in_rim(part, i, lay_balls(flanks_of(part, i, witness.generators), rim.groove.ball_diameter.value));
  const double tol = over_balls_tolerance(rim), nominal = rim.effective_diameter.value;
  Check row{id + "effective_diameter_" + witness.id,
            "Effective diameter, from the " + witness.what,
            Verdict::fail,
            0,
            "mm",
            nominal - tol,
            nominal + tol,
            rim.groove.over_balls_tolerance.source,
            ""};
  if (static_cast<int>(balls.size()) != rim.grooves) {
    row.says = "found " + std::to_string(balls.size()) + " grooves instead of " + std::to_string(rim.grooves);
    return {{}, {row}, {}};
  }
  const auto k = spread(balls, [](const LaidBall& b) { return b.over_balls; });
  const bool on_flanks = std::all_of(balls.begin(), balls.end(), [](const LaidBall& b) { return b.on_flanks; });
  row.value = k.mean - part::two_x(rim.groove);
  row = judged(row, witness.uncertainty);
  const double off = row.value - nominal, allowed = witness.uncertainty > 0 ? witness.uncertainty : kWitnessAgreement;
  row.says = "K " + number(k.mean, 6) + " mm over " + std::to_string(balls.size()) + " balls, " + number(off, 6) +
             " mm off the spec";
  if (witness.uncertainty > 0) row.says += ", uncertainty " + number(witness.uncertainty, 3) + " mm";
  if (std::abs(off) > allowed || !on_flanks) {
    row.verdict = Verdict::fail;
    row.says += on_flanks ? ": the witnesses disagree" : ": a ball touches a rounding, not the flanks";
  }
  const Check spread_row = judged({id + "groove_to_groove_" + witness.id,
                                   "Groove-to-groove spread, from the " + witness.what,
                                   Verdict::pass,
                                   k.most - k.least,
                                   "mm",
                                   {},
                                   rim.groove.groove_to_groove.at(nominal, rim.grooves),
                                   rim.groove.groove_to_groove.source,
                                   "greatest less least diameter over balls"});
  return {{}, {row, spread_row}, {}};
}

}  // namespace

Rows judge(const Part& part, const Witness& witness) {
  Rows rows;
  for (std::size_t i = 0; i < part.rims.size(); ++i) rows.append(part.named(judge_rim(part, i, witness), i));
  return rows;
}

Rows not_judged(const Part& part, const std::string& witness, const std::string& what) {
  Rows rows;
  for (std::size_t i = 0; i < part.rims.size(); ++i) {
    const Check row{Part::prefix(i) + "effective_diameter_" + witness,
                    "Effective diameter, from the " + what,
                    Verdict::unchecked,
                    0,
                    "mm",
                    {},
                    {},
                    part.rims[i].groove.over_balls_tolerance.source,
                    "not checked here"};
    rows.append(part.named({{}, {row}, {}}, i));
  }
  return rows;
}

}  // namespace groovewright::gauge
