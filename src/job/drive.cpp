#include "groovewright/job/drive.h"

#include "catalogue.h"
#include "drive_json.h"
#include "groovewright/drive/belts.h"
#include "manifest.h"
#include "pictures.h"
#include "search.h"

namespace groovewright::job {
namespace {

std::vector<std::string> drive_cautions() {
  return {
      "A running belt drive takes fingers and hair: work with the engine off and its battery apart, guards back on "
      "before it starts.",
      "A sprung tensioner strikes back: hold its arm with a tool of proper length and let it down slowly.",
      "Figures are estimates from stated inputs. Local codes and qualified practice go before this sheet."};
}

/// nullopt where the pulley's own document is wrong or lacks the rim.
std::optional<drive::MadePulley> made(const PulleyDocument& from, const spec::DrivePulley& named,
                                      std::span<const TextFile> own_catalog, Diagnostics& diagnostics) {
  const auto pulley = spec::read_pulley(from.document, diagnostics);
  if (!pulley) return std::nullopt;
  const auto prepared = prepare(*pulley, from.own_grooves, own_catalog, diagnostics);
  if (!prepared) return std::nullopt;
  const int rim = value_or(named.rim, 1);
  const int rims = static_cast<int>(prepared->part.rims.size());
  if (rim > rims) {
    diagnostics.error(Code::bad_count, named.rim->place, std::to_string(rim),
                      "'" + from.reference + "' has " + (rims == 1 ? "one rim" : std::to_string(rims) + " rims"));
    return std::nullopt;
  }
  return made_pulley(*prepared, static_cast<std::size_t>(rim - 1));
}

}  // namespace

drive::MadePulley made_pulley(const Prepared& p, std::size_t rim_index) {
  const part::Part& part = p.part;
  const part::Rim& rim = part.rims[rim_index];
  drive::MadePulley m;
  m.section = rim.groove.id;
  m.effective_radius = rim.effective_diameter.value / 2;
  m.outside_radius = rim.outside_diameter() / 2;
  for (const part::Side side : {part::Side::front, part::Side::rear}) {
    if (const auto& flange = rim.flange(side)) m.flange_height = std::max(m.flange_height, flange->height.value);
  }
  m.grooves = rim.grooves;
  m.rear_to_front = rim.width();
  m.rear_to_first_groove = rim.behind_first_groove();
  m.inertia = p.section.mass.polar_inertia * part.material.density.value;
  if (rim.overdrive) m.reference_radius = rim.overdrive->reference_effective / 2;
  m.speed_max = part.maximum_speed;
  return m;
}

std::optional<PreparedDrive> prepare_drive(const spec::Drive& drive, std::span<const PulleyDocument> pulleys,
                                           std::span<const TextFile> own_catalog, Diagnostics& diagnostics) {
  std::map<std::string, drive::MadePulley> known;
  for (const spec::DrivePulley& p : drive.pulleys) {
    if (!p.spec) continue;
    const auto from = std::ranges::find(pulleys, p.spec->value, &PulleyDocument::reference);
    if (from == pulleys.end()) continue;  // whoever reads files has said why
    // One document may stand for several pulleys, each with a rim of its own.
    if (auto m = made(*from, p, own_catalog, diagnostics)) known[drive::key_of(p)] = *m;
  }
  std::vector<part::NamedFile> files{{"drive_texts/en.yaml", {}}, {"typeface.yaml", {}}};
  for (const std::string& name : drive::files_named(drive)) files.push_back({name, {}});
  auto numbers = catalogue(files, own_catalog, diagnostics);
  if (!numbers || diagnostics.has_errors()) return std::nullopt;
  auto settled = drive::settle(drive, *numbers, known, diagnostics);
  if (!settled) return std::nullopt;
  std::optional<drive::SearchSpace> search;
  if (drive.search) {
    search = drive::settle_search(drive, *settled, diagnostics);
    if (!search) return std::nullopt;
  }
  PreparedDrive out;
  out.title = drive.title ? drive.title->value : "";
  out.drive = std::move(*settled);
  out.lengths = drive::lengths_on_offer(drive);
  out.typeface = std::move(numbers->typeface.value());
  out.texts = std::move(numbers->drive_texts.at("en"));
  out.made = std::move(known);
  out.search = std::move(search);
  return out;
}

Made make_drive(const PreparedDrive& prepared, const TextFile& document, report::Units units, const PdfPress& press,
                const SearchWork& work) {
  const drive::Drive drive = drive::with_best_belt(prepared.drive, prepared.lengths);
  const drive::Analysis analysis = drive::analyse(drive);
  Rows rows = drive::rows(drive, analysis);
  std::optional<drive::SearchResult> found;
  if (prepared.search) {
    found = drive::search(prepared.drive, *prepared.search, work.threads, work.progress);
    rows.checks.push_back(search_row(*found));
  }
  rows.cautions = drive_cautions();
  std::stable_partition(rows.checks.begin(), rows.checks.end(),
                        [](const Check& c) { return c.verdict == Verdict::doubt; });
  std::stable_partition(rows.checks.begin(), rows.checks.end(),
                        [](const Check& c) { return c.verdict == Verdict::fail; });
  Made made{{drive.name, prepared.title, "", drive::designation(drive.belt), "", program(), std::move(rows),
             "ribs, section, effective length in mm",
             "seen from the front of the engine: x to the right, y up, angles counter-clockwise from the right."},
            {}};
  made.artifacts = {{drive.name + ".drive.md", report::to_markdown(made.sheet, units)},
                    {drive.name + ".drive.csv", report::to_csv(made.sheet, units)},
                    {drive.name + ".drive.json", drive_json(made.sheet, drive, analysis)}};
  if (found) {
    for (Artifact& a : search_artifacts({prepared.title, prepared.drive, *prepared.search, *found}, units)) {
      made.artifacts.push_back(std::move(a));
    }
  }
  const drive::PictureStyle style{prepared.texts, prepared.typeface};
  const auto take = [&](Artifacts pictures) {
    for (Artifact& picture : pictures) made.artifacts.push_back(std::move(picture));
  };
  take(drive_pictures(drive, analysis, style, press));
  if (found) take(search_pictures(prepared.drive, *prepared.search, *found, style, press));
  made.artifacts.push_back({kManifest, manifest(made, document)});
  return made;
}

}  // namespace groovewright::job
