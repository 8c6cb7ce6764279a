#include "tools/io/range_words.hpp"

#include <fmt/format.h>

#include "tools/io/utf8.hpp"

namespace tuft::output {

std::string range_place(const study::RangeExceeded& range) {
  const std::string name = printable(range.name);
  switch (range.kind) {
    case network::LaminarKind::passage:
      return "passage " + name;
    case network::LaminarKind::fins:
      return "fins " + name;
    case network::LaminarKind::gap:
      return "the gap before " + name;
    case network::LaminarKind::none:
      break;
  }
  return name;
}

std::vector<std::string> range_notes(const study::ConditionResult& result) {
  std::vector<std::string> notes;
  for (const study::RangeExceeded& range : result.beyond_laminar) {
    notes.push_back(
        fmt::format("{} leaves the laminar range (Reynolds number {:.0f}, its law ends at {:.0f}): it "
                    "resists more than computed, and less air passes.",
                    range_place(range), range.reynolds, range.limit));
  }
  return notes;
}

}  // namespace tuft::output
