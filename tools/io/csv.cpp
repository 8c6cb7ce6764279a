#include "tools/io/csv.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "geometry/device/lists.hpp"
#include "tools/io/finite.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

std::string vent_row(const Run& run, const study::ConditionResult& result, const study::VentResult& vent) {
  const auto& content = run.content;
  const auto& condition = at(content.conditions, result.condition);
  const auto& opening = at(content.device.vents, vent.vent);
  std::vector<std::string> cells = {result.name,
                                    at(content.poses, condition.pose).name,
                                    at(content.supports, condition.support).name,
                                    at(content.loads, condition.load).name,
                                    opening.name,
                                    geometry::face_word(opening.face),
                                    csv_yes_no(opening.is_leak)};
  for_each_field(vent, AddCells(cells));
  return csv_line(cells);
}

// Columns of temperatures.csv behind condition, kind and name: those of all that has a temperature, each
// once.
const std::vector<std::string>& temperature_columns() {
  static const std::vector<std::string> columns = [] {
    std::vector<std::string> all, once;
    add_headings<study::PartResult>(all);
    add_headings<study::SourceResult>(all);
    add_headings<study::SkinResult>(all);
    add_headings<study::LidEdgeResult>(all);
    add_headings<study::ZoneResult>(all);
    for_each_limit(study::SkinResult{}, [&](const numerics::ResultField& field, const auto&) {
      all.push_back(numerics::heading_of(field));
    });
    for (const std::string& heading : all)
      if (!geometry::contains(once, heading)) once.push_back(heading);
    return once;
  }();
  return columns;
}

// A row of temperatures.csv: what is known of a thing stands in the column of its heading.
template <class Result>
std::string temperature_row(const study::ConditionResult& condition, const char* kind,
                            const std::string& name, const Result& result) {
  const std::vector<std::string>& columns = temperature_columns();
  std::vector<std::string> cells = {condition.name, kind, name};
  cells.resize(cells.size() + columns.size());
  const auto put = [&](const numerics::ResultField& field, const auto& value) {
    if (*field.heading == '\0') return;
    const auto column =
        std::find(columns.begin(), columns.end(), numerics::heading_of(field)) - columns.begin();
    cells[3 + static_cast<std::size_t>(column)] = AddCells::cell_of(field, value);
  };
  for_each_field(result, put);
  if constexpr (std::is_same_v<Result, study::SkinResult>) for_each_limit(result, put);
  return csv_line(cells);
}

std::string temperature_rows(const geometry::Device& device, const study::ConditionResult& result) {
  std::string text;
  for (const auto& source : result.sources) text += temperature_row(result, "source", source.name, source);
  for (const auto& part : result.parts) text += temperature_row(result, "part", part.name, part);
  for (const auto& skin : result.skins)
    text += temperature_row(result, "skin", at(device.skins, skin.skin).name, skin);
  for (const auto& edge : result.lid_edges)
    text += temperature_row(result, "screen edge", at(device.vents, edge.vent).name, edge);
  for (const auto& zone : result.zones) text += temperature_row(result, "zone air", zone.name, zone);
  return text;
}

}  // namespace

std::string csv_number(double value, const std::string& name) {
  return fmt::format("{}", finite(value, name));
}

std::string csv_yes_no(bool value) { return value ? "yes" : "no"; }

std::string csv_field(const std::string& text) {
  const std::string valid = valid_utf8(text);
  const bool edge_space = !valid.empty() && (valid.front() == ' ' || valid.back() == ' ');
  if (!edge_space && valid.find_first_of(",\"\r\n") == std::string::npos) return valid;
  std::string quoted = "\"";
  for (const char letter : valid) quoted += letter == '"' ? std::string("\"\"") : std::string(1, letter);
  return quoted + "\"";
}

std::string csv_line(const std::vector<std::string>& fields) {
  std::string line;
  for (std::size_t i = 0; i < fields.size(); ++i) line += (i > 0 ? "," : "") + csv_field(fields[i]);
  return line + "\r\n";
}

std::string vents_csv(const Run& run) {
  std::vector<std::string> headings = {"condition", "pose", "support", "load", "vent", "face", "leak"};
  add_headings<study::VentResult>(headings);
  std::string text = csv_line(headings);
  for (const auto& result : run.conditions) {
    if (!result.report.converged) continue;
    for (const auto& vent : result.vents) text += vent_row(run, result, vent);
  }
  return text;
}

std::string temperatures_csv(const Run& run) {
  std::vector<std::string> headings = {"condition", "kind", "name"};
  headings.insert(headings.end(), temperature_columns().begin(), temperature_columns().end());
  std::string text = csv_line(headings);
  for (const auto& result : run.conditions)
    if (result.report.converged) text += temperature_rows(run.content.device, result);
  return text;
}

}  // namespace tuft::io
