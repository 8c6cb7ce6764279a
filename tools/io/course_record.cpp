#include "tools/io/course_record.hpp"

#include <algorithm>
#include <cmath>

#include "tools/io/finite.hpp"

namespace tuft::output {
namespace {

constexpr double kSettled = 0.02;  // of the through-flow, as in warm-ups (theory.md, W6)

double net(const plan::CourseStep& row, std::size_t vent) {
  return row.vents[vent].inflow - row.vents[vent].outflow;
}

}  // namespace

VentCourse vent_course(const CourseRecord& record, std::size_t vent) {
  VentCourse out;
  if (record.rows.empty()) return out;
  out.last = out.least = out.greatest = net(record.rows.back(), vent);
  const double band = kSettled * record.rows.back().through_flow;
  bool within = true;
  for (const plan::CourseStep& row : record.rows) {
    const double now = net(row, vent);
    const bool was_within = within;
    within = std::abs(now - out.last) <= band;
    out.least = std::min(out.least, now);
    out.greatest = std::max(out.greatest, now);
    if (within && !was_within) out.settles = row.time;
  }
  return out;
}

std::string quasi_steady_words() {
  return "Air and its momentum go with time, and so do chips, boards and fins with the heat they store. "
         "Taken as "
         "steady all along: vents, fans and passages, which have no inertia; skin and walls; fan speeds, "
         "watts and the "
         "ways heat takes, as the network has them at the end.";
}

void require_finite(const CourseRecord& record) {
  require_finite(record.field.run);
  const auto require = [](double value, const char* name) {
    if (!std::isfinite(value))
      throw NotFinite(std::string("the result course.") + name + " is not a finite number");
  };
  for (const plan::CourseStep& row : record.rows) {
    require(row.time, "time");
    require(row.through_flow, "through_flow");
    for (const plan::VentFlows& vent : row.vents)
      for (const double value : {vent.inflow, vent.outflow, vent.temperature_out}) require(value, "vents");
    for (const plan::LinkFlow& fan : row.fans) require(fan.flow, "fans");
    for (const double value : row.stores) require(value, "stores");
  }
}

}  // namespace tuft::output
