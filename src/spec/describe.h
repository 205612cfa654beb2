// describe.h: the one description of the pulley document: keys, kinds, limits and a line of help each. The reader and
// the schema writer are two visitors of it, so they cannot disagree.
#pragma once

#include <array>
#include <limits>
#include <string_view>
#include <vector>

#include "bounds.h"
#include "groovewright/spec.h"

namespace groovewright::spec {

inline constexpr std::array kSides{Choice{"front", Side::front}, Choice{"rear", Side::rear}};
inline constexpr std::array kHoleKinds{Choice{"clearance", HoleKind::clearance}, Choice{"tapped", HoleKind::tapped}};
inline constexpr std::array kSeries{Choice{"fine", ClearanceSeries::fine}, Choice{"medium", ClearanceSeries::medium},
                                    Choice{"coarse", ClearanceSeries::coarse}};
inline constexpr std::array kDampers{Choice{"none", Damper::none}, Choice{"kept", Damper::kept},
                                     Choice{"replaced", Damper::replaced}, Choice{"on_hub", Damper::on_hub},
                                     Choice{"on_inertia_ring", Damper::on_inertia_ring}};
inline constexpr std::array kMarkPlaces{Choice{"front", MarkPlace::front}, Choice{"rear", MarkPlace::rear},
                                        Choice{"front_edge", MarkPlace::front_edge},
                                        Choice{"rear_edge", MarkPlace::rear_edge}};
inline constexpr std::array kZeroReferences{Choice{"keyway", ZeroReference::keyway},
                                            Choice{"dowel", ZeroReference::dowel}, Choice{"hole", ZeroReference::hole},
                                            Choice{"top", ZeroReference::top}};
inline constexpr std::array kStockForms{Choice{"bar", StockForm::bar}, Choice{"blank", StockForm::blank}};
inline constexpr std::array kProjections{Choice{"first", Projection::first}, Choice{"third", Projection::third}};

// Each `describe` names the keys of one map. `V` is Reader or SchemaWriter; both offer the same calls.

template <class V, class S>
void describe_diameters(V& v, S& s) {
  v.length("effective_diameter", s.effective_diameter, "d_e, the standard's reference diameter");
  v.length("outside_diameter", s.outside_diameter, "d_o, over the crests");
  v.length("pitch_diameter", s.pitch_diameter, "d_p = d_e + 2 b_e, what sets the speed ratio");
  v.length("diameter_over_balls", s.diameter_over_balls, "K, over the standard's balls");
}

template <class V>
void describe(V& v, ReferenceSize& s) {
  describe_diameters(v, s);
  v.exactly_one({"effective_diameter", "outside_diameter", "pitch_diameter", "diameter_over_balls"});
}

template <class V>
void describe(V& v, Size& s) {
  describe_diameters(v, s);
  v.ratio("overdrive", s.overdrive, {-0.9, 9.0}, "how much faster than with the reference pulley, on the pitch line");
  v.object("of", s.of, "the reference pulley that the overdrive is measured from");
  v.exactly_one({"effective_diameter", "outside_diameter", "pitch_diameter", "diameter_over_balls", "overdrive"});
  v.together("overdrive", "of");
}

template <class V>
void describe(V& v, Flange& s) {
  v.length("height", s.height, "above the outside diameter d_o");
  v.length("diameter", s.diameter, "outside diameter of the flange");
  v.length("thickness", s.thickness, "at its outside diameter");
  v.angle("lead_in", s.lead_in, {0.0, 45.0}, "lean of the inner wall from the radial plane");
  v.length("edge_break", s.edge_break, "chamfer on its edges", kSmall);
  v.length("root_relief", s.root_relief, "radius of a half-round relief at the foot of the inner wall");
  v.exactly_one({"height", "diameter"});
}

template <class V>
void describe(V& v, Rim& s) {
  v.section("section", s.section, "PH, PJ, PK, PL, PM, or {file: own-profile.yaml}");
  v.count("ribs", s.ribs, 1, kMaxGrooves, "number of grooves");
  v.object("size", s.size, "one way of giving the size");
  v.length("crest_radius", s.crest_radius, "r_t, within the standard's limits");
  v.length("root_radius", s.root_radius, "r_b, within the standard's limits");
  v.length("edge_distance", s.edge_distance, "f, middle of the outer groove to the rim's face or flange wall");
  v.length("edge_break", s.edge_break, "chamfer where the rim has no flange", kSmall);
  v.length("space", s.space, "plain neck between this rim and the one behind it", kSmall);
  v.length("pitch_line_offset", s.pitch_line_offset, "b_e, where the belt's maker gives another than the standard",
           kSmall);
  v.count("belt_ribs", s.belt_ribs, 1, kMaxGrooves, "ribs of the belt, where fewer than the grooves");
  v.object("front_flange", s.front_flange, "guiding rim in front of the grooves");
  v.object("rear_flange", s.rear_flange, "guiding rim behind the grooves");
  v.flag("guides", s.guides, "true where this pulley's flanges guide the belt");
  v.required({"section", "ribs", "size"});
}

template <class V>
void describe(V& v, Windows& s) {
  v.count("count", s.count, 2, kMaxHoles, "number of round windows");
  v.length("diameter", s.diameter, "of each window");
  v.length("circle", s.circle, "diameter of the circle through their middles");
  v.angle("start", s.start, kTurn, "angle of the first, counter-clockwise from 12 o'clock, seen from the front");
  v.length("edge_break", s.edge_break, "chamfer at both mouths", kSmall);
  v.required({"count", "diameter"});
}

template <class V>
void describe(V& v, Spokes& s) {
  v.count("count", s.count, 2, 24, "number of spokes");
  v.length("width", s.width, "of each spoke, sides parallel");
  v.length("fillet", s.fillet, "radius in the windows' corners");
  v.length("inner_diameter", s.inner_diameter, "where the windows begin");
  v.length("outer_diameter", s.outer_diameter, "where the windows end");
  v.angle("start", s.start, kTurn, "angle of the first spoke");
  v.length("edge_break", s.edge_break, "chamfer at both mouths", kSmall);
  v.required({"count", "width"});
}

template <class V>
void describe(V& v, Web& s) {
  v.length("thickness", s.thickness, "axial");
  v.length("offset", s.offset, "web's middle from the grooves' middle, + to the front", kAnyLength);
  v.count("rim", s.rim, 1, kMaxRims, "the rim that the offset is measured in (1 is the rearmost)");
  v.object("windows", s.windows, "round openings");
  v.object("spokes", s.spokes, "openings that leave spokes");
  v.at_most_one({"windows", "spokes"});
  v.required({"thickness"});
}

template <class V>
void describe(V& v, Body& s) {
  v.flag("solid", s.solid, "true for a plain disc");
  v.object("web", s.web, "a thin disc between hub and rim");
  v.length("rim_thickness", s.rim_thickness, "metal under the groove root (with a web)");
  v.length("fillet", s.fillet, "radius where the web meets hub and rim", kSmall);
  v.exactly_one({"solid", "web"});
}

template <class V>
void describe(V& v, Stand& s) {
  v.length("proud", s.proud, "stands out past the rim's face by", kSmall);
  v.length("recessed", s.recessed, "lies below the rim's face by", {0.0, 1000.0});
  v.exactly_one({"proud", "recessed"});
}

template <class V>
void describe(V& v, Taper& s) {
  v.angle("angle", s.angle, {0.01, 90.0}, "included angle");
  v.ratio("ratio", s.ratio, {1e-4, 1.0}, "change of diameter over length, as 1/8, 12.5 % or 0.125");
  v.choice("large_end", s.large_end, kSides, "the face at which the bore is wide");
  v.choice("gauge_face", s.gauge_face, kSides, "the face from which the gauge plane is measured");
  v.length("gauge_depth", s.gauge_depth, "depth of the gauge plane below that face", {0.0, 1000.0});
  v.length("stand_off", s.stand_off, "how far the part stands off on its gauge", kSmall);
  v.length("stand_off_tolerance", s.stand_off_tolerance, "plus or minus", kSmall);
  v.length("draw_up", s.draw_up, "how far the nut draws it up", kSmall);
  v.exactly_one({"angle", "ratio"});
}

template <class V>
void describe(V& v, BoreStep& s) {
  v.length("diameter", s.diameter, "wider than the bore");
  v.length("depth", s.depth, "from the hub's face");
  v.choice("side", s.side, kSides, "the face it opens to");
  v.named("fit", s.fit, &Names::fits, "ISO 286 class");
  v.required({"diameter", "depth", "side"});
}

template <class V>
void describe(V& v, Bore& s) {
  v.length("diameter", s.diameter, "of the bore; with a taper, at the gauge plane");
  v.named("fit", s.fit, &Names::fits, "ISO 286 class, H7 where none is given");
  v.length("edge_break", s.edge_break, "chamfer at the mouths", kSmall);
  v.list("steps", s.steps, 0, 4, "wider steps of the bore");
  v.object("taper", s.taper, "a conical bore");
  v.required({"diameter"});
}

template <class V>
void describe(V& v, Register& s) {
  v.length("diameter", s.diameter, "of the locating cylinder");
  v.length("depth", s.depth, "of a recess");
  v.length("height", s.height, "of a spigot");
  v.named("fit", s.fit, &Names::fits, "ISO 286 class: H7 for a recess, h6 for a spigot where none is given");
  v.choice("side", s.side, kSides, "rear where none is given");
  v.exactly_one({"depth", "height"});
  v.required({"diameter"});
}

template <class V>
void describe(V& v, Keyway& s) {
  v.length("width", s.width, "of the slot; from the key table where none is given");
  v.length("depth", s.depth, "t2, in the hub, from the bore; from the key table where none is given");
  v.named("fit", s.fit, &Names::fits, "ISO 286 class of the width, JS9 where none is given");
  v.angle("angle", s.angle, kTurn, "of its middle, 0 at 12 o'clock");
  v.together("width", "depth");
}

template <class V, class S>
void describe_pattern(V& v, S& s) {
  v.count("count", s.count, 1, kMaxHoles, "how many, evenly spaced");
  v.length("circle", s.circle, "diameter of the circle through their middles");
  v.angle("start", s.start, kTurn, "angle of the first, counter-clockwise from 12 o'clock, seen from the front");
  v.angles("angles", s.angles, kMaxHoles, "angles one by one, instead of count and start");
  v.exactly_one({"count", "angles"});
  v.at_most_one({"start", "angles"});
}

template <class V>
void describe(V& v, Bolts& s) {
  describe_pattern(v, s);
  v.named("size", s.size, &Names::threads, "thread, as M8");
  v.choice("hole", s.hole, kHoleKinds, "clearance by ISO 273, or tapped");
  v.choice("series", s.series, kSeries, "ISO 273 series, medium where none is given");
  v.choice("counterbore", s.counterbore, kSides, "sunk for an ISO 4762 head from this side");
  v.choice("countersink", s.countersink, kSides, "sunk for an ISO 10642 head from this side");
  v.choice("side", s.side, kSides, "the side from which a blind tapped hole is made, front where none is given");
  v.length("depth", s.depth, "full thread of a blind tapped hole; through where none is given");
  v.length("screw_length", s.screw_length, "of the screws that will be used, to judge the thread left");
  v.at_most_one({"counterbore", "countersink"});
  v.required({"size", "circle"});
}

template <class V>
void describe(V& v, Pins& s) {
  describe_pattern(v, s);
  v.length("diameter", s.diameter, "of the hole");
  v.length("depth", s.depth, "of a blind hole; through where none is given");
  v.named("fit", s.fit, &Names::fits, "ISO 286 class");
  v.choice("side", s.side, kSides, "the side from which a blind hole is made, front where none is given");
  v.required({"diameter", "circle"});
}

template <class V>
void describe(V& v, Hub& s) {
  v.object("bore", s.bore, "the hole on the axis");
  v.length("diameter", s.diameter, "outside");
  v.length("length", s.length, "axial");
  v.object("front", s.front, "where its front face stands from the rim's");
  v.object("rear", s.rear, "where its rear face stands from the rim's");
  v.length("edge_break", s.edge_break, "chamfer on its edges", kSmall);
  v.one_or_list("register", s.registers, 2, "locating recess or spigot");
  v.keyway("keyway", s.keyway, "auto, or width and depth");
  v.one_or_list("bolts", s.bolts, kMaxPatterns, "bolt pattern");
  v.one_or_list("jack_screws", s.jack_screws, kMaxPatterns, "tapped holes that push the part off");
  v.one_or_list("dowels", s.dowels, kMaxPatterns, "pin holes");
  v.required({"bore"});
}

template <class V>
void describe(V& v, TimingZero& s) {
  v.choice("to", s.to, kZeroReferences, "what zero is measured from");
  v.angle("angle", s.angle, kTurn, "zero's angle from it, counter-clockwise seen from the front");
  v.required({"to"});
}

template <class V>
void describe(V& v, Marks& s) {
  v.choice("on", s.on, kMarkPlaces, "a face of the rim, or its edge");
  v.angles("angles", s.angles, kMaxHoles, "from the timing zero");
  v.length("depth", s.depth, "of the line");
  v.length("width", s.width, "of the line");
  v.length("length", s.length, "of the line");
  v.length("radius", s.radius, "of the line's outer end, on a face");
  v.required({"on", "angles"});
}

template <class V>
void describe(V& v, ToneRing& s) {
  v.count("teeth", s.teeth, 3, kMaxTeeth, "as if none were missing");
  v.count("missing", s.missing, 0, 8, "neighbouring teeth left out");
  v.length("radius", s.radius, "of the tooth tips");
  v.length("width", s.width, "axial");
  v.length("tooth_height", s.tooth_height, "radial depth of a gap");
  v.length("gap", s.gap, "width of a gap; half a tooth pitch where none is given");
  v.length("thickness", s.thickness, "radial thickness of the whole ring");
  v.choice("side", s.side, kSides, "the rim's face that it stands on, rear where none is given");
  v.angle("start", s.start, kTurn, "middle of the first gap, from the timing zero");
  v.required({"teeth", "radius", "width"});
}

template <class V>
void describe(V& v, Finish& s) {
  v.named("coating", s.coating, &Names::finishes, "as listed by `groovewright list finishes`");
  v.length("thickness", s.thickness, "total film", {0.0, 1.0});
  v.flag("masked", s.masked, "false where fits, threads and seats are coated too");
  v.required({"coating"});
}

template <class V>
void describe(V& v, Speed& s) {
  v.speed("maximum", s.maximum, {1.0, 1e6}, "highest speed of this pulley, over-speed included");
  v.word("reason", s.reason, "why a belt speed above the usual limit is accepted");
  v.required({"maximum"});
}

template <class V>
void describe(V& v, Revision& s) {
  v.word("revision", s.revision, "as your drawing office counts");
  v.word("text", s.text, "what was changed");
  v.required({"revision", "text"});
}

template <class V>
void describe(V& v, Drawing& s) {
  v.choice("sheet", s.sheet, kSheets, "the smallest on which it fits where none is given");
  v.choice("scale", s.scale, kScales, "of the main view, ISO 5455; chosen where none is given");
  v.choice("projection", s.projection, kProjections, "first angle where none is given, third on ANSI sheets");
  v.choice("general_tolerance", s.general_tolerance, kGeneralTolerances,
           "for what has no limits of its own; iso-22081 where none is given");
  v.flag("dual_units", s.dual_units, "true for the second unit in square brackets");
  v.named("language", s.language, &Names::languages, "a file of texts, en where none is given");
  v.word("number", s.number, "part number");
  v.word("author", s.author, "for the title block and the file's own data");
  v.flag("maximum_material", s.maximum_material, "true for (M) at the position of the bolt holes");
  v.list("revisions", s.revisions, 0, kMaxDrawingRows, "the table of revisions, oldest first");
  v.words("notes", s.notes, 0, kMaxDrawingRows, "your own notes, a line each");
}

template <class V>
void describe(V& v, StepModel& s) {
  v.flag("pmi", s.pmi, "true where the model carries the main limits");
}

template <class V>
void describe(V& v, Stock& s) {
  v.choice("form", s.form, kStockForms, "a bar that goes through the chuck, or a sawn blank");
  v.length("diameter", s.diameter, "outside; the next usual one where none is given");
  v.length("length", s.length, "of a blank, or of a bar's piece");
  v.length("bore", s.bore, "of a ring or tube; full where none is given");
}

template <class V>
void describe(V& v, Machining& s) {
  v.named("lathe", s.lathe, &Names::machines, "as listed by `groovewright list machines`");
  v.named("mill", s.mill, &Names::machines, "for holes, as listed by `groovewright list machines`");
  v.named("chuck", s.chuck, &Names::chucks, "of the lathe, as listed by `groovewright list chucks`");
  v.object("stock", s.stock, "what the part is made from");
  v.words("tools", s.tools, 1, kMaxTools, "use these only, as listed by `groovewright list tools`");
}

template <class V>
void describe(V& v, Balance& s) {
  v.grade("grade", s.grade, kBalanceGrades, "ISO 21940-11 balance quality, mm/s, as 6.3 or G6.3");
  v.required({"grade"});
}

template <class V>
void describe(V& v, Pulley& s) {
  v.name("pulley", s.name, "the part's name, also its folder");
  v.word("title", s.title, "a line for people");
  v.units("units", "unit of bare lengths");
  v.named("material", s.material, &Names::materials, "as listed by `groovewright list materials`");
  v.word("revision", s.revision, "as your drawing office counts");
  v.list("rims", s.rims, 1, kMaxRims, "from the rear (engine side) to the front");
  v.object("body", s.body, "what joins the rims to the hub");
  v.object("hub", s.hub, "what sits on the shaft or flange");
  v.object("timing_zero", s.timing_zero, "what marks and teeth are measured from");
  v.one_or_list("marks", s.marks, kMaxPatterns, "engraved lines");
  v.object("tone_ring", s.tone_ring, "teeth for a pick-up");
  v.one_or_list("magnets", s.magnets, kMaxPatterns, "round pockets in a face of the rim");
  v.object("finish", s.finish, "coating");
  v.object("speed", s.speed, "how fast it turns");
  v.choice("damper", s.damper, kDampers, "for a crank pulley: what becomes of the torsional damper");
  v.object("drawing", s.drawing, "the drawing for a supplier");
  v.object("step", s.step, "the solid model");
  v.object("machining", s.machining, "how it is made: machines, chuck, stock, tools");
  v.object("balance", s.balance, "how well it must be balanced");
  v.required({"pulley", "material", "rims", "body", "hub"});
}

}  // namespace groovewright::spec
