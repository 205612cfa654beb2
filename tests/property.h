// property.h: properties over random cases: how many (GROOVEWRIGHT_CASES, 100 unless set), with seed and count told.
#pragma once

#include <algorithm>
#include <cstdlib>
#include <iostream>
#include <sstream>

#include <gtest/gtest.h>
#include <rapidcheck.h>

namespace groovewright {

/// GROOVEWRIGHT_CASES, or 100.
inline int cases() {
  const char* wanted = std::getenv("GROOVEWRIGHT_CASES");
  return wanted ? std::max(1, std::atoi(wanted)) : 100;
}

/// A number between two limits, in 10,000 steps, so that cases shrink to round values. Within a property only.
inline double any(double from, double to) {
  return from + (to - from) * *rc::gen::resize(rc::kNominalSize, rc::gen::inRange(0, 10001)) / 10000;
}

/// Holds `property` over `count` cases; a failure shows the shrunk case.
template <class Property>
void expect_property(const Property& property, int count = cases()) {
  rc::detail::TestParams params = rc::detail::configuration().testParams;
  params.maxSuccess = count;
  rc::detail::TestMetadata about;
  about.id = ::testing::UnitTest::GetInstance()->current_test_info()->name();
  std::cout << about.id << ": seed " << params.seed << ", " << count << " cases\n";
  const auto result = rc::detail::checkTestable(property, about, params);
  std::ostringstream told;
  rc::detail::printResultMessage(result, told);
  EXPECT_TRUE(result.template is<rc::detail::SuccessResult>()) << told.str();
}

}  // namespace groovewright
