#include "groovewright/drawing.h"

#include "catalogue.h"
#include "groovewright/job.h"

namespace groovewright::job {

bool plan_drawing(Prepared& prepared, const Want& want, std::span<const TextFile> own_catalog,
                  Diagnostics& diagnostics) {
  if (!want.kinds.contains(Kind::drawing)) return true;
  const part::DrawingWish& wish = prepared.part.drawing;
  const std::string& language = wish.language.value;
  std::vector<part::NamedFile> files{{"texts/en.yaml", {}}, {"typeface.yaml", {}}};
  if (language != "en") files.push_back({"texts/" + language + ".yaml", {}});
  auto numbers = catalogue(files, own_catalog, diagnostics);
  if (!numbers) return false;
  const auto* texts = chosen(numbers->texts, "'language'", "texts", language, wish.language.place, diagnostics);
  if (!texts) return false;
  prepared.typeface = std::move(numbers->typeface.value());
  prepared.drawing = drawing::plan(prepared.part, prepared.section, prepared.sizes.dimensions,
                                   {*texts, prepared.typeface, want.units}, diagnostics);
  return prepared.drawing.has_value();
}

}  // namespace groovewright::job
