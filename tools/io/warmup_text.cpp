#include "tools/io/warmup.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "tools/io/numbers.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

constexpr std::size_t kMostMoments = 24;  // more are counted only: a fan may turn many times
constexpr double kWorthTelling = 1e-3;    // difference from the solved steady state [K]

// True if a change was made and nothing ends warmer than it began: it cooled.
bool cools_down(const WarmupRun& run) {
  const std::vector<WarmupRow> rows = warmup_rows(run);
  return run.warmup.settling.since > 0.0 && std::none_of(rows.begin(), rows.end(), [&](const WarmupRow& row) {
           return row.end > row.start + run.plan.band;
         });
}

std::string soak_sentence(const WarmupRun& run) {
  const network::Settling& settling = run.warmup.settling;
  const UnitSystem units = run.content.units;
  if (run.warmup.capacities == network::Capacities::only_air)
    return "The soak time is not known: in this case only air stores heat, so it warms up far faster than a "
           "device does. Add parts, skin and the `joins` of sources.";
  if (run.warmup.capacities == network::Capacities::guessed)
    return "The soak time is not known: only the heat capacities of chips and parts are in this case, and "
           "all "
           "of them are assumed. Add skin, the fins that heat goes through, or write `capacity` where you "
           "know "
           "it (grams times 0.4 J/K for copper, 0.9 J/K for aluminium).";
  const std::string band = fmt::format(
      "every temperature stays within {} of its end value and every vent's flow within {} of the "
      "through-flow",
      difference_text(run.plan.band, units, 2, 6), percent_text(run.plan.flow_share));
  if (!is_steady(run))
    return fmt::format(
        "Not steady at the end, after {}: temperatures still have up to {} to go (estimated), so the soak "
        "time is not known. Set a later --until.",
        elapsed_text(run.warmup.transient.history.time.back()),
        difference_text(run.warmup.transient.distance, units, 2, 3));
  const std::string from = settling.since > 0.0
                               ? fmt::format(" after the change at {}", elapsed_text(settling.since))
                               : std::string();
  const std::string within = run.soak.known
                                 ? fmt::format(" ({} to {}, as the heat capacities may be)",
                                               elapsed_text(run.soak.low), elapsed_text(run.soak.high))
                                 : " (how much more or less by its heat capacities is not known)";
  return fmt::format(cools_down(run) ? "Cooled down {}{}{}: from then on {}."
                                     : "Soak {}{}{} before you measure: from then on {}.",
                     elapsed_text(settling.overall), within, from, band);
}

std::string end_sentences(const WarmupRun& run) {
  const network::Comparison& solved = run.warmup.steady;
  std::string text;
  if (is_steady(run) && run.warmup.transient.growth > 0.0)
    text += "The final state is unstable: a small disturbance would lead to another state. ";
  if (is_steady(run) && solved.solved && solved.difference > kWorthTelling)
    text += fmt::format(
        "The steady solution is another state: {} differs by {}. Either more than one steady state exists, "
        "or the fans' hysteresis decides. ",
        printable(solved.place), difference_text(solved.difference, run.content.units, 2, 6));
  return text;
}

std::string energy_sentence(const network::EnergyBalance& energy_balance) {
  const auto kilojoules = [](double joules) { return significant(joules / 1000.0, 3, 3) + " kJ"; };
  return fmt::format(
      "Energy: {} supplied, {} left with air and through surfaces, {} stored; energy balance error {:.0e}.",
      kilojoules(energy_balance.given), kilojoules(energy_balance.left), kilojoules(energy_balance.stored),
      energy_balance.error);
}

std::string table(const WarmupRun& run, const Look& look) {
  const UnitSystem units = run.content.units;
  const char* const unit = geometry::temperature_unit(units).name;
  Table table{{words("part"), words(""), numbers("start", unit), numbers("hottest", unit), words("after"),
               numbers("end", unit), words("settled after")}};
  for (const WarmupRow& row : warmup_rows(run))
    table.add({printable(row.name), row.what, temperature_number(row.start, units),
               temperature_number(row.hottest, units),
               row.hottest > row.end + kSameWarmth ? elapsed_text(row.hottest_at) : "end",
               temperature_number(row.end, units), is_steady(run) ? elapsed_text(row.settles) : "not yet"});
  return table.empty() ? "" : "\n" + lay_out(table.columns, 2, look);
}

std::string moments(const std::vector<network::Event>& events, UnitSystem units, const Look& look) {
  std::string text;
  for (std::size_t i = 0; i < std::min(events.size(), kMostMoments); ++i)
    text += fill("  " + pad_right(elapsed_text(events[i].time), 12) + " ",
                 printable(event_text(events[i], units)), look);
  if (events.size() > kMostMoments) text += fmt::format("  ... and {} more\n", events.size() - kMostMoments);
  return text.empty() ? "" : "\n" + text;
}

}  // namespace

std::string warmup_text(const WarmupRun& run, const Look& look) {
  const network::TransientResult& transient = run.warmup.transient;
  const std::string name = printable(condition_of(run).name);
  std::string text = headed(
      name, ": " + printable(circumstances(run.content, condition_of(run))) + "; " + start_words(run), look);
  text += fill("  ", soak_sentence(run), look);
  const std::string more = end_sentences(run);
  if (!more.empty()) text += fill("  ", more, look);
  return text + table(run, look) + moments(transient.events, run.content.units, look) + "\n" +
         fill("  ", energy_sentence(transient.energy_balance), look);
}

}  // namespace tuft::io
