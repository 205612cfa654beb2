// search_standing.h: inside room `drive`: the tests of a layout that need neither belt nor tensioner.
#pragma once

#include <vector>

#include "groovewright/drive/route.h"
#include "search_tally.h"

namespace groovewright::drive {

class StandingTests {
 public:
  StandingTests(const Drive& base, const Course& course);
  /// What a drive of the same pulleys, other sizes and places, lacks. `kNoLayout` where no belt can run.
  [[nodiscard]] Lacking judge(const Drive& drive, const Course& course);

 private:
  void sizes(const Drive& drive, const Course& course, Lacking& lacking) const;
  void speeds(const Drive& drive, const Course& course, Lacking& lacking) const;
  void loads(const Drive& drive, const Course& course, Lacking& lacking) const;
  void bodies(const Drive& drive, const Course& course, Lacking& lacking) const;
  void spans(const Drive& drive, const Course& course, Lacking& lacking);
  bool slack_span_ = true;
  std::vector<Span> spans_;
};

/// Of a span's misalignment, whose length is known.
[[nodiscard]] double misaligned_by(const Drive& drive, const Course& course, std::size_t span, double length);

}  // namespace groovewright::drive
