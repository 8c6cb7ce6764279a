// Quantities back into the notation of the case file.
#include <fmt/core.h>

#include <cmath>

#include "geometry/casefile/quantity.hpp"

namespace tuft::casefile {

using geometry::SpreadKind;
using geometry::Value;

std::string write_quantity(const Value& value, const std::string& unit_text) {
  const Unit unit = unit_text.empty() ? Unit{Dimension::number, "", 1.0, 0.0, true} : find_unit(unit_text);
  const auto number = [&](double si) {
    const double written = (si - unit.offset) / unit.factor;
    return fmt::format("{:.4g}", written + 0.0);
  };
  const std::string space = unit_text.empty() ? "" : " ";
  const std::string nominal = number(*value);
  switch (value.spread) {
    case SpreadKind::none:
      break;
    case SpreadKind::normal: {
      const std::string half = fmt::format("{:.3g}", (value.high - value.low) / 2 / unit.factor);
      const bool kelvin = unit.offset != 0.0;
      return nominal + space + unit_text + " ± " + half + space + (kelvin ? "K" : unit_text);
    }
    case SpreadKind::uniform:
      return number(value.low) + ".." + number(value.high) + space + unit_text;
    case SpreadKind::triangular:
      return number(value.low) + ".." + nominal + ".." + number(value.high) + space + unit_text;
    case SpreadKind::log_uniform:
      return nominal + space + unit_text + fmt::format(" */ {:.3g}", std::sqrt(value.high / value.low));
  }
  return nominal + space + unit_text;
}

}  // namespace tuft::casefile
