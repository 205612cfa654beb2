// nc.h: programs of machine tools as RS274/NGC text (NIST IR 6556), and back. Text -> blocks -> moves; commands ->
// text.
//
// Lengths mm. A lathe's x is a radius here, whatever its text says; z runs along the spindle, away from the chuck.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "groovewright/base/diagnostics.h"

namespace groovewright::nc {

struct Point {
  double x = 0, y = 0, z = 0;
  bool operator==(const Point&) const = default;
};

// ---- what a program shall do, before it is text ----

enum class Turn { cw, ccw };  ///< spindle: M3 is cw, seen along the spindle from behind it
enum class Plane { xy, zx };  ///< G17 (mill), G18 (lathe)

struct Comment {
  std::string text;
};
/// A number that the machinist may change at the top of the program: "#1 = 0.000 (groove diameter, …)".
struct Parameter {
  int number = 1;
  double value = 0;
  std::string note;
};
/// From here on moves are shifted by parameters: x by the one, z by the other; 0 for neither. A parameter for x is a
/// change of diameter where the dialect writes diameters, and its note says so.
struct Correction {
  int x = 0, z = 0;
};
struct ToolChange {
  int number = 0;
  std::string name;
};
struct SpindleSpeed {
  double rpm = 0;
  Turn turn = Turn::cw;
};
/// Constant surface speed; never faster than `max_rpm`. A dialect without it gets revolutions written out.
struct SurfaceSpeed {
  double m_per_min = 0, max_rpm = 0;
  Turn turn = Turn::cw;
};
struct SpindleStop {};
struct FeedPerTurn {
  double mm = 0;
};
struct FeedPerMinute {
  double mm = 0;
};
struct Coolant {
  bool on = true;
};
struct Rapid {
  Point to;
};
struct Line {
  Point to;
};
/// Round `centre` in the program's plane, ccw as seen with the plane's first axis right and its second up (z right and
/// x up on a lathe: the half plane as we draw it); helical where the third axis changes.
struct Arc {
  Point to, centre;
  Turn turn = Turn::ccw;
};
struct Dwell {
  double seconds = 0;
};
/// A hole along z at (at.x, at.y), from clearance height `clear` to `bottom`; back to `clear`. `peck` > 0: in pecks.
/// `pitch` > 0: a thread is tapped. A dialect without the cycle gets the moves written out.
struct Cycle {
  Point at;  ///< z is not used
  double clear = 0, bottom = 0, peck = 0, pitch = 0, dwell = 0;
};
using Command = std::variant<Comment, Parameter, Correction, ToolChange, SpindleSpeed, SurfaceSpeed, SpindleStop,
                             FeedPerTurn, FeedPerMinute, Coolant, Rapid, Line, Arc, Dwell, Cycle>;

/// One program: header comments, commands, safe start and end lines are the writer's business.
struct Script {
  Plane plane = Plane::zx;
  std::vector<std::string> header;  ///< a comment each
  std::vector<Command> commands;
  Point safe;  ///< where tools are changed and where the program ends
};

/// A control's words as data: which of the language's functions it has, and how they are written.
struct Dialect {
  std::string id, name, source;
  bool lathe_diameters = true;  ///< X is a diameter in a lathe's text (G7); I stays a radius
  int decimals = 4;
  /// Function -> pattern with {placeholders}; one that is missing is written out in words that all controls have. See
  /// the data files for the functions.
  std::map<std::string, std::string, std::less<>> words;
};

/// The program's text, lines ending in "\n". Same script, same bytes. Requires: finite numbers.
[[nodiscard]] std::string write(const Script& script, const Dialect& dialect);

// ---- what a text says ----

/// A word as read: letter and value, parameters and expressions worked out.
struct Word {
  char letter = 0;
  double value = 0;
};
struct Block {
  int line = 0;  ///< in the text, from 1
  std::vector<Word> words;
  std::string comment;
};
struct Program {
  std::string name;  ///< the text's, as given
  std::vector<Block> blocks;
};
/// Letters, numbers, parameters and expressions; no meaning. nullopt, with each mistake's line, where the text is none.
[[nodiscard]] std::optional<Program> read(std::string_view name, std::string_view text, Diagnostics& diagnostics);

/// The machine's state while it moves.
struct Spindle {
  bool on = false;
  Turn turn = Turn::cw;
  double rpm = 0;      ///< where no surface speed is set
  double surface = 0;  ///< m/min; 0: rpm counts
  double max_rpm = 0;  ///< clamp of the surface speed; 0: none was set
};
struct Move {
  enum class Kind { rapid, feed, cw, ccw, dwell };
  int line = 0;
  Kind kind = Kind::rapid;
  Plane plane = Plane::zx;
  Point from, to, centre;
  int tool = 0;     ///< 0: none yet
  double feed = 0;  ///< mm a minute or a turn; s for a dwell
  bool feed_per_turn = false;
  bool coolant = false;
  Spindle spindle;
};
/// What is wrong with a text as a program: two codes of one modal group in a block, an arc whose radii differ by more
/// than 0.002 mm, a feed move without feed or with the spindle at rest …
struct Fault {
  int line = 0;
  std::string says;
};
struct Trace {
  std::string name;
  std::vector<Move> moves;  ///< in order; cycles in single moves
  std::vector<Fault> faults;
};
/// Runs the blocks through the language's modal state.
[[nodiscard]] Trace trace(const Program& program, const Dialect& dialect);

inline constexpr double kArcRadii = 0.002;  ///< mm: how far an arc's two radii may differ (NIST IR 6556)

}  // namespace groovewright::nc
