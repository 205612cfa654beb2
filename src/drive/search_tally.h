// search_tally.h: inside room `drive`: what one thread of a search has found. Lists of a fixed greatest length, and
// counts; two tallies add up to the same whichever came first.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include "groovewright/drive/search.h"

namespace groovewright::drive {

/// The first trial that a combination fails, and the most that it lacks of any limit, as part of it.
struct Lacking {
  std::optional<Trial> first;
  double most = 0;
  void add(Trial trial, double by) {
    if (!(by > 0)) return;
    if (!first) first = trial;
    most = std::max(most, by);
  }
};

/// What `value` lacks of a lower limit, as part of `whole`; 0 where it is held. Rounding counts as `judged` has it.
inline double lacks(double value, double lower, double whole) {
  return value < lower - 1e-9 * std::max(1.0, std::abs(lower)) ? (lower - value) / whole : 0;
}
/// What it has too much.
inline double exceeds(double value, double upper, double whole) {
  return value > upper + 1e-9 * std::max(1.0, std::abs(upper)) ? (value - upper) / whole : 0;
}

/// The best so many of all that were offered, `better` first.
template <class T>
class Best {
 public:
  using Better = bool (*)(const T&, const T&);
  Best(std::size_t limit, Better better) : limit_(limit), better_(better) { all_.reserve(limit); }
  [[nodiscard]] bool takes(const T& one) const {
    return all_.size() < limit_ || (limit_ > 0 && better_(one, all_.front()));
  }
  void offer(const T& one) {
    if (!takes(one)) return;
    if (all_.size() == limit_) {
      std::pop_heap(all_.begin(), all_.end(), better_);
      all_.pop_back();
    }
    all_.push_back(one);
    std::push_heap(all_.begin(), all_.end(), better_);
  }
  /// Those kept, in no order.
  [[nodiscard]] const std::vector<T>& all() const { return all_; }
  [[nodiscard]] std::vector<T> sorted() const {
    std::vector<T> out = all_;
    std::sort(out.begin(), out.end(), better_);
    return out;
  }

 private:
  std::size_t limit_;
  Better better_;
  std::vector<T> all_;  ///< a heap with the worst in front
};

struct Miss {
  std::uint64_t index = 0;
  double by = 0;
  Trial first{};
};

class Tally {
 public:
  explicit Tally(const SearchSpace& space)
      : kept_(space.keep,
              [](const Fit& a, const Fit& b) { return a.merit != b.merit ? a.merit > b.merit : a.index < b.index; }),
        nearest_(space.near_misses,
                 [](const Miss& a, const Miss& b) { return a.by != b.by ? a.by < b.by : a.index < b.index; }) {}

  /// True where one that lacks at least this can't be among the nearest any more.
  [[nodiscard]] bool hopeless(const Lacking& lacking, std::uint64_t index) const {
    return lacking.first && !nearest_.takes(miss_of(lacking, index));
  }
  /// Requires: a trial failed.
  void throw_out(const Lacking& lacking, std::uint64_t count) {
    thrown_out_[static_cast<std::size_t>(*lacking.first)] += count;
  }
  void miss(const Lacking& lacking, std::uint64_t index) {
    throw_out(lacking, 1);
    nearest_.offer(miss_of(lacking, index));
  }
  void fit(Fit fit) {
    ++fits_;
    fit.merit = std::round(fit.merit / kMeritStep) * kMeritStep;
    kept_.offer(fit);
  }
  void solve() { ++solved_; }
  void add(const Tally& other) {
    for (const Fit& f : other.kept_.all()) kept_.offer(f);
    for (const Miss& m : other.nearest_.all()) nearest_.offer(m);
    for (std::size_t i = 0; i < kTrials; ++i) thrown_out_[i] += other.thrown_out_[i];
    fits_ += other.fits_;
    solved_ += other.solved_;
  }

  [[nodiscard]] std::vector<Fit> kept() const { return kept_.sorted(); }
  [[nodiscard]] std::vector<Miss> nearest() const { return nearest_.sorted(); }
  [[nodiscard]] std::uint64_t fits() const { return fits_; }
  [[nodiscard]] std::uint64_t solved() const { return solved_; }
  [[nodiscard]] const std::array<std::uint64_t, kTrials>& thrown_out() const { return thrown_out_; }

 private:
  /// What differs by rounding alone is equal.
  static Miss miss_of(const Lacking& lacking, std::uint64_t index) {
    constexpr double kStep = 1e-9;
    return {index, std::round(lacking.most / kStep) * kStep, *lacking.first};
  }
  Best<Fit> kept_;
  Best<Miss> nearest_;
  std::uint64_t fits_ = 0, solved_ = 0;
  std::array<std::uint64_t, kTrials> thrown_out_{};
};

}  // namespace groovewright::drive
