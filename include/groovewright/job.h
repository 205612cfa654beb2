// job.h: the only room that knows the order of the stages. Pure: texts in, artifacts out; no disk, no terminal.
#pragma once

#include <functional>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "groovewright/base/artifact.h"
#include "groovewright/base/diagnostics.h"
#include "groovewright/base/typeface.h"
#include "groovewright/drawing.h"
#include "groovewright/mesh.h"
#include "groovewright/nc.h"
#include "groovewright/print.h"
#include "groovewright/report.h"
#include "groovewright/section.h"
#include "groovewright/solid.h"
#include "groovewright/spec.h"
#include "groovewright/toolpath.h"

namespace groovewright::job {

/// What `build` can write.
enum class Kind { step, stl, three_mf, glb, sheet, drawing, program, print };
[[nodiscard]] std::optional<Kind> kind_named(std::string_view word);
[[nodiscard]] std::vector<std::string> kind_names();

struct Want {
  /// All but the print, which wants a printer chosen.
  std::set<Kind> kinds{Kind::step, Kind::stl, Kind::three_mf, Kind::glb, Kind::sheet, Kind::drawing, Kind::program};
  bool kinds_named = false;  ///< by the person: a program that can't be made is then a mistake, else a note
  double deflection = mesh::kDefaultDeflection;  ///< mm
  report::Units units = report::Units::mm;
  std::string printer = "bench-220", plastic = "pla";  ///< of the fit-check print
};

/// Programs that cut the part: what they do, and the words of the controls that they are for.
struct Programs {
  toolpath::Plan plan;
  nc::Dialect lathe, mill;
  section::Section made;  ///< the outline that is aimed at: fits in the middle of their limits
  bool due = false;       ///< asked for: written even where their proof fails, with the sheet saying so
};

/// A spec settled and drawn: everything after this can only meet verdicts, not mistakes of the person.
struct Prepared {
  part::Part part;
  section::Section section;
  Rows sizes;                             ///< with limits, geometrical tolerances included
  std::optional<print::Print> print;      ///< once planned
  std::optional<drawing::Sheet> drawing;  ///< once planned, with the typeface that measured it
  Typeface typeface;
  std::optional<Programs> programs;  ///< once planned
  std::string no_programs;           ///< why there are none, where that is no mistake
};

/// Settles and draws a pulley. `own_grooves` are the files that the document names, in the order of `spec::references`,
/// named as the diagnostics shall name them; `own_catalog` are the person's data files.
[[nodiscard]] std::optional<Prepared> prepare(const spec::Pulley& pulley, std::span<const TextFile> own_grooves,
                                              std::span<const TextFile> own_catalog, Diagnostics& diagnostics);

/// Makes the fit-check print where `want` asks for one, into `prepared`. False, with diagnostics, where the printer or
/// plastic is not in the catalogue or the part can't be printed there.
[[nodiscard]] bool plan_print(Prepared& prepared, const Want& want, std::span<const TextFile> own_catalog,
                              Diagnostics& diagnostics);

/// Lays out the supplier drawing where `want` asks for one, into `prepared`. False, with diagnostics, where the
/// language is not in the catalogue or the wished sheet is too small.
[[nodiscard]] bool plan_drawing(Prepared& prepared, const Want& want, std::span<const TextFile> own_catalog,
                                Diagnostics& diagnostics);

/// Plans the programs that cut the part where `want` asks for them, into `prepared`. False, with diagnostics, where the
/// document or the person asks for them and the shop can't make the part.
[[nodiscard]] bool plan_programs(Prepared& prepared, const Want& want, std::span<const TextFile> own_catalog,
                                 Diagnostics& diagnostics);

/// Every row that needs neither kernel nor triangles; the others are listed as unchecked.
[[nodiscard]] report::Sheet check(const Prepared& prepared);

/// Gives the kernel when it is first needed.
using KernelSource = std::function<const solid::Kernel&()>;
/// Makes a PDF of a page; its library and font are loaded when it is first called.
using PdfPress = std::function<std::string(const plane::Page&, const Typeface&)>;
/// What `make` asks for when it needs it.
struct Tools {
  KernelSource kernel;
  PdfPress press;
};
/// True where `make` would ask for the kernel.
[[nodiscard]] bool needs_kernel(const Want& want);

struct Made {
  report::Sheet sheet;
  Artifacts artifacts;  ///< the manifest last
};
/// Makes all that is wanted and judges it by every witness that can be asked. Requires: print and
/// drawing planned where wanted.
[[nodiscard]] Made make(const Prepared& prepared, const TextFile& document, const Want& want, const Tools& tools);

inline constexpr const char* kManifest = "manifest.json";
/// "groovewright 0.1.0".
[[nodiscard]] std::string program();

/// JSON Schema of the pulley document, with the names of the built-in data files as examples.
[[nodiscard]] std::string pulley_schema();

}  // namespace groovewright::job
