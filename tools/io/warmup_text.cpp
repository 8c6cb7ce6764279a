#include "tools/io/warmup.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "tools/io/grid.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/utf8.hpp"

namespace tuft::io {
namespace {

constexpr std::size_t kMostMoments = 24;  // more are counted only: a fan may turn many times
constexpr double kWorthTelling = 1e-3;    // difference from the solved steady state [K]

// True if a change was made and nothing ends warmer than it began: it cooled.
bool cools_down(const Warmup& warmup) {
  return warmup.since > 0.0 &&
         std::none_of(warmup.rows.begin(), warmup.rows.end(),
                      [&](const WarmupRow& row) { return row.end > row.start + warmup.band; });
}

std::string soak_sentence(const Warmup& warmup) {
  if (warmup.only_air)
    return "How long to soak is not known: nothing in this case but air stores heat, so it warms up far "
           "faster than a device does. Write parts and skin, and what sources join.";
  const std::string band = fmt::format(
      "every temperature stays within {} K of its end and every vent's flow within {} of the through-flow",
      significant(warmup.band, 2), percent_text(warmup.flow_share));
  if (!warmup.steady)
    return fmt::format(
        "Not steady at the end, after {}: temperatures still have up to {} K to go (estimated), so how long "
        "it must soak is not known. Give it longer with --until.",
        elapsed_text(warmup.time.back()), significant(warmup.distance, 2, 3));
  const std::string from =
      warmup.since > 0.0 ? fmt::format(" after the change at {}", elapsed_text(warmup.since)) : std::string();
  if (cools_down(warmup))
    return fmt::format("Cooled down {}{}: from then on {}.", elapsed_text(warmup.soak), from, band);
  return fmt::format("Soak {}{} before you measure: from then on {}.", elapsed_text(warmup.soak), from, band);
}

std::string end_sentences(const Warmup& warmup) {
  std::string text;
  if (warmup.steady && !warmup.stable)
    text += "The state it ended in is unstable: a small push would lead it elsewhere. ";
  if (warmup.steady && warmup.compared && warmup.difference > kWorthTelling)
    text += fmt::format(
        "A solve of the steady state ends elsewhere: {} differs by {} K, so more than one steady state "
        "exists or the fans' hysteresis decides. ",
        printable(warmup.differs_at), significant(warmup.difference, 2));
  return text;
}

std::string energy_sentence(const Warmup& warmup) {
  const auto kilojoules = [](double joules) { return significant(joules / 1000.0, 3, 3) + " kJ"; };
  return fmt::format("Energy: {} given, {} left with air and surfaces, {} stored; the books close to {:.0e}.",
                     kilojoules(warmup.given), kilojoules(warmup.left), kilojoules(warmup.stored),
                     warmup.energy_error);
}

std::string table(const Warmup& warmup, const Look& look) {
  Table table{{{"part"},
               {""},
               {"start", "°C", {}, true},
               {"hottest", "°C", {}, true},
               {"after"},
               {"end", "°C", {}, true},
               {"settled after"}}};
  for (const WarmupRow& row : warmup.rows)
    table.add({printable(row.name), row.what, celsius(row.start), celsius(row.hottest),
               row.hottest > row.end + kSameWarmth ? elapsed_text(row.hottest_at) : "end", celsius(row.end),
               warmup.steady ? elapsed_text(row.settles) : "not yet"});
  return lay_out(table.columns, 2, look);
}

std::string moments(const Warmup& warmup, const Look& look) {
  std::string text;
  for (std::size_t i = 0; i < std::min(warmup.moments.size(), kMostMoments); ++i) {
    const WarmupMoment& moment = warmup.moments[i];
    text += fill("  " + pad_right(elapsed_text(moment.time), 12) + " ", printable(moment.text), look);
  }
  if (warmup.moments.size() > kMostMoments)
    text += fmt::format("  ... and {} more\n", warmup.moments.size() - kMostMoments);
  return text;
}

}  // namespace

std::string warmup_text(const Warmup& warmup, const Look& look) {
  const std::string name = printable(warmup.condition);
  std::string text = fill("", name + ": " + printable(warmup.circumstances) + "; " + warmup.start, look);
  if (text.compare(0, name.size(), name) == 0) text.replace(0, name.size(), inked(name, Ink::strong, look));
  text += fill("  ", soak_sentence(warmup), look);
  const std::string more = end_sentences(warmup);
  if (!more.empty()) text += fill("  ", more, look);
  if (!warmup.rows.empty()) text += "\n" + table(warmup, look);
  if (!warmup.moments.empty()) text += "\n" + moments(warmup, look);
  text += "\n" + fill("  ", energy_sentence(warmup), look);
  return text;
}

}  // namespace tuft::io
