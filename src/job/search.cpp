#include "search.h"

#include <cmath>
#include <functional>
#include <numbers>

#include "complaint.h"
#include "groovewright/base/json.h"
#include "groovewright/base/text.h"
#include "groovewright/drive/analysis.h"
#include "groovewright/drive/belts.h"
#include "groovewright/job.h"
#include "groovewright/report/table.h"

namespace groovewright::job {
namespace {

constexpr double kDegree = std::numbers::pi / 180;
constexpr double kPercent = 100;

using report::Cell;
using report::Units;

/// A line of the tables: a fit or a near miss.
struct Line {
  std::size_t rank = 0;
  drive::Combination with;
  const drive::Fit* fit = nullptr;
  const drive::NearMiss* miss = nullptr;
};
struct ColumnOf {
  report::Column column;
  std::function<Cell(const Line&)> value;
};
using Columns = std::vector<ColumnOf>;

double count(std::uint64_t n) { return static_cast<double>(n); }

const char* merit_word(drive::Merit merit) {
  return merit == drive::Merit::travel ? "travel" : merit == drive::Merit::grip ? "grip" : "room";
}
const char* merit_says(drive::Merit merit) {
  return merit == drive::Merit::travel ? "least way left to a stop over the belt's tolerance, stretch and heat"
         : merit == drive::Merit::grip ? "least slip margin"
                                       : "belt length left when it goes over the pulley fitted last";
}

Cell finite(double v) { return std::isfinite(v) ? Cell{v} : Cell{}; }

class Tables {
 public:
  explicit Tables(const Searched& s) : s_(s) {
    for (const drive::Fit& f : s.found.kept) {
      kept_.push_back({kept_.size() + 1, drive::combination(s.space, f.index), &f, nullptr});
    }
    for (const drive::NearMiss& m : s.found.nearest) {
      nearest_.push_back({nearest_.size() + 1, drive::combination(s.space, m.index), nullptr, &m});
    }
  }

  [[nodiscard]] report::Table kept() const {
    return table("kept", "The best of those that meet all limits", joined({rank(), choices(), figures()}), {&kept_});
  }
  [[nodiscard]] report::Table nearest() const {
    return table("nearest", "The nearest of those that do not", joined({rank(), choices(), reasons()}), {&nearest_});
  }
  [[nodiscard]] report::Table both() const {
    const ColumnOf kind{{"kind", "Kind", ""}, [](const Line& l) { return std::string(l.fit ? "fit" : "near miss"); }};
    return table("all", "", joined({{kind}, rank(), choices(), figures(), reasons()}), {&kept_, &nearest_});
  }
  [[nodiscard]] report::Table counts() const {
    report::Table t{"thrown_out",
                    "Combinations thrown out, by the first trial that they failed",
                    {{"trial", "Trial", ""}, {"combinations", "Combinations", ""}},
                    {}};
    for (std::size_t i = 0; i < drive::kTrials; ++i) {
      t.rows.push_back({std::string(to_text(static_cast<drive::Trial>(i))), count(s_.found.thrown_out[i])});
    }
    return t;
  }

 private:
  static Columns joined(std::initializer_list<Columns> all) {
    Columns out;
    for (const Columns& c : all) out.insert(out.end(), c.begin(), c.end());
    return out;
  }
  static report::Table table(const char* id, const char* title, const Columns& columns,
                             std::initializer_list<const std::vector<Line>*> lists) {
    report::Table t{id, title, {}, {}};
    for (const ColumnOf& c : columns) t.columns.push_back(c.column);
    for (const auto* lines : lists) {
      for (const Line& l : *lines) {
        std::vector<Cell> row;
        for (const ColumnOf& c : columns) row.push_back(c.value(l));
        t.rows.push_back(std::move(row));
      }
    }
    return t;
  }

  [[nodiscard]] bool slides() const { return s_.drive.tensioner && s_.drive.tensioner->slides(); }

  static Columns rank() {
    return {{{"rank", "Rank", ""}, [](const Line& l) { return static_cast<double>(l.rank); }}};
  }

  /// Belt, turn, and what is varied.
  [[nodiscard]] Columns choices() const {
    Columns c{{{"belt", "Belt", ""}, [&b = s_.drive.belt](const Line& l) {
                 drive::Belt belt = b;
                 belt.effective_length.value = l.with.length;
                 return drive::designation(belt);
               }}};
    if (s_.space.turns.size() > 1 || s_.space.turns.front() != 0) {
      c.push_back({{"turn", "Turn of " + s_.drive.tensioner->name + "'s body", "deg"},
                   [](const Line& l) { return l.with.turn / kDegree; }});
    }
    for (std::size_t i = 0; i < s_.space.varied.size(); ++i) {
      const drive::Varied& v = s_.space.varied[i];
      const bool arm = v.pulley == drive::kNone;
      const drive::Pulley& p = arm ? s_.drive.tensioner->idler : s_.drive.pulleys[v.pulley];
      const std::string& name = arm ? s_.drive.tensioner->name : p.name;
      const std::string id = drive::as_id(name);
      if (v.radii.size() > 1 || v.radii.front() != p.radius) {
        const bool flat = p.side == drive::Side::back;
        c.push_back({{"diameter_" + id, (flat ? "Flat diameter of " : "Effective diameter of ") + name, "mm"},
                     [i](const Line& l) { return 2 * l.with.choices[i].radius; }});
      }
      const drive::Vec2 was = arm ? s_.drive.tensioner->pivot : p.at;
      if (v.places.size() > 1 || v.places.front().x != was.x || v.places.front().y != was.y) {
        const std::string of = arm ? "the pivot of " + name : name;
        c.push_back({{"x_" + id, "x of " + of, "mm"}, [i](const Line& l) { return l.with.choices[i].place.x; }});
        c.push_back({{"y_" + id, "y of " + of, "mm"}, [i](const Line& l) { return l.with.choices[i].place.y; }});
      }
    }
    return c;
  }

