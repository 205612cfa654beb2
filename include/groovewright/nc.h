// nc.h: programs of machine tools as RS274/NGC text (NIST IR 6556), and back. Text -> blocks -> moves; commands ->
// text.
//
// Lengths mm. A lathe's x is a radius here, whatever its text says; z runs along the spindle, away from the chuck.
#pragma once

#include <cstddef>
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

/// Long ones are cut into several lines; what controls can't show becomes "?", brackets of comments square ones.
struct Comment {
  std::string text;
};
/// A number that the machinist may change: "#1 = 0.000 (groove diameter, …)". All stand at the top of the program,
/// wherever the script has them. Numbers 1 to 4999.
struct Parameter {
  int number = 1;
  double value = 0;
  std::string note;
};
/// From here on moves are shifted by parameters: x by the one, z by the other; 0 for neither. A parameter for x is a
/// change of diameter where the dialect writes diameters, and its note says so. The next move is no arc.
struct Correction {
  int x = 0, z = 0;
};
/// At `Script::safe`: the way there is the writer's and must be free (mill: Z first). Spindle and coolant stop; speed
/// and feed must be given again. Numbers from 1.
struct ToolChange {
  int number = 0;
  std::string name;
};
/// Written in whole revolutions.
struct SpindleSpeed {
  double rpm = 0;
  Turn turn = Turn::cw;
};
/// Constant surface speed; never faster than `max_rpm`. A dialect without it gets revolutions written out, each move's
/// by the larger of its ends.
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
/// A lathe's y is not used.
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
/// `pitch` > 0: a thread is tapped, at a speed given by revolutions. A dialect without the cycle gets the moves written
/// out: a tap is fed in, turned back and fed out, for a holder that floats.
struct Cycle {
  Point at{};  ///< z is not used
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
  /// Function -> pattern with {placeholders}; one that is missing is written out in words that all controls have. A
  /// word G… beyond those of NIST IR 6556 is understood by `trace` if and only if a pattern holds it.
  std::map<std::string, std::string, std::less<>> words;
};
/// A function that a dialect may have: which placeholders its pattern must and may hold.
struct Function {
  std::string_view name;
  std::vector<std::string_view> due, allowed;
  std::string_view example;
};
/// By name.
[[nodiscard]] const std::vector<Function>& functions();
/// What is wrong with a pattern of `function`, "" where nothing is. Requires: one of `functions()`.
[[nodiscard]] std::string pattern_fault(std::string_view function, std::string_view pattern);
inline constexpr int kLeastDecimals = 3, kMostDecimals = 6;  ///< of a dialect: with fewer, arcs' radii could differ

/// The program's text, lines ending in "\n". Same script, same bytes. Rounded points keep an arc's two radii within
/// `kArcRadii`. Requires: finite numbers; a spindle that turns and a feed before each move in metal (since the last
/// change of tools), speeds and feeds above zero, arcs with equal radii, holes with clear > bottom.
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
inline constexpr std::size_t kMaxProgramBytes = 1 << 24;
/// Letters, numbers, parameters and expressions; no meaning. NIST IR 6556, and comments behind ";". Blocks that begin
/// with "/" are read: the switch that skips them is taken to be off. A parameter must be set before it is used, for its
/// value would be what another program left. nullopt, with each mistake's line, where the text is none.
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
/// than 0.002 mm, a feed move without feed or with the spindle at rest, a word that leads to a place that the text does
/// not tell (G28, G30, G53, G55 and up, G92), a program without end …
struct Fault {
  int line = 0;
  std::string says;
};
struct Trace {
  std::string name;
  std::vector<Move> moves;  ///< in order; cycles in single moves
  std::vector<Fault> faults;
};
/// Runs the blocks through the language's modal state, in the order of execution of NIST IR 6556. It begins in G17,
/// G21, G90, G94. Where the machine stands is unknown until rapids have told all axes (a lathe: X and Z): the move that
/// tells the last one begins where it ends. M6 stops the spindle. Repeated holes, G91 in cycles: refused as faults.
[[nodiscard]] Trace trace(const Program& program, const Dialect& dialect);

inline constexpr double kArcRadii = 0.002;  ///< mm: how far an arc's two radii may differ (NIST IR 6556)

}  // namespace groovewright::nc
