#include "groovewright/drive/search.h"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <system_error>
#include <thread>

#include "groovewright/base/broken.h"
#include "groovewright/drive/analysis.h"
#include "search_judge.h"

namespace groovewright::drive {
namespace {

/// Combinations that a thread takes at a time, about: small enough for progress to be seen and threads to end together.
constexpr std::uint64_t kBlock = 4096;

/// What the threads share.
struct Work {
  const Drive& base;
  const SearchSpace& space;
  std::uint64_t groups = 0;   ///< layouts × turns
  std::uint64_t at_once = 1;  ///< groups
  std::atomic<std::uint64_t> next = 0, done = 0;
  std::atomic<bool> ends = false;
};

/// Takes blocks until none is left. `after` is called after each.
template <class F>
void work_on(Work& work, Tally& tally, const F& after) {
  Judge judge(work.base, work.space);
  const std::uint64_t turns = work.space.turns.size();
  while (!work.ends) {
    const std::uint64_t first = work.next.fetch_add(work.at_once);
    if (first >= work.groups) return;
    const std::uint64_t last = std::min(first + work.at_once, work.groups);
    for (std::uint64_t g = first; g < last; ++g) judge.judge(g / turns, static_cast<std::size_t>(g % turns), tally);
    work.done += (last - first) * work.space.lengths.size();
    after();
  }
}

class Threads {
 public:
  Threads(Work& work, const SearchSpace& space, int others) : work_(work) {
    tallies_.assign(static_cast<std::size_t>(others), Tally(space));
    try {
      for (Tally& t : tallies_) threads_.emplace_back([this, &t] { run(t); });
    } catch (const std::system_error&) {
      // Fewer threads do it, too.
    }
  }
  ~Threads() {
    work_.ends = true;
    join();
  }
  Threads(const Threads&) = delete;
  Threads& operator=(const Threads&) = delete;

  /// Waits for all; what went wrong in one is thrown.
  const std::vector<Tally>& finish() {
    join();
    if (failure_) std::rethrow_exception(failure_);
    return tallies_;
  }

 private:
  void run(Tally& tally) {
    try {
      work_on(work_, tally, [] {});
    } catch (...) {
      work_.ends = true;
      const std::lock_guard lock(guard_);
      if (!failure_) failure_ = std::current_exception();
    }
  }
  void join() {
    for (std::thread& t : threads_) t.join();
    threads_.clear();
  }
  Work& work_;
  std::vector<Tally> tallies_;
  std::vector<std::thread> threads_;
  std::mutex guard_;
  std::exception_ptr failure_;
};

/// The row of a peg hole that another turn of the body needs.
std::optional<Check> peg_hole(const Drive& base, const Drive& drive) {
  if (!base.tensioner || !base.tensioner->peg) return std::nullopt;
  const auto hole = [](const Tensioner& t) { return t.pivot + plane::polar(t.peg->radius, t.peg->angle); };
  const double apart = plane::norm(hole(*drive.tensioner) - hole(*base.tensioner)), d = base.tensioner->peg->diameter;
  if (apart < plane::kCoincident) return std::nullopt;
  return judged({.id = "ligament",
                 .label = "Metal between the old and the new peg hole",
                 .value = apart - d,
                 .unit = "mm",
                 .lower = base.limits.ligament.value * d,
                 .source = base.limits.ligament.source,
                 .says = "the holes run into each other: an adapter plate instead of a second hole"});
}

NearMiss with_reasons(const Drive& base, const SearchSpace& space, const Miss& miss) {
  NearMiss out{miss.index, miss.first, miss.by, {}};
  const Drive drive = with_combination(base, space, miss.index);
  for (Check& c : rows(drive, analyse(drive)).checks) {
    // That row is about another turn, which this search has looked at.
    if (c.verdict == Verdict::fail && c.id != "ligament") out.fails.push_back(std::move(c));
  }
  if (auto c = peg_hole(base, drive); c && c->verdict == Verdict::fail) out.fails.push_back(std::move(*c));
  return out;
}

}  // namespace

SearchResult search(const Drive& base, const SearchSpace& space, int threads, const SearchProgress& progress) {
  require(threads >= 1, "search: one thread at least");
  require(!space.lengths.empty() && !space.turns.empty(), "search: a belt and a turn at least");
  for (const Varied& v : space.varied) {
    require(!v.radii.empty() && !v.places.empty(), "search: a size and a place at least");
    require(v.pulley != kNone || base.tensioner, "search: no tensioner to change");
    require(v.pulley == kNone || v.pulley < base.pulleys.size(), "search: a pulley of the drive");
  }
  SearchResult result;
  result.combinations = space.size();
  Work work{.base = base, .space = space};
  work.groups = result.combinations / space.lengths.size();
  work.at_once = std::max<std::uint64_t>(1, kBlock / space.lengths.size());
  Tally tally(space);
  {
    Threads others(work, space, threads - 1);
    work_on(work, tally, [&] {
      if (progress) progress(work.done, result.combinations);
    });
    for (const Tally& t : others.finish()) tally.add(t);
  }
  result.solved = tally.solved();
  result.fits = tally.fits();
  result.thrown_out = tally.thrown_out();
  result.kept = tally.kept();
  for (const Miss& m : tally.nearest()) result.nearest.push_back(with_reasons(base, space, m));
  return result;
}

}  // namespace groovewright::drive
