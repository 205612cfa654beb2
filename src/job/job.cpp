#include "groovewright/job.h"

#include <algorithm>
#include <array>

#include "catalogue.h"
#include "cautions.h"
#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/catalog.h"
#include "groovewright/drawing.h"
#include "groovewright/gauge.h"
#include "groovewright/ink.h"
#include "groovewright/plane/faults.h"
#include "limits.h"
#include "manifest.h"
#include "program.h"
#include "setup_pages.h"

namespace groovewright::job {
namespace {

struct KindName {
  Kind kind;
  std::string_view name;
};
constexpr std::array kKinds{KindName{Kind::step, "step"},       KindName{Kind::stl, "stl"},
                            KindName{Kind::three_mf, "3mf"},    KindName{Kind::glb, "glb"},
                            KindName{Kind::sheet, "sheet"},     KindName{Kind::drawing, "drawing"},
                            KindName{Kind::program, "program"}, KindName{Kind::print, "print"}};

constexpr const char* kSolidWitness = "finished solid, its flank faces";
constexpr const char* kMeshWitness = "triangles";
constexpr const char* kStepWitness = "STEP file read back";

report::Sheet sheet_of(const Prepared& p, Rows rows) {
  // What needs a person stands first, then the witnesses of the effective diameter together.
  std::stable_partition(rows.checks.begin(), rows.checks.end(),
                        [](const Check& c) { return c.id.find("effective_diameter_") != std::string::npos; });
  std::stable_partition(rows.checks.begin(), rows.checks.end(),
                        [](const Check& c) { return c.verdict == Verdict::doubt; });
  std::stable_partition(rows.checks.begin(), rows.checks.end(),
                        [](const Check& c) { return c.verdict == Verdict::fail; });
  rows.cautions = cautions(p.part);
  return {p.part.name,
          p.part.title,
          p.part.revision,
          p.part.designation(),
          p.part.material.name,
          program(),
          std::move(rows),
          "P, grooves, section, effective diameter in mm",
          "front is away from the engine, +Z. Z = 0 is the seat, the rear face of the hub. Angles run "
          "counter-clockwise seen from the front, 0 at 12 o'clock; seen from the rear they run clockwise."};
}

Check unchecked(const char* id, const char* label) {
  return {id, label, Verdict::unchecked, 0, "", {}, {}, "own promise", "not checked here"};
}
constexpr const char* kSoundLabel = "Solid is valid, closed and in one piece";
constexpr const char* kSolidVolumeLabel = "Volume of the solid against the closed form";
constexpr const char* kLimitsLabel = "Limits, datums and tolerances read back from the STEP file";
constexpr const char* kMeshVolumeLabel = "Volume of the triangles against the closed form";

/// What the kernel would have judged.
Rows without_solid(const Prepared& p) {
  Rows rows;
  rows.checks = {unchecked("solid_sound", kSoundLabel), unchecked("solid_volume", kSolidVolumeLabel)};
  rows.append(gauge::not_judged(p.part, "solid", kSolidWitness));
  rows.append(gauge::not_judged(p.part, "step", kStepWitness));
  if (p.part.pmi) rows.checks.push_back(unchecked("step_limits", kLimitsLabel));
  return rows;
}
/// What the triangles would have shown.
Rows without_mesh(const Prepared& p) {
  Rows rows;
  rows.checks = {unchecked("mesh_volume", kMeshVolumeLabel)};
  rows.append(gauge::not_judged(p.part, "mesh", kMeshWitness));
  return rows;
}

/// What needs neither kernel nor triangles.
Rows plain_rows(const Prepared& p) {
  Rows rows = p.sizes;
  rows.append(gauge::check(p.part, p.section));
  rows.append(section::design_rules(p.part, p.section));
  return rows;
}

Check proof_row(const Prepared& p, const solid::Proof& proof) {
  const catalog::Sourced& limit = p.part.limit("volume_agreement");
  const double off = proof.volume / p.section.mass.volume - 1;
  Check row = judged({"solid_volume", kSolidVolumeLabel, Verdict::pass, proof.volume, "mm3",
                      p.section.mass.volume * (1 - limit.value), p.section.mass.volume * (1 + limit.value),
                      limit.source, "off by " + number(off * 1e9, 3) + " parts in 10^9"});
  return row;
}

Check sound_row(const solid::Proof& proof) {
  Check row{"solid_sound",
            kSoundLabel,
            Verdict::pass,
            static_cast<double>(proof.solids),
            "",
            1.0,
            1.0,
            "the kernel's own checker",
            ""};
  row.says = std::to_string(proof.faces) + " faces: " + std::to_string(proof.planes) + " planes, " +
             std::to_string(proof.cylinders) + " cylinders, " + std::to_string(proof.cones) + " cones, " +
             std::to_string(proof.tori) + " tori";
  if (!proof.valid || !proof.closed || proof.solids != 1 || proof.others != 0) {
    row.verdict = Verdict::fail;
    row.says += "; " + (proof.complaint.empty() ? std::to_string(proof.others) + " other surfaces" : proof.complaint);
  }
  return row;
}

Check mesh_row(const Prepared& p, const mesh::Mesh& m, double deflection) {
  const mesh::Closure c = mesh::closure(m);
  const double volume = mesh::volume(m), bound = deflection * p.section.mass.surface;
  Check row = judged({"mesh_volume", kMeshVolumeLabel, Verdict::pass, volume, "mm3", p.section.mass.volume - bound,
                      p.section.mass.volume + bound,
                      "own promise: chord error " + trimmed(deflection, 4) + " mm over the whole surface",
                      std::to_string(m.triangles.size()) + " triangles, closed"});
  if (!c.closed()) {
    row.verdict = Verdict::fail;
    row.says = std::to_string(c.open_edges) + " open and " + std::to_string(c.wrong_edges) + " wrong edges, " +
               std::to_string(c.degenerate) + " degenerate triangles";
  }
  return row;
}

Check limits_row(const solid::Limits& meant, const solid::Limits& read) {
  const auto count = [](const solid::Limits& l) {
    return static_cast<double>(l.sizes.size() + l.datums.size() + l.zones.size());
  };
  Check row = judged({"step_limits", kLimitsLabel, Verdict::pass, count(read), "", count(meant), count(meant),
                      "own promise: what the drawing demands, ISO 10303-242", solid::difference(meant, read)});
  if (!row.says.empty()) row.verdict = Verdict::fail;
  return row;
}

Check drawing_row(const drawing::Sheet& sheet) {
  return judged({"drawing_clear",
                 "Drawing: words on ink, crossed leaders, arrows that point at nothing",
                 Verdict::pass,
                 static_cast<double>(sheet.faults.total()),
                 "",
                 {},
                 0.0,
                 "own promise",
                 "sheet " + sheet.format + ", scale " + sheet.scale +
                     (sheet.faults.total() > 0 ? ": " + sheet.faults.first : "")});
}

Check setup_row(const std::vector<SetupPage>& pages, const plane::Page& frames, const Typeface& typeface) {
  int total = 0;
  std::string first;
  const auto inspect = [&](const std::string& id, const plane::Page& page) {
    const plane::Faults f = plane::faults(page, typeface);
    if (total == 0 && f.total() > 0) first = id + ": " + f.first;
    total += f.total();
  };
  for (const SetupPage& s : pages) inspect(s.id, s.page);
  inspect("frames", frames);
  return judged({"setup_clear",
                 "Set-up pages: words on ink, crossed leaders, arrows that point at nothing",
                 Verdict::pass,
                 static_cast<double>(total),
                 "",
                 {},
                 0.0,
                 "own promise",
                 first});
}

class Maker {
 public:
  Maker(const Prepared& prepared, const Want& want, const Tools& tools)
      : p_(prepared), want_(want), tools_(tools), rows_(plain_rows(prepared)) {}

