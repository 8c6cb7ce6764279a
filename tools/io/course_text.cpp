#include <fmt/format.h>

#include <algorithm>

#include "tools/io/course_record.hpp"
#include "tools/io/grid.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

namespace tuft::output {
namespace {

constexpr double kUnrest = 0.01;       // fields that go that far while the air passes once are not at rest
constexpr double kStillStored = 0.02;  // of all heat

std::string table(const CourseRecord& record, const Look& look) {
  Column vent{"vent", "", {}}, network{"network", "L/s in", {}, true}, last{"at the end", "L/s in", {}, true},
      least{"least", "L/s in", {}, true}, greatest{"greatest", "L/s in", {}, true},
      warm{"lets out", "°C", {}, true}, settles{"settles", "after s", {}, true};
  const study::ConditionResult& by_network = network_result(record.field);
  const auto litres = [&](double flow) {
    return signed_significant(1000.0 * room_volume_flow(flow, by_network), 3, 3);
  };
  for (std::size_t v = 0; v < by_network.vents.size(); ++v) {
    const geometry::Vent& each = record.field.run.content.device.vents[v];
    if (each.is_leak) continue;
    const VentCourse course = vent_course(record, v);
    vent.cells.push_back(printable(each.name));
    network.cells.push_back(litres(by_network.vents[v].inflow - by_network.vents[v].outflow));
    last.cells.push_back(litres(course.last));
    least.cells.push_back(litres(course.least));
    greatest.cells.push_back(litres(course.greatest));
    const plan::VentFlows& at_end = record.rows.back().vents[v];
    warm.cells.push_back(at_end.outflow > 0.0 ? celsius(at_end.temperature_out) : "-");
    settles.cells.push_back(significant(course.settles, 2, 2));
  }
  return lay_out({vent, network, last, least, greatest, warm, settles}, 2, look);
}

}  // namespace

std::string course_text(const CourseRecord& record, const Look& look) {
  const study::ConditionResult& network = network_result(record.field);
  std::string text = inked(printable(network.name), Ink::strong, look) + ": " +
                     circumstances(record.field.run.content, condition_of(record.field)) + "; " +
                     significant(network.power, 3, 1) + " W; from " + printable(record.start) + "\n";
  if (record.rows.empty()) return text + "\n" + fill("  ! ", "Nothing was followed yet.", look.width);
  text += "\n" + table(record, look) + "\n";
  text += fill(
      "  ",
      fmt::format("Net flow into the device; settles: stays within 2 % of the through-flow of its last value "
                  "from then on. Network: its steady state. The course: {}; {} fields shown.",
                  printable(record.end.message), record.moments.size()),
      look.width);
  if (record.end.unrest > kUnrest) text += fill("  ! ", "At the end the air is not at rest yet.", look.width);
  if (record.end.stored > kStillStored)
    text += fill("  ! ",
                 fmt::format("At the end {} of the heat still goes into what is solid.",
                             percent_text(record.end.stored)),
                 look.width);
  if (record.end.stored < -kStillStored)
    text += fill("  ! ",
                 fmt::format("At the end {} of the heat that what is solid gives off is heat it had stored.",
                             percent_text(std::min(-record.end.stored, 1.0))),
                 look.width);
  return text + fill("  ", quasi_steady_words(), look.width);
}

}  // namespace tuft::output
