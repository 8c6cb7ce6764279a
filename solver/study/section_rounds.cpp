#include "solver/study/section_rounds.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "solver/flow2d/section_recirculation.hpp"
#include "solver/study/field_boundary_data.hpp"
#include "solver/study/predict.hpp"

namespace tuft::study {
namespace {

using flow2d::Recirculation;
using flow2d::SectionResult;

/// Fraction in the plane that the network was told for a pair.
double told(const std::vector<Recirculation>& list, const Recirculation& pair) {
  for (const Recirculation& r : list)
    if (r.outlet == pair.outlet && r.intake == pair.intake) return r.in_plane;
  return 0.0;
}

double largest_change(const std::vector<Recirculation>& before, const std::vector<Recirculation>& now) {
  double most = 0.0;
  for (const Recirculation& r : now) most = std::max(most, r.facing * std::abs(r.in_plane - told(before, r)));
  for (const Recirculation& r : before)  // pairs that are none any more
    most = std::max(most, r.facing * std::abs(r.in_plane - told(now, r)));
  return most;
}

/// The section's fractions, held back towards those told before.
SectionResult relaxed(SectionResult result, const std::vector<Recirculation>& before, double relaxation) {
  for (Recirculation& r : result.recirculation) {
    const double was = told(before, r);
    r.in_plane = was + relaxation * (r.in_plane - was);
  }
  return result;
}

}  // namespace

Rounds recirculation_rounds(const geometry::Case& content, const ConditionResult& first,
                            const RoundsOptions& options) {
  const geometry::Condition& condition = content.conditions[first.condition];
  flow2d::SectionOptions wanted = options.section;
  Rounds out;
  out.network = first;
  out.section = flow2d::solve_section(content, condition, section_boundary_data(first), wanted);
  const std::string why = out.section.why_plane;
  wanted.plane = out.section.plane;
  std::vector<Recirculation> known;
  SectionResult said;
  while (out.section.usable()) {
    out.apart.push_back(largest_change(known, out.section.recirculation));
    // The first round always tells the network, also where nothing comes back: the case may say otherwise.
    out.settled = out.apart.size() > 1 && out.apart.back() <= options.tolerance;
    if (out.settled || static_cast<int>(out.apart.size()) > options.most) break;
    said = relaxed(out.section, known, out.apart.size() == 1 ? 1.0 : options.relaxation);
    known = said.recirculation;
    ConditionResult network = predict(with_recirculation(content, said), first.condition);
    const bool solved = network.report.converged;
    out.network = std::move(network);
    if (!solved) break;
    out.section = flow2d::solve_section(content, condition, section_boundary_data(out.network), wanted);
    out.section.why_plane = why;
  }
  if (said.usable() && out.network.report.converged) {
    const geometry::Case with = with_recirculation(content, said);
    out.lowest = predict(at_bound(with, said, false), first.condition);
    out.highest = predict(at_bound(with, said, true), first.condition);
  }
  return out;
}

}  // namespace tuft::study
