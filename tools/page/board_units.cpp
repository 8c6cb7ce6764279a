// The units that a page is given: it has no unit database.
#include <map>

#include "geometry/casefile/units.hpp"
#include "tools/page/board.hpp"

namespace tuft::page {

io::Json units_for_page() {
  for (const char* common :
       {"in",    "inch",  "ft",    "um",    "µm",  "dm",    "in2",    "cm²",    "mm²",
        "m²",    "cfm",   "L/min", "l/min", "L/h", "m³/h",  "m³/s",   "m3/min", "mL/s",
        "mmH2O", "inH2O", "mbar",  "hPa",   "kPa", "degC",  "°F",     "degF",   "kJ/K",
        "K/mW",  "J/g/K", "min",   "h",     "ms",  "g/cm3", "ft/min", "km/h",   "W/m²/K"})
    casefile::find_unit_in_database(common);
  io::Json list = io::Json::array();
  for (const auto& [text, unit] : casefile::units_understood())
    if (unit.known)
      list.push_back({{"text", text},
                      {"dimension", static_cast<int>(unit.dimension)},
                      {"what", unit.what},
                      {"factor", unit.factor},
                      {"offset", unit.offset}});
  return list;
}

}  // namespace tuft::page