  Made make(const TextFile& document) {
    // Triangles first: meanwhile the kernel may still be loading.
    const bool with_mesh = wants(Kind::stl) || wants(Kind::three_mf) || wants(Kind::glb) || wants(Kind::sheet);
    Rows of_mesh = with_mesh ? make_mesh() : without_mesh(p_);
    Rows of_solid = needs_kernel(want_) ? make_solid() : without_solid(p_);
    rows_.append(std::move(of_solid));
    rows_.append(std::move(of_mesh));
    if (wants(Kind::drawing)) put_drawing();
    if (wants(Kind::program)) put_programs();
    if (wants(Kind::print)) put_print();
    Made made{sheet_of(p_, std::move(rows_)), {}};
    if (wants(Kind::sheet)) {
      add(".sheet.md", report::to_markdown(made.sheet, want_.units));
      add(".sheet.csv", report::to_csv(made.sheet, want_.units));
      add(".sheet.json", report::to_json(made.sheet));
    }
    made.artifacts = std::move(artifacts_);
    std::string list = manifest(made, document);
    made.artifacts.push_back({kManifest, std::move(list)});
    return made;
  }

 private:
  [[nodiscard]] bool wants(Kind k) const { return want_.kinds.contains(k); }
  void add(const std::string& ending, std::string bytes) {
    artifacts_.push_back({p_.part.name + ending, std::move(bytes)});
  }

