#include "tools/io/field_run.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "geometry/device/unplaced.hpp"
#include "tools/io/numbers.hpp"

namespace tuft::io {
namespace {

const geometry::Vent& field_vent(const FieldRun& field, int vent) {
  return at(field.run.content.device.vents, vent);
}

UnitSystem units_of(const FieldRun& field) { return field.run.content.units; }

std::string role_and_uncertainty(const study::Side& side) {
  return role_text(side.role) + (side.firm ? "" : "?");
}

// What the reader has to know about how the fields were found.
std::vector<std::string> remarks(const FieldRun& field) {
  std::vector<std::string> list;
  if (!is_whole(field))
    list.push_back(fmt::format("The fields include only {} of the air's inertia ({}): take them as a sketch.",
                               percent_text(field.plan.momentum_share), printable(field.plan.message)));
  if (field.plan.end == flow2d::PlanEnd::averaged)
    list.push_back(fmt::format(
        "No steady state was found. Flows and fields are means over {} s, in which the air passes the device "
        "{} times ({}).",
        significant(field.plan.span, 2), significant(field.plan.air_changes, 2),
        printable(field.plan.message)));
  const std::string stability = stability_text(field.plan.steadiness, field.plan.converged());
  if (!stability.empty()) list.push_back(stability);
  if (field.comparison.start_apart > study::kSameState)
    list.push_back(
        fmt::format("The field started from another steady state than the one compared with (up to {} of the "
                    "through-flow apart at a vent), so this is no comparison of models.",
                    percent_text(field.comparison.start_apart)));
  const std::vector<std::string> unplaced = geometry::unplaced_things(field.run.content.device);
  if (!unplaced.empty())
    list.push_back("Place not given: " + listed(unplaced) +
                   ". The fields take fans and fins at a likely place, and spread the heat of sources over "
                   "their zones: do not read from the maps where the air goes there.");
  return list;
}

std::string layers_words(const FieldRun& field) {
  const auto names = each(field.plan.layers, [](const auto& layer) { return layer.name; });
  const auto& first = field.plan.layers.front().solid;
  return fmt::format("{} by {} cells of {}, {} {}", first.nx(), first.ny(),
                     length_text(field.cell, units_of(field), 3), names.size() == 1 ? "layer" : "layers",
                     listed(names));
}

std::string how_found(const FieldRun& field) {
  return fmt::format("{}; {} steps on the finest grid, residual {:.0e}; mass {}, heat {}.",
                     layers_words(field), field.plan.steps, field.plan.residual,
                     closure_text(field.plan.mass), closure_text(field.plan.energy));
}

// What the metal of fins gives the air by both; empty without fins that have metal.
std::string fins_sentence(const FieldRun& field) {
  std::vector<std::string> heats;
  constexpr double kNothing = 0.005;  // shown as 0.00 W
  const auto watts = [](double heat) { return significant(std::abs(heat) < kNothing ? 0.0 : heat, 3, 2); };
  const auto gives = [](const flow2d::FinHeat& fins) {
    return std::max(std::abs(fins.heat), std::abs(fins.network_heat)) >= kNothing;
  };
  if (std::none_of(field.plan.fins.begin(), field.plan.fins.end(), gives)) return {};
  for (const flow2d::FinHeat& fins : field.plan.fins)
    heats.push_back(fmt::format("{} {} W ({} W by the network)",
                                printable(at(field.run.content.device.fin_stacks, fins.stack).name),
                                watts(fins.heat), watts(fins.network_heat)));
  return fmt::format("Heat from fins to the air by the field: {}. Their metal is as warm as in the network.",
                     listed(heats));
}

// What cells half as large change, and what that says of the field's own error; empty where none were asked
// for.
std::string cells_sentence(const FieldRun& field) {
  if (!field.refined) return {};
  const study::Refined& refined = *field.refined;
  const std::string size = length_text(refined.cell, units_of(field), 3);
  if (!refined.found)
    return fmt::format(
        "On cells half as large ({}) no flow was found, so nothing says how much the size of the "
        "cells matters ({}).",
        size, printable(refined.message));
  std::string text = fmt::format("On cells half as large ({}) the through-flow changes by {} %", size,
                                 signed_significant(100.0 * refined.through_flow, 2, 2));
  const auto row = [&](int vent) { return at(refined.vents, vent); };
  if (refined.largest_flow >= 0)
    text += fmt::format(", flows differ by at most {} % of it ({})",
                        significant(100.0 * std::abs(row(refined.largest_flow).of_through_flow), 2, 2),
                        shown_vent(field.run.content, refined.largest_flow));
  if (refined.largest_temperature >= 0)
    text += fmt::format(", the air let out by at most {} ({})",
                        difference_text(row(refined.largest_temperature).temperature, units_of(field), 2, 2),
                        shown_vent(field.run.content, refined.largest_temperature));
  std::vector<std::string> others;
  for (const study::VentRefined& vent : refined.vents)
    if (vent.role_differs && !vent.shut && !field_vent(field, vent.vent).is_leak)
      others.push_back(
          fmt::format("{} is {}", shown_vent(field.run.content, vent.vent), role_text(vent.role)));
  text += others.empty() ? "; every vent keeps its role." : "; there " + listed(others) + ".";
  return text + " The error of the cells above is about twice these differences.";
}

std::string table(const FieldRun& field, const Look& look) {
  const UnitSystem units = units_of(field);
  const geometry::ShownUnit degree = geometry::temperature_unit(units);
  const char* const litre = geometry::flow_unit(units).name;
  Table table{{words("vent"), words("network"), words("field"), numbers("in", litre), numbers("field", litre),
               numbers("out", litre), numbers("field", litre), numbers("apart", "%"),
               numbers("air", degree.name), numbers("field", degree.name), numbers("apart", degree.name),
               numbers("draws", "% of area")}};
  const double density = network_result(field).ambient_density;
  const auto flow_of = [&](double flow) { return flow_number(flow / density, units); };
  for (const study::VentComparison& row : field.comparison.vents) {
    if (field_vent(field, row.vent).is_leak || row.shut) continue;
    const study::Side &by_network = row.network, &by_field = row.field;
    const bool leaves = by_network.outflow > by_network.inflow;
    const double apart = leaves ? row.temperature : by_field.temperature_in - by_network.temperature_in;
    table.add({{shown_vent(field.run.content, row.vent) + (row.roles_differ ? " !" : ""),
                row.roles_differ ? Ink::yellow : Ink::plain},
               {role_and_uncertainty(by_network), role_ink(by_network.role)},
               {role_and_uncertainty(by_field), role_ink(by_field.role)},
               flow_of(by_network.inflow),
               flow_of(by_field.inflow),
               flow_of(by_network.outflow),
               flow_of(by_field.outflow),
               signed_significant(100.0 * row.of_through_flow, 2, 1),
               temperature_number(leaves ? by_network.temperature_out : by_network.temperature_in, units),
               temperature_number(leaves ? by_field.temperature_out : by_field.temperature_in, units),
               signed_significant(degree.of_difference(apart), 2, 1),
               significant(100.0 * row.drawing_share, 3, 0)});
  }
  return lay_out(table.columns, 2, look);
}

// "Roles agree at all 5 vents. Flows differ by ..., temperatures by ...": the difference in words.
std::string field_comparison_sentence(const FieldRun& field) {
  const study::FieldComparison& comparison = field.comparison;
  std::size_t vents = 0;
  std::vector<std::string> differ;
  for (const study::VentComparison& row : comparison.vents) {
    if (field_vent(field, row.vent).is_leak || row.shut) continue;
    ++vents;
    if (row.roles_differ)
      differ.push_back(fmt::format("{} ({} by the network, {} by the field)",
                                   shown_vent(field.run.content, row.vent), role_text(row.network.role),
                                   role_text(row.field.role)));
  }
  std::string text = differ.empty()
                         ? fmt::format("Network and field give all {} the same role.", counted(vents, "vent"))
                         : "Network and field differ on what " + listed(differ) + " " +
                               (differ.size() == 1 ? "does." : "do.");
  const auto row = [&](int vent) { return at(comparison.vents, vent); };
  if (comparison.largest_flow >= 0)
    text += fmt::format(" Flows differ by at most {} of the through-flow ({})",
                        percent_text(std::abs(row(comparison.largest_flow).of_through_flow)),
                        shown_vent(field.run.content, comparison.largest_flow));
  if (comparison.largest_flow >= 0 && comparison.largest_temperature >= 0)
    text += fmt::format(", and temperatures of outgoing air by at most {} ({})",
                        difference_text(row(comparison.largest_temperature).temperature, units_of(field)),
                        shown_vent(field.run.content, comparison.largest_temperature));
  return text + (comparison.largest_flow >= 0 ? "." : "");
}

}  // namespace

std::string stability_text(const flow2d::Steadiness& state, bool steady) {
  std::string out;
  if (state.left > 0.0)
    out = fmt::format(
        "The first steady state found is not stable: a disturbance grows there at a rate of {} per second. "
        "The results are those of the state that the air went to from there.",
        significant(state.left, 2));
  if (!steady) return out;
  const std::string gap = out.empty() ? "" : " ";
  if (!state.known) return out + gap + "It is not known whether this steady state is stable.";
  if (state.growth > 0.0 && state.swings == 0.0)
    out += gap + fmt::format(
                     "A disturbance of this steady state may grow, at a rate of {} per second. That is slow "
                     "beside the flow, so the state is kept.",
                     significant(state.growth, 2));
  if (state.growth > 0.0 && state.swings > 0.0)
    out += gap + fmt::format(
                     "This steady state is not stable: a disturbance grows at a rate of {} per second and "
                     "oscillates at {} Hz. The air oscillates about it; tuft field --until shows how far.",
                     significant(state.growth, 2), significant(state.swings, 2));
  return out;
}

std::string field_text(const FieldRun& field, const Look& look) {
  std::string text = inked(printable(network_result(field).name), Ink::strong, look) + ": " +
                     circumstances(field.run.content, condition_of(field)) + "; " +
                     significant(network_result(field).power, 3, 1) + " W\n";
  text += fill("  ", field_comparison_sentence(field), look);
  for (const std::string& remark : remarks(field)) text += fill("  ! ", remark, look);
  text += "\n" + table(field, look) + "\n";
  text += fill("  ",
               "apart: field minus network, relative to the through-flow; air: temperature of what enters an "
               "intake or leaves an exhaust; draws: part of the vent's area through which air enters.",
               look);
  if (const std::string fins = fins_sentence(field); !fins.empty()) text += fill("  ", fins, look);
  if (const std::string cells = cells_sentence(field); !cells.empty()) text += fill("  ", cells, look);
  text += fill("  ", how_found(field), look);
  return text;
}

}  // namespace tuft::io
