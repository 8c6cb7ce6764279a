#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "solver/experiment/look.hpp"
#include "tools/io/bench.hpp"
#include "tools/io/numbers.hpp"

namespace tuft::io {
namespace {

using experiment::Finding;
using experiment::Report;
using experiment::SetUp;
using experiment::SetUpVent;
using experiment::VentSummary;

const geometry::Condition& condition_of(const Report& report, int index) {
  return at(report.content.conditions, index);
}

std::string header(const Report& report, const Look& look) {
  std::string text;
  for (const auto& [label, index] : {std::pair{"bench  ", report.bench}, std::pair{"use    ", report.use}}) {
    const auto& condition = condition_of(report, index);
    text += fill(
        label, printable(condition.name) + ": " + printable(circumstances(report.content, condition)), look);
  }
  return text;
}

std::vector<std::string> names_with(const Report& report, Finding finding) {
  return each(report.vents, [&](const VentSummary& view) {
    return view.at_best == finding ? shown_vent(report.content, view.vent) : "";
  });
}

// "Measured at the bench as it is, comb would mislead; keyboard would show nothing; ..."
std::string answer(const Report& report) {
  std::string text;
  const auto add = [&](Finding finding, const std::string& words) {
    const auto names = names_with(report, finding);
    if (!names.empty()) text += (text.empty() ? "" : "; ") + words + " " + listed(names);
  };
  const std::string misleads = "would MISLEAD (lean the wrong way with " +
                               significant(100.0 * experiment::kMisleadsFrom, 2) + " % or more) at";
  add(Finding::wrong, misleads);
  add(Finding::nothing, "would show nothing at");
  add(Finding::right, "would show what is true in use at");
  add(Finding::no_reach, "can't reach");
  return "Even the best strip, hung on a frame, " + text + ".";
}

std::string claims_text(const Report& report, const Look& look) {
  std::string text;
  for (const experiment::ClaimView& view : report.claims) {
    if (view.in_use.verdict == view.at_bench.verdict) continue;
    const geometry::Claim& claim = at(report.content.claims, view.claim);
    // Both are of the values as written: no word of a verdict, which needs to say how sure.
    const std::string there =
        view.at_bench.verdict == study::Verdict::undecided
            ? std::string("this bench can't show that.")
            : fmt::format("this bench would make it appear {}, which would be wrong.",
                          view.at_bench.verdict == study::Verdict::holds ? "true" : "not true");
    text += fill("  ",
                 fmt::format("{} is {} in use; {}", inked("Claim " + printable(claim.id), Ink::red, look),
                             as_written(view.in_use.verdict), there),
                 look);
  }
  return text;
}

std::string lean_words(double lean, UnitSystem units) {
  if (hangs_still(lean)) return ", hangs still";
  return fmt::format(", leans {} {} {}", lean_number(lean, units), geometry::length_unit(units).name,
                     lean > 0.0 ? "away" : "towards it");
}

std::string look_words(const Report& report, const SetUpVent& vent) {
  const std::string name = shown_vent(report.content, vent.vent);
  if (vent.all_flutter) return name + ": every strip of the kit flutters there; use an anemometer";
  if (vent.cut == nullptr) return name + ": no strip of the kit can be held there";
  const std::string where = vent.both_parts ? " before its upper and its lower part" : "";
  const bool right = experiment::finding_of(vent.right, vent.wrong) == Finding::right;
  const auto& in_use = at(report.use_result.vents, vent.vent);
  if (vent.role != in_use.role)
    return fmt::format("{}: can't be shown so, because it is {} there instead of {}", name,
                       role_text(vent.role), role_text(in_use.role));
  return fmt::format("{}: {}, {} off{}{} (probability: right answer {}, wrong way {})", name, vent.cut->words,
                     length_text(vent.distance, report.content.units, 2), where,
                     right ? lean_words(vent.lean, report.content.units)
                           : std::string(", and the answer is still uncertain"),
                     probability_text(vent.right), probability_text(vent.wrong));
}

std::string wait_words(const SetUp& setup) {
  if (!setup.wait_known)
    return "How long to wait is not known: the case describes too little of what has to warm up or cool "
           "down.";
  if (setup.wait < 1.0) return "Nothing has to settle first.";
  return fmt::format("After use, wait {} until every temperature and flow has settled (flows alone {}).",
                     elapsed_text(setup.wait), elapsed_text(setup.wait_flow));
}

std::string setup_block(const Report& report, const SetUp& setup, const std::string& title,
                        const Look& look) {
  std::string text = fill("  " + title, printable(setup_text(report, setup)) + ".", look);
  for (const SetUpVent& vent : setup.vents) text += fill("    ", look_words(report, vent), look);
  text +=
      fill("    ",
           wait_words(setup) +
               fmt::format(
                   " Keep your mouth {} away and to the side. Keep your hands off the frame and never below "
                   "it. Keep doors and windows shut and lamps off. Lay the cord so that it does not pull.",
                   length_text(std::max(0.6, setup.breath_from), report.content.units, 2)),
           look);
  return text;
}

// How many of the vents asked for the set-up shows.
std::string setup_title(const Report& report) {
  const auto& vents = report.common.vents;
  const auto shown = std::count_if(vents.begin(), vents.end(), [](const SetUpVent& vent) {
    return experiment::finding_of(vent.right, vent.wrong) == Finding::right;
  });
  const auto asked = static_cast<std::ptrdiff_t>(vents.size());
  if (shown == asked) return "A set-up that shows it: ";
  if (shown == 0)
    return fmt::format("None of the {} set-ups computed shows it with a strip; the best: ",
                       report.candidates);
  return fmt::format("A set-up that shows it at {} of {} vents: ", shown, asked);
}

std::string setups(const Report& report, const Look& look) {
  if (report.common.condition < 0) return fill("  ", "No set-up has a solution.", look);
  std::string text = setup_block(report, report.common, setup_title(report), look);
  for (const SetUp& apart : report.apart) {
    const auto names =
        each(apart.vents, [&](const SetUpVent& vent) { return shown_vent(report.content, vent.vent); });
    text += setup_block(report, apart, "For " + listed(names) + " instead: ", look);
  }
  return text + fill("    ", report.common.why + ".", look);
}

std::string pitfalls(const Report& report, const Look& look) {
  std::string text;
  for (const VentSummary& view : report.vents)
    for (const experiment::Pitfall& pitfall : view.pitfalls)
      text += fill("  " + shown_vent(report.content, view.vent) + ": ", printable(pitfall.text) + ".", look);
  return text.empty() ? "" : "\n" + text;
}

std::string role_changes(const Report& report, const Look& look) {
  const experiment::PoseSweep& sweep = report.sweep;
  std::string text = fmt::format("Turned from {} (0°) to {} ({}), with all else as at the bench: ",
                                 printable(study::quoted(condition_of(report, report.use).name)),
                                 printable(study::quoted(condition_of(report, report.bench).name)),
                                 degrees_text(sweep.angles.back()));
  if (sweep.role_changes.empty()) return fill("  ", text + "no vent changes its role.", look);
  const auto words = each(sweep.role_changes, [&](const experiment::Turning& turning) {
    return fmt::format("{} from {} to {} at {:.0f} to {:.0f}°", shown_vent(report.content, turning.vent),
                       role_text(turning.from), role_text(turning.to), clean_degrees(turning.low),
                       clean_degrees(turning.high));
  });
  return fill("  ", text + listed(words) + ".", look);
}

// Those vents where fans cold and at full speed do something else than the bench as it is.
std::string cold_words(const Report& report, const Look& look) {
  if (!report.forced_result.report.converged)
    return fill("  ", "Cold and with the fans forced to full speed, the condition has no solution.", look);
  const auto words = each(report.vents, [&](const VentSummary& view) {
    const double now = room_volume_flow(std::abs(view.net_bench), report.bench_result);
    const double then = room_volume_flow(std::abs(view.net_forced), report.forced_result);
    const bool role = view.forced_role != view.change.to;
    return fmt::format("{} {}{} net instead of {}", shown_vent(report.content, view.vent),
                       role ? role_text(view.change.to) + " -> " + role_text(view.forced_role) + ", " : "",
                       flow_text(then, report.content.units), flow_number(now, report.content.units));
  });
  return fill("  ",
              "The same pose, cold and with the fans forced to full speed, is another condition: " +
                  study::listed(words) + ".",
              look);
}

std::string disturbers(const Report& report, const Look& look) {
  const UnitSystem units = report.content.units;
  for (const VentSummary& view : report.vents) {
    if (view.disturbers.empty()) continue;
    const auto words = each(view.disturbers, [&](const experiment::DisturberView& one) {
      return fmt::format("{} {} to {}", one.name, speed_number(one.low, units, 2),
                         speed_text(one.high, units, 2));
    });
    return fill("  ",
                "Other movements of air there: " + study::listed(words) +
                    fmt::format(" (breath at {}, hand {} below, body at {}).", length_text(0.6, units, 2),
                                length_text(0.05, units, 2), length_text(0.3, units, 2)),
                look);
  }
  return "";
}

std::string tilt_error_words(const Report& report, const Look& look) {
  constexpr double kTold = 2.0;  // from here on a factor says more than a percentage
  const auto words = each(report.tilt_error, [&](const experiment::TiltError& one) {
    const std::string much =
        one.change < kTold ? percent_text(one.change) + " of" : significant(one.change, 2) + " times";
    return fmt::format("{} {} its flow{}", shown_vent(report.content, one.vent), much,
                       one.role_changes ? " and its role" : "");
  });
  if (words.empty()) return "";
  return fill("  ",
              fmt::format("A cord that tilts the device by {} changes at most: {}.",
                          degrees_text(experiment::kTiltError), study::listed(words)),
              look);
}

}  // namespace

std::string bench_text(const BenchRun& run, const Look& look) {
  const Report& report = run.report;
  std::string text = header(report, look);
  text += fill("  ", answer(report), look) + claims_text(report, look) + setups(report, look);
  text += "\n" + vents_table(report, look) + pitfalls(report, look);
  if (report.section) text += "\n" + section_table(report, look);
  text += "\n" + strips_table(report, look);
  text += "\n" + ranking_table(report, look);
  text += "\n" + instruments_text(report, look) + disturbers(report, look) + tilt_error_words(report, look) +
          cold_words(report, look) + role_changes(report, look) +
          fill("  ", printable(infrared_text(report)), look);
  return text;
}

}  // namespace tuft::io
