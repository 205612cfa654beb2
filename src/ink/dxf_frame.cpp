#include "dxf_frame.h"

#include <cmath>
#include <vector>

#include "groovewright/base/text.h"

namespace groovewright::ink {
namespace {

using plane::Ink;
using plane::Vec2;

// Handles of what is always there. Tables' entries follow their table.
enum : Handle {
  kVports = 0x1,
  kLinetypes = 0x4,
  kLayers = 0x10,
  kStyles = 0x30,
  kViews = 0x36,
  kUcs = 0x37,
  kApplications = 0x38,
  kDimensionStyles = 0x3A,
  kBlockRecords = 0x3F,
  kPaperSpace = 0x41,
  kModelBlock = 0x44,
  kPaperBlock = 0x46,
  kRoot = 0x50,
  kGroups = 0x51,
  kLayouts = 0x52,
  kModelLayout = 0x53,
  kPaperLayout = 0x54,
};
static_assert(kBlockRecords + 1 == kModelSpace);
static_assert(kLayers + 1 + plane::kInks.size() < kStyles);

constexpr int kBlackOrWhite = 7;

/// One table: its head, its entries, its end.
class Table {
 public:
  Table(DxfTags& tags, std::string_view name, Handle self, int size) : tags_(tags), name_(name), self_(self) {
    tags_.text(0, "TABLE");
    tags_.text(2, name);
    tags_.handle(5, self);
    tags_.handle(330, 0);
    tags_.text(100, "AcDbSymbolTable");
    tags_.integer(70, size);
    if (name == "DIMSTYLE") tags_.text(100, "AcDbDimStyleTable");
  }
  ~Table() { tags_.text(0, "ENDTAB"); }
  Table(const Table&) = delete;
  Table& operator=(const Table&) = delete;

  void entry(std::string_view marker, std::string_view name) {
    tags_.thing(name_, self_ + ++used_, self_, {"AcDbSymbolTableRecord", marker});
    tags_.text(2, name);
  }
  /// An entry with the flags that all but block records have.
  void flagged_entry(std::string_view marker, std::string_view name) {
    entry(marker, name);
    tags_.integer(70, 0);
  }

 private:
  DxfTags& tags_;
  std::string_view name_;
  Handle self_, used_ = 0;
};

class Frame {
 public:
  Frame(const plane::Page& page, const Typeface& typeface)
      : scale_(page.scale), size_{page.width / page.scale, page.height / page.scale}, typeface_(typeface) {}

  [[nodiscard]] std::string around(const DxfTags& drawn, Handle next) {
    comments();
    header(next);
    tags_.begin_section("CLASSES");
    tags_.end_section();
    tables();
    blocks();
    tags_.begin_section("ENTITIES");
    tags_.append(drawn);
    tags_.end_section();
    objects();
    tags_.text(0, "EOF");
    return tags_.bytes();
  }

 private:
  void comments() {
    tags_.text(999, "All lengths in mm. The page is divided by its scale, " + shortest(scale_) + ":");
    tags_.text(999, "views at the scale of the page come out in the part's own size. A layer is a kind of line.");
  }

  template <class Put>
  void variable(std::string_view name, Put put) {
    tags_.text(9, name);
    put(tags_);
  }

  void header(Handle next) {
    tags_.begin_section("HEADER");
    variable("$ACADVER", [](DxfTags& t) { t.text(1, "AC1015"); });
    variable("$DWGCODEPAGE", [](DxfTags& t) { t.text(3, "ANSI_1252"); });
    variable("$HANDSEED", [&](DxfTags& t) { t.handle(5, next); });
    variable("$INSBASE", [](DxfTags& t) { t.point(10, {}); });
    variable("$EXTMIN", [](DxfTags& t) { t.point(10, {}); });
    variable("$EXTMAX", [&](DxfTags& t) { t.point(10, size_); });
    variable("$LIMMIN", [](DxfTags& t) { t.flat(10, {}); });
    variable("$LIMMAX", [&](DxfTags& t) { t.flat(10, size_); });
    variable("$LTSCALE", [](DxfTags& t) { t.real(40, 1); });
    variable("$TEXTSTYLE", [&](DxfTags& t) { t.text(7, style_name()); });
    variable("$CLAYER", [](DxfTags& t) { t.text(8, "0"); });
    variable("$MEASUREMENT", [](DxfTags& t) { t.integer(70, 1); });  // metric
    variable("$INSUNITS", [](DxfTags& t) { t.integer(70, 4); });     // mm
    variable("$LWDISPLAY", [](DxfTags& t) { t.integer(290, 1); });
    tags_.end_section();
  }

