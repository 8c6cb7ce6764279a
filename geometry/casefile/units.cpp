#include "geometry/casefile/units.hpp"

#include <vector>

#include "geometry/device/lists.hpp"
#include "geometry/device/pi.hpp"

namespace tuft::casefile {
namespace {


// In the order of Dimension.
constexpr DimensionInfo kDimensions[] = {
    {Dimension::number, "a number", "no unit", "1"},
    {Dimension::share, "a share", "%, or a bare number from 0 to 1", "1"},
    {Dimension::angle, "an angle", "deg, °, rad", "rad"},
    {Dimension::rotation, "a speed of rotation", "rpm, rev/s", "rev/s"},
    {Dimension::length, "a length", "mm, cm, m, in", "m"},
    {Dimension::area, "an area", "mm2, cm2, m2", "m2"},
    {Dimension::velocity, "a velocity", "m/s, cm/s, mm/s", "m/s"},
    {Dimension::volume_flow, "a volume flow", "L/s, m3/h, cfm", "m3/s"},
    {Dimension::pressure, "a pressure", "Pa, mmH2O, inH2O", "Pa"},
    {Dimension::temperature, "a temperature", "°C, K, °F", "K"},
    {Dimension::power, "a power", "W, mW", "W"},
    {Dimension::density, "a density", "kg/m3", "kg/m3"},
    {Dimension::conductance, "a heat conductance", "W/K", "W/K"},
    {Dimension::permeability, "a permeability", "m2", "m2"},
    {Dimension::inverse_length, "an inverse length", "1/m", "1/m"},
    {Dimension::difference, "a difference of temperatures", "K", "K"},
    {Dimension::resistance, "a heat resistance", "K/W", "K/W"},
    {Dimension::capacity, "a heat capacity", "J/K", "J/K"},
    {Dimension::areal_capacity, "a heat capacity per area", "J/(m2 K), kJ/m2/K", "J/(m2 K)"},
    {Dimension::film, "a heat transfer coefficient", "W/(m2 K), W/m2/K", "W/(m2 K)"},
    {Dimension::conductivity, "a heat conductivity", "W/(m K), W/m/K", "W/(m K)"},
    {Dimension::time, "a time", "s, min, h", "s"},
    {Dimension::other, "something else", "", ""}};

// Units understood without the database, besides those of SI. The dimensionless ones because UDUNITS would
// let them stand for one another, and here 5 % is no angle and 1 rad no share; the others because nearly
// every case file makes do with them, and need not wait for the database to load (a test holds them against
// it).
struct PlainUnit {
  Dimension dimension;
  double factor;
  std::vector<std::string_view> texts;
  double offset = 0.0;
};
const std::vector<PlainUnit>& plain_units() {
  using D = Dimension;
  static const std::vector<PlainUnit> units = {
      {D::share, 0.01, {"%", "percent"}},
      {D::angle, geometry::kPi / 180, {"deg", "°", "degree", "degrees"}},
      {D::angle, 1e-3, {"mrad"}},
      {D::rotation, 1.0 / 60, {"rpm", "RPM", "rev/min", "r/min", "1/min"}},
      {D::rotation, 1.0, {"rps", "1/s", "Hz"}},
      {D::rotation, 0.5 / geometry::kPi, {"rad/s"}},
      {D::length, 0.01, {"cm"}},
      {D::length, 0.001, {"mm"}},
      {D::area, 1e-4, {"cm2"}},
      {D::area, 1e-6, {"mm2"}},
      {D::velocity, 0.01, {"cm/s"}},
      {D::velocity, 0.001, {"mm/s"}},
      {D::volume_flow, 0.001, {"L/s", "l/s"}},
      {D::volume_flow, 1.0 / 3600, {"m3/h"}},
      {D::temperature, 1.0, {"°C"}, 273.15},
      {D::power, 1000.0, {"kW"}},
      {D::areal_capacity, 1.0, {"J/m2/K"}},
      {D::film, 1.0, {"W/m2/K"}},
      {D::conductivity, 1.0, {"W/m/K"}},
      {D::time, 60.0, {"min"}},
      {D::time, 3600.0, {"h"}}};
  return units;
}

}  // namespace

const DimensionInfo& dimension_info(Dimension dimension) {
  return kDimensions[static_cast<std::size_t>(dimension)];
}

Unit find_unit(std::string_view text) {
  for (const DimensionInfo& info : kDimensions)
    if (info.dimension >= Dimension::angle && text == info.si && !text.empty())
      return {info.dimension, info.article, 1.0, 0.0, true};
  for (const PlainUnit& unit : plain_units())
    if (geometry::contains(unit.texts, text))
      return {unit.dimension, dimension_info(unit.dimension).article, unit.factor, unit.offset, true};
  return find_unit_in_database(text);
}

}  // namespace tuft::casefile
