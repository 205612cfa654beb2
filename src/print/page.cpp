#include <numbers>

#include "gauges.h"
#include "groovewright/base/text.h"
#include "make.h"
#include "marking.h"

namespace groovewright::print {
namespace {

std::string mm(double v) { return trimmed(v, 2) + " mm"; }
std::string mm3(double v) { return number(v, 3); }

std::string pose_of(const Way& way) { return way.standing ? "standing on a cut" : "axis upright"; }

class Page {
 public:
  Page(const part::Part& metal, const Choice& choice, const Print& print, const Facts& facts)
      : metal_(metal), choice_(choice), print_(print), facts_(facts) {}

  std::string write() {
    head();
    cautions();
    printing();
    ways();
    sizes();
    objects();
    steps();
    return std::move(out_);
  }

 private:
  void line(const std::string& text = "") { out_ += text + "\n"; }

  void head() {
    line("# Fit-check print of " + metal_.name + (metal_.revision.empty() ? "" : ", revision " + metal_.revision));
    line();
    if (!metal_.title.empty()) line(metal_.title + ". ");
    line("Made to fit, not to run. Printer: " + choice_.printer.name + ". Plastic: " + choice_.plastic.name + ".");
    line();
  }

  void cautions() {
    line("## Before anything else");
    line();
    line("- Never start, crank or turn the engine with this print or a stand-in screw on it: it will burst.");
    line("- Turn parts by hand only, key out, battery off; mind fingers between belt and pulley.");
    line("- " + choice_.plastic.name + " softens at about " + trimmed(choice_.plastic.softens, 0) + " °C and " +
         choice_.plastic.note + ".");
    line("- Local codes and a qualified person decide what may run; a print that fits proves no strength.");
    line();
  }

  void printing() {
    const Way& way = print_.chosen;
    line("## How to print");
    line();
    std::string pose;
    if (way.standing) {
      pose = "each segment stands on its cut face, the socket of its dovetail down";
    } else {
      pose = std::string("axis upright, ") + (print_.front_down ? "front" : "rear") + " face down";
      if (facts_.other_side > facts_.support + 1) {
        pose += " (the other way up " + trimmed(facts_.other_side, 0) + " mm² would hang over)";
      }
    }
    line("- " + std::to_string(way.pieces) + (way.pieces == 1 ? " piece, " : " pieces, ") + pose + "; layers of " +
         mm(way.layer) + ".");
    if (way.standing) {
      line("- The groove flanks then stand within 20° of upright: no step, no support in the grooves.");
    } else {
      line("- The under flank of each groove leans half the groove's angle above the bed: every layer steps " +
           mm(way.flank_step) + " sideways, over " + mm(way.flank_reach) + " in all; the printer bridges " +
           mm(choice_.printer.greatest_step) + ". Expect it rough, the upper flank clean.");
    }
    line("- Supports under " + trimmed(facts_.support, 0) + " mm² (seen from above)" +
         (facts_.support > 0 ? "; none in grooves or holes." : "."));
    line("- Everything is drawn larger by what the plastic shrinks: " +
         trimmed(100 * (choice_.printer.scale_across / (1 - choice_.plastic.shrink_across) - 1), 2) + " % across, " +
         trimmed(100 * (choice_.printer.scale_up / (1 - choice_.plastic.shrink_up) - 1), 2) + " % up. Print at 100 %.");
    line("- About " + trimmed(1000 * facts_.volume * choice_.plastic.density, 0) +
         " g of plastic if printed solid, gauges included; " + std::to_string(print_.plates.size()) +
         (print_.plates.size() == 1 ? " plate." : " plates."));
    if (facts_.variant.thinned) {
      line("- Web and rim are thinner than the metal's; grooves, flanges, seat and bolt heads' room keep their size.");
    }
    line();
  }

  void ways() {
    line("| way | pieces | box of a piece, mm | layer, mm | step under flank, mm | reach, mm | fits | grooves |");
    line("|---|--:|---|--:|--:|--:|---|---|");
    for (const Way& w : print_.ways) {
      line("| " + std::string(&w == print_.ways.data() ? "**chosen:** " : "") + pose_of(w) + " | " +
           std::to_string(w.pieces) + " | " + trimmed(w.box[0], 0) + " x " + trimmed(w.box[1], 0) + " x " +
           trimmed(w.box[2], 0) + " | " + number(w.layer, 2) + " | " + number(w.flank_step, 2) + " | " +
           number(w.flank_reach, 2) + " | " + (w.fits ? "yes" : "no") + " | " + (w.good ? "good" : "droop") + " |");
    }
    line();
  }

  void sizes() {
    line("## What a calliper should read when it is cold");
    line();
    line("| size | mm | from | to |");
    line("|---|--:|--:|--:|");
    for (const Dimension& d : print_.rows.dimensions) {
      line("| " + d.label + " | " + mm3(d.value) + " | " + mm3(*d.lower) + " | " + mm3(*d.upper) + " |");
    }
    line();
  }

  void objects() {
    line("## What is on the plates");
    line();
    for (std::size_t i = 0; i < print_.plates.size(); ++i) {
      line("Plate " + std::to_string(i + 1) + ":");
      line();
      for (const Object& o : print_.plates[i].objects) line("- " + o.name + ": " + o.purpose + ".");
      line();
    }
  }

  void steps() {
    line("## What to check with it, in order");
    line();
    const auto tick = [&](const std::string& text) { line("- [ ] " + text); };
    tick("Two deep notches of the belt-room strip lie " + mm3(kScaleCheck) +
         " mm apart, the feet of the two raised bars " + mm3(kBars) +
         " mm: else the printer's scale is off, and nothing below means anything.");
    tick("Sizes above, bore first. Scrape the first layer's edge off if something binds.");
    if (!metal_.holes.empty()) tick("Bolt-pattern disc on the metal hub: every screw starts by hand.");
    if (print_.chosen.pieces > 1) {
      std::string how = "Join the segments on a flat plate";
      if (!facts_.cuts.empty() && !facts_.cuts.front().dowels.empty()) {
        how += ", dowels of " + mm(choice_.printer.dowel_diameter) + " x " + mm(choice_.printer.dowel_length) +
               " in their holes";
      }
      tick(how + "; a drop of glue in each joint.");
    }
    tick("Comb into the grooves: no light on the flanks, it lies on them and not on the crests.");
    tick("Crest gauge on the crests: no rocking.");
    tick("Stand-in hub and screws on the bench: the print slides on, heads have room, a spanner goes round.");
    tick("On the metal hub: the print slides on and seats all round; it is not forced.");
    tick("Belt-room strip over the flange and past tensioner, covers and hoses, where the belt goes last.");
    tick("Turn by hand one whole turn: flanges clear everything; marks line up with the pointer.");
    tick("Belt on, by hand: it lies in every groove, and the tensioner stays off both stops.");
    line();
    line("Nothing here measures the effective diameter: that is for the metal, over balls.");
  }

  const part::Part& metal_;
  const Choice& choice_;
  const Print& print_;
  const Facts& facts_;
  std::string out_;
};

}  // namespace

std::string page(const part::Part& metal, const Choice& choice, const Print& print, const Facts& facts) {
  return Page(metal, choice, print, facts).write();
}

}  // namespace groovewright::print