  void tables() {
    tags_.begin_section("TABLES");
    viewports();
    linetypes();
    layers();
    styles();
    { const Table views(tags_, "VIEW", kViews, 0); }
    { const Table ucs(tags_, "UCS", kUcs, 0); }
    Table(tags_, "APPID", kApplications, 1).flagged_entry("AcDbRegAppTableRecord", "ACAD");
    Table(tags_, "DIMSTYLE", kDimensionStyles, 1).flagged_entry("AcDbDimStyleTableRecord", "Standard");
    block_records();
    tags_.end_section();
  }

  /// The whole page in sight.
  void viewports() {
    Table table(tags_, "VPORT", kVports, 1);
    table.flagged_entry("AcDbViewportTableRecord", "*Active");
    tags_.flat(10, {0, 0});
    tags_.flat(11, {1, 1});
    tags_.flat(12, 0.5 * size_);
    tags_.flat(13, {0, 0});    // snap
    tags_.flat(14, {10, 10});  // snap step
    tags_.flat(15, {10, 10});  // grid step
    tags_.point(16, {0, 0}, 1);
    tags_.point(17, {0, 0});
    tags_.real(40, size_.y);
    tags_.real(41, size_.x / size_.y);
    tags_.real(42, 50);  // lens
    for (const int code : {43, 44, 50, 51}) tags_.real(code, 0);
    tags_.integer(71, 0);
    tags_.integer(72, 1000);  // how round circles look
    tags_.integer(73, 1);
    tags_.integer(74, 3);
    for (const int code : {75, 76, 77, 78}) tags_.integer(code, 0);
  }

  void linetype(Table& table, std::string_view name, const std::vector<double>& dashes) {
    table.flagged_entry("AcDbLinetypeTableRecord", name);
    tags_.text(3, dashes.empty() ? "" : "ISO 128-2");
    tags_.integer(72, 'A');
    tags_.integer(73, static_cast<int>(dashes.size()));
    double sum = 0;
    for (const double dash : dashes) sum += dash / scale_;
    tags_.real(40, sum);
    for (std::size_t i = 0; i < dashes.size(); ++i) {
      tags_.real(49, (i % 2 == 0 ? dashes[i] : -dashes[i]) / scale_);  // gaps are negative
      tags_.integer(74, 0);
    }
  }

  void linetypes() {
    std::vector<Ink> dashed;
    for (const Ink ink : plane::kInks) {
      if (!plane::pen(ink).dashes.empty()) dashed.push_back(ink);
    }
    Table table(tags_, "LTYPE", kLinetypes, 3 + static_cast<int>(dashed.size()));
    for (const std::string_view name : {"ByBlock", "ByLayer", "Continuous"}) linetype(table, name, {});
    for (const Ink ink : dashed) linetype(table, plane::to_text(ink), plane::pen(ink).dashes);
  }

  void layer(Table& table, std::string_view name, std::string_view line, double width) {
    table.flagged_entry("AcDbLayerTableRecord", name);
    tags_.integer(62, kBlackOrWhite);
    tags_.text(6, line);
    tags_.integer(370, static_cast<int>(std::lround(100 * width)));
  }

  void layers() {
    Table table(tags_, "LAYER", kLayers, 1 + static_cast<int>(plane::kInks.size()));
    layer(table, "0", "Continuous", 0.25);
    for (const Ink ink : plane::kInks) {
      const plane::Pen pen = plane::pen(ink);
      layer(table, plane::to_text(ink), pen.dashes.empty() ? "Continuous" : plane::to_text(ink), pen.width);
    }
  }

