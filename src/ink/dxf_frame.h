// dxf_frame.h: what an AC1015 file holds besides its drawing: header, tables, blocks and objects.
#pragma once

#include <string_view>

#include "dxf_tags.h"
#include "groovewright/base/typeface.h"
#include "groovewright/plane/page.h"

namespace groovewright::ink {

/// The owner of all that is drawn.
inline constexpr Handle kModelSpace = 0x40;
/// Handles from here on are free for what is drawn.
inline constexpr Handle kFirstDrawn = 0x100;

/// The whole file round the `drawn` things, which use handles below `next`.
[[nodiscard]] std::string dxf_file(const plane::Page& page, const Typeface& typeface, const DxfTags& drawn,
                                   Handle next);

}  // namespace groovewright::ink
