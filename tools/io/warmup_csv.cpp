#include "tools/io/warmup_csv.hpp"

#include <fmt/format.h>

#include "tools/io/csv.hpp"

namespace tuft::output {
namespace {

std::string heading(const WarmupColumn& column) {
  switch (column.kind) {
    case WarmupColumn::Kind::temperature:
      return "temperature " + column.name + " [K]";
    case WarmupColumn::Kind::inflow:
      return "gross in " + column.name + " [kg/s]";
    case WarmupColumn::Kind::outflow:
      return "gross out " + column.name + " [kg/s]";
    case WarmupColumn::Kind::fan_speed:
      return "speed " + column.name + " [rev/s]";
    case WarmupColumn::Kind::power:
      return "power " + column.name + " [W]";
  }
  return column.name;
}

}  // namespace

std::string warmup_csv(const Warmup& warmup) {
  require_finite(warmup);
  std::string text = "time [s]";
  for (const WarmupColumn& column : warmup.columns) text += "," + csv_field(heading(column));
  text += "\r\n";
  for (std::size_t i = 0; i < warmup.time.size(); ++i) {
    text += fmt::format("{}", warmup.time[i] + 0.0);
    for (const WarmupColumn& column : warmup.columns) text += fmt::format(",{}", column.values[i] + 0.0);
    text += "\r\n";
  }
  return text;
}

}  // namespace tuft::output
