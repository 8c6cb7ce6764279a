#include "tools/figure/bench_drawing.hpp"

#include <fmt/format.h>

#include <cmath>

#include "solver/experiment/look.hpp"
#include "tools/io/bench.hpp"
#include "tools/io/field_figures.hpp"
#include "tools/io/numbers.hpp"

namespace tuft::io {
namespace {

using experiment::Bent;
using experiment::Report;

std::string lean_words(const Bent& bent) {
  const double lean = 1000.0 * std::abs(bent.lean);
  if (lean < 0.05) return "hangs still";
  return fmt::format("{} mm {}", significant(lean, 2, 1), bent.lean > 0.0 ? "away" : "towards it");
}

const char* sight_words(physics::Seen seen) {
  return word_among(seen, {"clearly seen", "hardly seen", "not seen"});
}

// "strip leans 20 mm away, clearly seen"; a tall one's two strips in one line. A strip without a shape is one
// for which no rest was found in this air; that is another thing than a place where none can be held.
std::string strip_words(const std::vector<Bent>& strips, int vent, bool in_reach) {
  std::string text;
  physics::Seen seen = physics::Seen::not_at_all;
  for (const Bent& bent : strips) {
    if (bent.vent != vent) continue;
    if (bent.seen == physics::Seen::clearly || seen == physics::Seen::not_at_all) seen = bent.seen;
    text += text.empty() ? "" : ", ";
    if (bent.part != experiment::Part::middle) text += std::string(part_word(bent.part)) + " ";
    text += lean_words(bent);
  }
  if (text.empty()) return in_reach ? "no rest found for this strip here" : "no strip can be held before it";
  return text == "hangs still" ? "strip hangs still" : "strip: " + text + "; " + sight_words(seen);
}

figure::BenchPanel panel_of(const Report& report, const study::ConditionResult& result,
                            const std::vector<Bent>& strips, const std::string& label) {
  const geometry::Case& content = report.content;
  const auto& condition = at(content.conditions, result.condition);
  figure::BenchPanel panel;
  panel.heading = label + ": " + condition.name;
  panel.remark = circumstances(content, condition);
  panel.pose = at(content.poses, condition.pose);
  panel.rests = at(content.supports, condition.support).kind != geometry::SupportKind::air;
  panel.lid = content.device.lid.present;
  panel.lid_angle = condition.lid_given ? *condition.lid_angle : *content.device.lid.angle;
  panel.words.resize(content.device.vents.size());
  panel.flows = vent_flows(result);
  for (const Bent& bent : strips) panel.strips.push_back({bent.vent, bent.still, bent.shape});
  for (std::size_t v = 0; v < panel.words.size(); ++v)
    panel.words[v] = strip_words(strips, static_cast<int>(v),
                                 !experiment::out_of_reach(result.vents[v], experiment::kUsualDistance));
  return panel;
}

std::string subtitle_of(const Report& report) {
  const auto wrong = each(report.vents, [&](const experiment::VentSummary& view) {
    return view.at_best == experiment::Finding::wrong ? vent_name(report.content, view.vent) : "";
  });
  if (wrong.empty()) return "A strip before each vent, 20 mm off, as it would hang";
  return "Measured as posed on the right, " + listed(wrong) + " would mislead";
}

}  // namespace

std::string bench_figure(const BenchRun& run) {
  const Report& report = run.report;
  figure::BenchDrawing drawing;
  drawing.title = report.content.device.name + ": in use and at the bench";
  drawing.subtitle = subtitle_of(report);
  drawing.device = report.content.device;
  drawing.use = panel_of(report, report.use_result, report.bent_use, "In use");
  drawing.bench = panel_of(report, report.bench_result, report.bent_bench, "At the bench");
  drawing.note =
      "Strips of tissue: 10 x 60 mm on a free hinge before upright vents, 10 x 40 mm held out level over "
      "vents that face up or down, 20 mm off. Drawn to scale at a slant. " +
      std::string(kCaution);
  return figure::bench_drawing(drawing);
}

}  // namespace tuft::io