  [[nodiscard]] Columns figures() const {
    const double per = slides() ? 1 : kDegree;
    const char* way = slides() ? "mm" : "deg";
    using F = drive::Fit;
    const auto of = [](auto value) {
      return [value](const Line& l) { return l.fit ? finite(value(*l.fit)) : Cell{}; };
    };
    Columns c;
    if (s_.drive.tensioner) {
      c.push_back(
          {{"to_near_stop", "Least way to the near stop", way}, of([per](const F& f) { return f.to_near / per; })});
      c.push_back({{"to_far_stop", "to the far stop", way}, of([per](const F& f) { return f.to_far / per; })});
      c.push_back({{"tension_low", "Tension set, least", "N"}, of([](const F& f) { return f.tension.low; })});
      c.push_back({{"tension_middle", "middle", "N"}, of([](const F& f) { return f.tension.mid; })});
      c.push_back({{"tension_high", "greatest", "N"}, of([](const F& f) { return f.tension.high; })});
    }
    c.push_back({{"slip_margin", "Least slip margin", "1"}, of([](const F& f) { return f.grip; })});
    c.push_back({{"belt_room", "Belt room, length left", "mm"}, of([](const F& f) { return f.room; })});
    const char* unit = s_.space.merit == drive::Merit::travel ? way : s_.space.merit == drive::Merit::grip ? "1" : "mm";
    c.push_back(
        {{"merit", std::string("Merit: ") + merit_word(s_.space.merit), unit}, of([](const F& f) { return f.merit; })});
    return c;
  }

  static Columns reasons() {
    return {{{"lacks", "Lacks of its worst limit", "%"},
             [](const Line& l) { return l.miss ? Cell{kPercent * l.miss->by} : Cell{}; }},
            {{"reasons", "What it misses", ""}, [](const Line& l) { return l.miss ? Cell{why(*l.miss)} : Cell{}; }}};
  }
  static std::string why(const drive::NearMiss& miss) {
    const std::string all = complaints(miss.fails);
    return all.empty() ? std::string(to_text(miss.first)) : all;
  }

  const Searched& s_;
  std::vector<Line> kept_, nearest_;
};

std::string page(const Searched& s, const Tables& tables, Units units) {
  const drive::SearchResult& r = s.found;
  std::string out = "# " + std::string(r.fits > 0 ? "PASS" : "FAIL") + ": search of " + s.drive.name + "\n\n" +
                    s.title + "\n\n" + search_row(r).says + ". Ranked by " + merit_word(s.space.merit) + ": " +
                    merit_says(s.space.merit) + ". Made by " + program() + ".\n\n";
  out +=
      "Turns are counter-clockwise seen from the front; free position, stops and peg turn together. Places are x to "
      "the right and y up.\n\n## Cautions\n\n"
      "- A combination that fits on this list still wants its own full sheet and a trial by hand, engine off: build "
      "it into the drive document and run `drive` again.\n"
      "- Another driven pulley turns its unit at another speed: the limits searched are those that the document "
      "states.\n\n";
  if (!r.kept.empty()) out += report::to_markdown(tables.kept(), units) + "\n";
  if (!r.nearest.empty()) out += report::to_markdown(tables.nearest(), units) + "\n";
  return out + report::to_markdown(tables.counts(), units);
}

std::string json_of(const Searched& s, const Tables& tables) {
  JsonWriter json;
  json.begin_object().field("format", kSearchFormat).field("name", s.drive.name).field("title", s.title);
  json.field("units", "mm").field("program", program()).field("merit", merit_word(s.space.merit));
  json.field("combinations", count(s.found.combinations)).field("solved", count(s.found.solved));
  json.field("fits", count(s.found.fits));
  report::write_table(json, tables.kept());
  report::write_table(json, tables.nearest());
  report::write_table(json, tables.counts());
  json.end_object();
  return json.text();
}

}  // namespace

Check search_row(const drive::SearchResult& r) {
  const std::string all = std::to_string(r.combinations), solved = std::to_string(r.solved);
  return judged({.id = "search_found",
                 .label = "Combinations searched that meet all limits",
                 .value = count(r.fits),
                 .unit = "",
                 .lower = 1,
                 .source = "spec",
                 .says = std::to_string(r.fits) + " of " + all + " combinations meet all limits, " + solved +
                         " were solved in full"});
}

Artifacts search_artifacts(const Searched& s, Units units) {
  const Tables tables(s);
  const std::string name = s.drive.name + ".search";
  return {{name + ".md", page(s, tables, units)},
          {name + ".csv", report::to_csv(tables.both(), units)},
          {name + ".json", json_of(s, tables)}};
}

}  // namespace groovewright::job
