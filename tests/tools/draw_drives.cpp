// Writes every picture of the invented drives as SVG into a folder, for a person to look at:
//   draw_drives FOLDER
#include <fstream>
#include <iostream>

#include "../drive_pictures.h"
#include "groovewright/ink.h"

int main(int count, char** words) {
  using namespace groovewright::drive;
  namespace testing = groovewright::drive::testing;
  if (count != 2) return std::cerr << "draw_drives FOLDER\n", 2;
  const PictureStyle style = testing::picture_style();
  const auto write = [&](const std::string& name, const groovewright::plane::Page& page) {
    std::ofstream(std::string(words[1]) + "/" + name + ".svg") << groovewright::ink::to_svg(page, style.typeface);
  };
  LayoutOptions demo{"the hill-climb car's front drive", 278.4 * testing::kDegree, {}};
  demo.clearances = {{{20, 212}, {20, 317 - 3}, "gap 102"}, {{-41.2, 190}, {-2, 190}, "39.2"}};
  write("layout-demo", layout_page(testing::demo_drive(), demo, style));
  write("layout-larkspur", layout_page(testing::larkspur(), {"", 12 * testing::kDegree, {}}, style));
  write("layout-tansy", layout_page(testing::tansy(), {"", 9.0, {}}, style));
  write("layout-orchis", layout_page(testing::orchis(), {"", 140 * testing::kDegree, {}}, style));
  write("layout-free", layout_page(testing::larkspur(), {}, style));
  DrillTemplate hole = testing::larkspur_template();
  write("template", *drill_template_page(hole, style));
  hole.ligament = 3.1;
  write("template-thin", *drill_template_page(hole, style));
  write("tension", tension_page(testing::larkspur_tensions(), style));
  write("frequency", frequency_page(testing::larkspur_frequencies(), style));
  write("range", range_page(testing::larkspur_range(), style));
  return 0;
}
