#include "setup_words.h"

namespace groovewright::job {
namespace {

std::string lines(const std::vector<Fact>& facts) {
  std::string out;
  for (const auto& [what, says] : facts) out += "- **" + what + ":** " + says + "\n";
  return out;
}

std::string table(const std::string& title, const WordTable& rows) {
  if (rows.empty()) return "";
  std::string out = "\n**" + title + "**\n\n";
  for (std::size_t r = 0; r < rows.size(); ++r) {
    for (const std::string& c : rows[r]) out += "| " + c + " ";
    out += "|\n";
    if (r > 0) continue;
    for (std::size_t i = 0; i < rows.front().size(); ++i) out += "|---";
    out += "|\n";
  }
  return out;
}

std::string list(const std::string& title, const std::vector<std::string>& all) {
  std::string out = "\n" + title + "\n\n";
  for (const std::string& a : all) out += "- " + a + "\n";
  return out;
}

}  // namespace

std::string setup_sheet(const Prepared& prepared, const std::vector<ProgramText>& texts, const Proof& proof,
                        report::Units units) {
  const SetupWords words = setup_words(prepared, texts, proof, units);
  std::string out = "# Set-up sheet: " + prepared.part.name + "\n\n";
  if (!prepared.part.title.empty()) out += prepared.part.title + "\n\n";
  if (!words.stop.empty()) out += "**" + words.stop + "**\n\n";
  out += lines(words.facts) + list("**Cautions**", words.cautions);
  for (const ClampingWords& c : words.clampings) {
    out += "\n## " + c.id + ": " + c.machine + "\n\n" + lines(c.facts);
    out += table(c.tools_title, c.tools) + table("Sequence", c.sequence) + "\n" + c.time + "\n";
    out += table("First part: measure before it leaves the machine", c.first_part);
    if (!c.offsets.empty()) out += "\n" + c.offsets + "\n";
  }
  if (!words.left_out.empty()) out += list("## Not in these programs", words.left_out);
  return out;
}

}  // namespace groovewright::job
