// batch.h: many specs, one process each, so that a crash in one can't take the others.
#pragma once

#include <functional>
#include <vector>

#include "build.h"

namespace groovewright::cli {

/// Runs `work(i)` for i in 0 … count-1, at most `jobs` at a time, each in a child process, and hands the outcomes to
/// `take` in order of i. A child that dies counts as status 3. Throws Interrupted after the children were ended.
void run_in_children(std::size_t count, int jobs, const std::function<Outcome(std::size_t)>& work,
                     const std::function<void(std::size_t, const Outcome&)>& take);

}  // namespace groovewright::cli
