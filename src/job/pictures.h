// pictures.h: inside room `job`: an analysis as the data of pictures, and pages as files.
#pragma once

#include <string>

#include "groovewright/drive/analysis.h"
#include "groovewright/drive/pictures.h"
#include "groovewright/drive/search.h"
#include "groovewright/job/range.h"

namespace groovewright::job {

/// The layout, tensions round the belt and span frequencies; a drill template where the tensioner must be turned.
[[nodiscard]] Artifacts drive_pictures(const drive::Drive& drive, const drive::Analysis& a,
                                       const drive::PictureStyle& style, const PdfPress& press);
/// A search's choice that turns the tensioner's body wants a hole: a drill template for the first of those kept that
/// does and leaves the pivot where it is. Empty where there is none or no peg.
[[nodiscard]] Artifacts search_pictures(const drive::Drive& drive, const drive::SearchSpace& space,
                                        const drive::SearchResult& found, const drive::PictureStyle& style,
                                        const PdfPress& press);
/// Charge pressure and driven speed against overdrive. Empty where nothing was estimated.
[[nodiscard]] Artifacts range_pictures(const PreparedRange& range, const drive::PictureStyle& style,
                                       const PdfPress& press);

}  // namespace groovewright::job
