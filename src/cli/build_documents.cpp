#include "build_documents.h"

#include <set>

#include "files.h"
#include "folder.h"
#include "kernel_loader.h"
#include "pdf_loader.h"
#include "terminal.h"

namespace groovewright::cli {

Result written(const job::Made& made, const Arguments& a) {
  stop_if_interrupted();
  put_folder(a.out, made.sheet.name, made.artifacts, job::kManifest);
  Result r{made.sheet, a.out + "/" + made.sheet.name, {}};
  for (const Artifact& f : made.artifacts) r.files.push_back(f.name);
  return r;
}

job::Tools tools() {
  return {[]() -> const solid::Kernel& { return load_kernel(); }, write_pdf};
}

std::vector<job::PulleyDocument> named_pulleys(const std::string& file,
                                               const std::vector<spec::Written<std::string>>& references,
                                               Diagnostics& diagnostics) {
  std::vector<job::PulleyDocument> pulleys;
  std::set<std::string> seen;
  for (const auto& reference : references) {
    if (!seen.insert(reference.value).second) continue;
    for (TextFile& text : read_references(file, {reference}, diagnostics)) {
      job::PulleyDocument named{reference.value, std::move(text), {}};
      Diagnostics told_later;  // by whoever settles the pulley
      if (const auto pulley = spec::read_pulley(named.document, told_later)) {
        named.own_grooves = read_references(pulley->file, spec::references(*pulley), diagnostics);
      }
      pulleys.push_back(std::move(named));
    }
  }
  return pulleys;
}

}  // namespace groovewright::cli
