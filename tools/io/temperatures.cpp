// Temperatures of two conditions, or of two devices, side by side.
#include "geometry/device/lists.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/table.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

// Something with a temperature [K].
struct Warm {
  const char* what;
  std::string name;
  double temperature;
};

std::vector<Warm> warm_things(const geometry::Case& content, const study::ConditionResult& result) {
  std::vector<Warm> all;
  for (const auto& zone : result.zones) all.push_back({"air", zone.name, zone.temperature});
  for (const auto& source : result.sources)
    if (source.has_temperature) all.push_back({"source", source.name, source.temperature});
  for (const auto& part : result.parts) all.push_back({"part", part.name, part.temperature});
  for (const auto& skin : result.skins)
    all.push_back({"skin", at(content.device.skins, skin.skin).name, skin.temperature});
  return all;
}

}  // namespace

std::string temperatures_text(const geometry::Case& first, const study::ConditionResult& from,
                              const geometry::Case& second, const study::ConditionResult& to,
                              const Look& look) {
  const geometry::ShownUnit unit = geometry::temperature_unit(first.units);
  Table table{{words("temperature of"), words("what"), numbers("from", unit.name), numbers("to", unit.name),
               numbers("warmer by", unit.name)}};
  const std::vector<Warm> others = warm_things(second, to);
  for (const Warm& one : warm_things(first, from)) {
    const int other = geometry::find_index(others, [&](const Warm& candidate) {
      return candidate.name == one.name && std::string(candidate.what) == one.what;
    });
    if (other < 0) continue;
    const double then = at(others, other).temperature;
    table.add({shortened(printable(one.name), 24), one.what, temperature_number(one.temperature, first.units),
               temperature_number(then, first.units),
               signed_significant(unit.of_difference(then - one.temperature), 3, 1)});
  }
  if (table.empty()) return "";
  narrow_names(table.columns, 2, look);
  return lay_out(table.columns, 2, look);
}

}  // namespace tuft::io