  [[nodiscard]] Rows judged_by(const char* id, const char* what, std::vector<plane::Generator> generators,
                               double uncertainty) const {
    return gauge::judge(p_.part, {id, what, std::move(generators), uncertainty});
  }

  Rows make_solid() {
    const solid::Kernel& kernel = tools_.kernel();
    const gauge::LeanWindow lean = gauge::lean_window(p_.part);
    const solid::Shape shape = kernel.make(p_.section.body);
    const solid::Proof proof = kernel.prove(shape);
    Rows rows;
    rows.checks = {sound_row(proof), proof_row(p_, proof)};
    rows.append(judged_by("solid", kSolidWitness, kernel.generators(shape, lean.least, lean.most), 0));
    const solid::Limits limits = p_.part.pmi ? limits_of(p_) : solid::Limits{};
    const std::string step =
        kernel.to_step(shape,
                       {p_.part.name, p_.part.title, p_.part.material.name, p_.part.material.density.value, p_.part.red,
                        p_.part.green, p_.part.blue, program()},
                       limits);
    // Reading back is a witness for the sheet; without one the file alone is asked for.
    if (wants(Kind::sheet)) {
      const solid::Shape read = kernel.from_step(step);
      rows.append(judged_by("step", kStepWitness, kernel.generators(read, lean.least, lean.most), 0));
      if (p_.part.pmi) rows.checks.push_back(limits_row(limits, kernel.limits(read)));
    } else {
      rows.append(gauge::not_judged(p_.part, "step", kStepWitness));
      if (p_.part.pmi) rows.checks.push_back(unchecked("step_limits", kLimitsLabel));
    }
    if (wants(Kind::step)) add(".step", step);
    return rows;
  }

  Rows make_mesh() {
    const mesh::Mesh m = mesh::tessellate(p_.section.body, want_.deflection);
    const gauge::LeanWindow lean = gauge::lean_window(p_.part);
    Rows rows;
    rows.checks = {mesh_row(p_, m, want_.deflection)};
    rows.append(judged_by("mesh", kMeshWitness, mesh::generators(m, lean.least, lean.most),
                          gauge::mesh_uncertainty(p_.part, want_.deflection)));
    const mesh::Label label{p_.part.name, p_.part.title, p_.part.material.name,
                            p_.part.red,  p_.part.green, p_.part.blue};
    if (wants(Kind::stl)) add(".stl", mesh::to_stl(m, label));
    if (wants(Kind::three_mf)) add(".3mf", mesh::to_3mf(m, label));
    if (wants(Kind::glb)) add(".glb", mesh::to_glb(m, label));
    return rows;
  }

  void put_drawing() {
    require(p_.drawing.has_value(), "make: the drawing was not planned");
    const drawing::Sheet& sheet = *p_.drawing;
    rows_.checks.push_back(drawing_row(sheet));
    add(".drawing.pdf", tools_.press(sheet.page, p_.typeface));
    add(".drawing.svg", ink::to_svg(sheet.page, p_.typeface));
    add(".drawing.dxf", ink::to_dxf(sheet.page, p_.typeface));
  }

  /// Nobody asked for them: the part is no worse for it.
  void put_no_programs(const std::string& why) {
    rows_.checks.push_back(
        {"programs", "Programs for lathe and mill", Verdict::note, 0, "", {}, {}, "own promise", "none made: " + why});
  }

  void put_programs() {
    if (!p_.programs) return put_no_programs(p_.no_programs);
    const std::vector<ProgramText> texts = write_programs(p_);
    const Proof proof = prove(p_, texts);
    const auto failed = std::find_if(proof.rows.checks.begin(), proof.rows.checks.end(),
                                     [](const Check& c) { return c.verdict == Verdict::fail; });
    if (failed != proof.rows.checks.end() && !p_.programs->due)
      return put_no_programs("what was planned fails its proof (" + failed->label + ": " + failed->says + ")");
    rows_.append(proof.rows);
    for (const ProgramText& t : texts) add("." + t.id + ".ngc", t.text);
    add(".setup.md", setup_sheet(p_, texts, proof, want_.units));
    const std::vector<SetupPage> pages = setup_pages(p_, texts, proof, want_.units);
    const plane::Page frames = frames_page(p_, proof);
    rows_.checks.push_back(setup_row(pages, frames, p_.typeface));
    for (const SetupPage& s : pages) add("." + s.id + ".setup.pdf", tools_.press(s.page, p_.typeface));
    add(".frames.svg", ink::to_svg(frames, p_.typeface));
  }

