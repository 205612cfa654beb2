// folder.h: a part's folder appears whole or not at all, and never takes a stranger's file with it.
#pragma once

#include <string>

#include "groovewright/base/artifact.h"

namespace groovewright::cli {

/// Puts `artifacts` (manifest among them) into `parent/name` in one step, replacing an older result of ours. Another
/// run of the same name waits. Throws CannotWrite (older folder untouched) when the disk refuses, when the folder holds
/// files that its manifest does not list, or when a signal came.
void put_folder(const std::string& parent, const std::string& name, const Artifacts& artifacts,
                const std::string& manifest_name);

}  // namespace groovewright::cli
