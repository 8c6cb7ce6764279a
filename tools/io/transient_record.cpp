// Table, chart and text of a transient.
#include "tools/io/transient_record.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "tools/figure/line_chart.hpp"
#include "tools/io/csv.hpp"
#include "tools/io/numbers.hpp"

namespace tuft::io {
namespace {

constexpr double kSettled = 0.02;  // of the through-flow, as in warm-ups (theory.md, W6)

double net(const flow2d::TransientStep& row, std::size_t vent) {
  return row.vents[vent].inflow - row.vents[vent].outflow;
}

constexpr double kRateOfChange = 0.01;  // fields that go that far while the air passes once are not at rest
constexpr double kStillStored = 0.02;   // of all heat

std::string table(const TransientRecord& record, const Look& look) {
  const UnitSystem units = record.field.run.content.units;
  const geometry::ShownUnit unit = geometry::flow_unit(units);
  const std::string in = std::string(unit.name) + " in";
  Table table{{words("vent"), numbers("network", in), numbers("at the end", in), numbers("least", in),
               numbers("greatest", in), numbers("lets out", geometry::temperature_unit(units).name),
               numbers("settles", "after s")}};
  const study::ConditionResult& by_network = network_result(record.field);
  const auto shown = [&](double flow) {
    return signed_significant(unit.of(room_volume_flow(flow, by_network)), 3, 5);
  };
  for (std::size_t v = 0; v < by_network.vents.size(); ++v) {
    const geometry::Vent& each = record.field.run.content.device.vents[v];
    if (each.is_leak) continue;
    const VentTransient transient = vent_transient(record, v);
    const flow2d::VentFlows& at_end = record.rows.back().vents[v];
    table.add({printable(each.name), shown(by_network.vents[v].inflow - by_network.vents[v].outflow),
               shown(transient.last), shown(transient.least), shown(transient.greatest),
               at_end.outflow > 0.0 ? temperature_number(at_end.temperature_out, units) : "-",
               significant(transient.settles, 2, 2)});
  }
  return lay_out(table.columns, 2, look);
}

constexpr double kLeast = 0.01;        // of the through-flow; a vent that never passes more is not drawn
constexpr std::size_t kMostLines = 8;  // lines that can be told apart
constexpr double kShortestTransient = 1e-3;  // a transient without length gets an axis all the same [s]

template <class ValueOf>
figure::Series series(const TransientRecord& record, const std::string& name, ValueOf value_of) {
  figure::Series out;
  out.name = name;
  for (const flow2d::TransientStep& row : record.rows) {
    out.x.push_back(row.time);
    out.y.push_back(value_of(row));
  }
  if (out.x.size() == 1) {
    out.x.push_back(out.x[0] + kShortestTransient);
    out.y.push_back(out.y[0]);
  }
  return out;
}

figure::Panel flows(const TransientRecord& record) {
  figure::Panel panel;
  panel.quantity = "Net flow in";
  const geometry::ShownUnit unit = geometry::flow_unit(record.field.run.content.units);
  panel.unit = unit.name;
  const study::ConditionResult& network = network_result(record.field);
  const double shown = unit.of(room_volume_flow(1.0, network));
  const geometry::Device& device = record.field.run.content.device;
  for (std::size_t v = 0; v < device.vents.size() && panel.series.size() < kMostLines; ++v) {
    const VentTransient transient = vent_transient(record, v);
    const double most = std::max(std::abs(transient.least), std::abs(transient.greatest));
    if (most < kLeast * record.rows.back().through_flow) continue;
    panel.series.push_back(series(record, device.vents[v].name, [&](const flow2d::TransientStep& row) {
      return shown * (row.vents[v].inflow - row.vents[v].outflow);
    }));
  }
  return panel;
}

figure::Panel temperatures(const TransientRecord& record) {
  figure::Panel panel;
  panel.quantity = "Temperature";
  const geometry::ShownUnit unit = geometry::temperature_unit(record.field.run.content.units);
  panel.unit = unit.name;
  panel.series.push_back(series(record, "warmest air",
                                [unit](const flow2d::TransientStep& row) { return unit.of(row.warmest); }));
  for (std::size_t s = 0; s < record.thermal_masses.size() && panel.series.size() < kMostLines; ++s)
    panel.series.push_back(
        series(record, "solid in " + record.thermal_masses[s],
               [s, unit](const flow2d::TransientStep& row) { return unit.of(row.thermal_masses[s]); }));
  return panel;
}

}  // namespace

VentTransient vent_transient(const TransientRecord& record, std::size_t vent) {
  VentTransient out;
  if (record.rows.empty()) return out;
  out.last = out.least = out.greatest = net(record.rows.back(), vent);
  const double band = kSettled * record.rows.back().through_flow;
  bool within = true;
  for (const flow2d::TransientStep& row : record.rows) {
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
  return "The air, its momentum and the heat stored in chips, boards and fins change with time. Taken as "
         "steady throughout: vents, fans and passages, which have no inertia; skin and walls; fan speeds, "
         "powers and heat paths, as in the network at the end.";
}

std::string transient_csv(const TransientRecord& record) {
  const geometry::Device& device = record.field.run.content.device;
  std::vector<std::string> header = {"time [s]", "through-flow [kg/s]", "warmest air [K]"};
  for (const geometry::Vent& vent : device.vents)
    for (const char* what : {"gross in ", "gross out "}) header.push_back(what + vent.name + " [kg/s]");
  for (const geometry::Vent& vent : device.vents) header.push_back("temperature out " + vent.name + " [K]");
  for (const geometry::Fan& fan : device.fans) header.push_back("flow " + fan.name + " [kg/s]");
  for (const std::string& store : record.thermal_masses)
    header.push_back("temperature solid in " + store + " [K]");
  std::string text = csv_line(header);
  for (const flow2d::TransientStep& row : record.rows) {
    std::vector<std::string> cells;
    const auto add = [&](double value) {
      cells.push_back(csv_number(value, "course." + header[cells.size()]));
    };
    add(row.time);
    add(row.through_flow);
    add(row.warmest);
    for (const flow2d::VentFlows& vent : row.vents) {
      add(vent.inflow);
      add(vent.outflow);
    }
    for (const flow2d::VentFlows& vent : row.vents) add(vent.temperature_out);
    for (const flow2d::LinkFlow& fan : row.fans) add(fan.flow);
    for (const double store : row.thermal_masses) add(store);
    text += csv_line(cells);
  }
  return text;
}

std::string transient_chart(const TransientRecord& record) {
  figure::LineChart chart;
  const Run& run = record.field.run;
  chart.title = run.content.device.name + ": " + network_result(record.field).name;
  chart.subtitle = circumstances(run.content, condition_of(record.field)) + "; start " + record.start +
                   (record.partial ? "; interrupted" : "");
  chart.x_kind = figure::AxisKind::time;
  chart.x_name = "Time";
  figure::Panel vents = flows(record);
  if (!vents.series.empty()) chart.panels.push_back(std::move(vents));
  chart.panels.push_back(temperatures(record));
  chart.note =
      "tuft " + run.version + ", " + run.case_file + ", plan layers. A prediction, no safety assessment.";
  chart.height = 260.0 + 160.0 * static_cast<double>(chart.panels.size());
  return figure::line_chart(chart);
}

std::string transient_text(const TransientRecord& record, const Look& look) {
  const study::ConditionResult& network = network_result(record.field);
  std::string text = inked(printable(network.name), Ink::strong, look) + ": " +
                     circumstances(record.field.run.content, condition_of(record.field)) + "; " +
                     significant(network.power, 3, 1) + " W; from " + printable(record.start) + "\n";
  if (record.rows.empty()) return text + "\n" + fill("  ! ", "Nothing was followed yet.", look);
  text += "\n" + table(record, look) + "\n";
  text += fill(
      "  ",
      fmt::format(
          "Net flow into the device. Settles: the time from which it stays within 2 % of the through-flow of "
          "its last value. Network: its steady state. The transient: {}; {} fields shown.",
          printable(record.end.message), record.moments.size()),
      look);
  if (record.end.rate_of_change > kRateOfChange)
    text += fill("  ! ", "At the end the air is not at rest yet.", look);
  if (record.end.stored > kStillStored)
    text += fill(
        "  ! ",
        fmt::format("At the end {} of the heat still goes into solids.", percent_text(record.end.stored)),
        look);
  if (record.end.stored < -kStillStored)
    text += fill("  ! ",
                 fmt::format("At the end {} of the heat that solids give off is stored heat.",
                             percent_text(std::min(-record.end.stored, 1.0))),
                 look);
  return text + fill("  ", quasi_steady_words(), look);
}

}  // namespace tuft::io