  void put_print() {
    require(p_.print.has_value(), "make: the print was not planned");
    const print::Print& print = *p_.print;
    Rows judged;
    judged.checks = print.rows.checks;
    rows_.append(std::move(judged));
    for (std::size_t i = 0; i < print.plates.size(); ++i) {
      const std::string plate = i == 0 ? "" : std::to_string(i + 1);
      put_plate(print.plates[i], ".print" + plate);
    }
    add(".print.md", print.page);
  }

  void put_plate(const print::Plate& plate, const std::string& ending) {
    const mesh::Label plastic{p_.part.name, "", want_.plastic, 0.85, 0.86, 0.83},
        raised{"", "", want_.plastic + ", another colour where there is one", 0.75, 0.2, 0.15};
    std::vector<mesh::Assembly> assemblies;
    std::vector<const mesh::Mesh*> all;
    for (const print::Object& o : plate.objects) {
      mesh::Assembly assembly{o.name, {{&o.body, plastic}}};
      assembly.bodies.front().label.name = o.name;
      for (const mesh::Mesh& m : o.lettering) {
        assembly.bodies.push_back({&m, raised});
        assembly.bodies.back().label.name = "lettering on " + o.name;
      }
      for (const mesh::Body& body : assembly.bodies) all.push_back(body.mesh);
      assemblies.push_back(std::move(assembly));
    }
    add(ending + ".3mf",
        mesh::to_3mf(assemblies, "Fit-check print of " + p_.part.name,
                     "Made to fit, not to run. Printer " + want_.printer + ", plastic " + want_.plastic + "."));
    add(ending + ".stl", mesh::to_stl(mesh::merged(all), plastic));
  }

  const Prepared& p_;
  const Want& want_;
  const Tools& tools_;
  Rows rows_;
  Artifacts artifacts_;
};

}  // namespace

std::optional<Kind> kind_named(std::string_view word) {
  for (const KindName& k : kKinds) {
    if (k.name == word) return k.kind;
  }
  return std::nullopt;
}

std::vector<std::string> kind_names() {
  std::vector<std::string> names;
  for (const KindName& k : kKinds) names.emplace_back(k.name);
  return names;
}

std::string program() { return std::string("groovewright ") + GW_VERSION; }

bool needs_kernel(const Want& want) { return want.kinds.contains(Kind::step) || want.kinds.contains(Kind::sheet); }

std::optional<Prepared> prepare(const spec::Pulley& pulley, std::span<const TextFile> own_grooves,
                                std::span<const TextFile> own_catalog, Diagnostics& diagnostics) {
  auto numbers = catalogue(part::files_named(pulley), own_catalog, diagnostics);
  const auto references = spec::references(pulley);
  for (std::size_t i = 0; i < own_grooves.size(); ++i) {
    const auto own = catalog::read_catalog(own_grooves.subspan(i, 1), diagnostics);
    if (!own || !numbers) continue;
    for (const auto& [id, groove] : own->grooves) numbers->grooves[part::own_groove_key(references[i].value)] = groove;
  }
  if (!numbers || diagnostics.has_errors()) return std::nullopt;
  auto part = part::resolve(pulley, *numbers, diagnostics);
  if (!part) return std::nullopt;
  auto drawn = section::half_section(*part, diagnostics);
  if (!drawn) return std::nullopt;
  Rows sizes = gauge::sizes(*part);
  sizes.append(section::sizes(*part, *drawn));
  sizes.append(drawing::tolerances(*part, *drawn, sizes.dimensions));
  return Prepared{std::move(*part), std::move(*drawn), std::move(sizes), {}, {}, {}, {}, {}};
}

report::Sheet check(const Prepared& prepared) {
  Rows rows = plain_rows(prepared);
  rows.append(without_solid(prepared));
  rows.append(without_mesh(prepared));
  return sheet_of(prepared, std::move(rows));
}

Made make(const Prepared& prepared, const TextFile& document, const Want& want, const Tools& tools) {
  return Maker(prepared, want, tools).make(document);
}

}  // namespace groovewright::job