  [[nodiscard]] std::string style_name() const { return dxf_text(typeface_.family); }

  void style(Table& table, std::string_view name, std::string_view file) {
    table.flagged_entry("AcDbTextStyleTableRecord", name);
    tags_.real(40, 0);
    tags_.real(41, 1);
    tags_.real(50, 0);
    tags_.integer(71, 0);
    tags_.real(42, 3.5 / scale_);
    tags_.text(3, file);
    tags_.text(4, "");
  }

  void styles() {
    Table table(tags_, "STYLE", kStyles, 2);
    style(table, "Standard", "txt");
    style(table, style_name(), style_name() + ".ttf");
  }

  void block_records() {
    Table table(tags_, "BLOCK_RECORD", kBlockRecords, 2);
    table.entry("AcDbBlockTableRecord", "*Model_Space");
    tags_.handle(340, kModelLayout);
    table.entry("AcDbBlockTableRecord", "*Paper_Space");
    tags_.handle(340, kPaperLayout);
  }

  /// A block that holds nothing of its own.
  void block(std::string_view name, Handle self, Handle record) {
    const auto part = [&](std::string_view kind, Handle handle, std::string_view marker) {
      tags_.thing(kind, handle, record, {"AcDbEntity"});
      if (record == kPaperSpace) tags_.integer(67, 1);
      tags_.text(8, "0");
      tags_.text(100, marker);
    };
    part("BLOCK", self, "AcDbBlockBegin");
    tags_.text(2, name);
    tags_.integer(70, 0);
    tags_.point(10, {});
    tags_.text(3, name);
    tags_.text(1, "");
    part("ENDBLK", self + 1, "AcDbBlockEnd");
  }

  void blocks() {
    tags_.begin_section("BLOCKS");
    block("*Model_Space", kModelBlock, kModelSpace);
    block("*Paper_Space", kPaperBlock, kPaperSpace);
    tags_.end_section();
  }

  struct Named {
    std::string_view name;
    Handle handle;
  };
  void dictionary(Handle self, Handle owner, std::initializer_list<Named> entries) {
    tags_.thing("DICTIONARY", self, owner, {"AcDbDictionary"});
    tags_.integer(281, 1);
    for (const Named& entry : entries) {
      tags_.text(3, entry.name);
      tags_.handle(350, entry.handle);
    }
  }

  void layout(std::string_view name, Handle self, Handle record, int order) {
    tags_.thing("LAYOUT", self, kLayouts, {"AcDbPlotSettings"});
    tags_.text(1, "");
    tags_.integer(70, order == 0 ? 1024 : 0);  // is it the model's?
    tags_.integer(72, 1);                      // mm
    tags_.text(100, "AcDbLayout");
    tags_.text(1, name);
    tags_.integer(70, 1);
    tags_.integer(71, order);
    tags_.flat(10, {});
    tags_.flat(11, size_);
    tags_.point(12, {});
    tags_.point(14, {});
    tags_.point(15, size_);
    tags_.real(146, 0);
    tags_.point(13, {});
    tags_.point(16, {1, 0});
    tags_.point(17, {0, 1});
    tags_.integer(76, 0);
    tags_.handle(330, record);
  }

  void objects() {
    tags_.begin_section("OBJECTS");
    dictionary(kRoot, 0, {{"ACAD_GROUP", kGroups}, {"ACAD_LAYOUT", kLayouts}});
    dictionary(kGroups, kRoot, {});
    dictionary(kLayouts, kRoot, {{"Layout1", kPaperLayout}, {"Model", kModelLayout}});
    layout("Model", kModelLayout, kModelSpace, 0);
    layout("Layout1", kPaperLayout, kPaperSpace, 1);
    tags_.end_section();
  }

  double scale_;
  Vec2 size_;
  const Typeface& typeface_;
  DxfTags tags_;
};

}  // namespace

std::string dxf_file(const plane::Page& page, const Typeface& typeface, const DxfTags& drawn, Handle next) {
  return Frame(page, typeface).around(drawn, next);
}

}  // namespace groovewright::ink
